/*
 * folder.h - a clinic's folder and a patient's plan, read and looked up.
 *
 *     clinic folder                     the program's own data folder
 *       clinic.yaml                       templates/words/en.yaml ...
 *       formulary.yaml                    templates/pages.yaml
 *       syringes.yaml      (may lack)     templates/steps/powder-vial.yaml ...
 *       protocols/ *.yaml                 templates/syringes.yaml
 *       words/xx.yaml      (may lack)     fonts/
 *       templates/pages.yaml, templates/steps/ *.yaml   (may lack)
 *       signatures.csv     (may lack)
 *
 * Every fault of every file is found in one go. A result is given only where
 * nothing stops; what is given is complete and constant.
 */
#ifndef LOAD_FOLDER_H
#define LOAD_FOLDER_H

#include "base/worker.h"
#include "load/file.h"
#include "load/tree.h"
#include "model/plan.h"

/* The clinic, in the run arena; NULL where `status` is not LOAD_GOOD. */
const struct clinic *load_clinic(struct arena *run, const char *folder, const char *data_folder,
                                 struct findings *findings, enum load_status *status);

/*
 * The same, for one plan in `language` (NULL: in any). Of the program's own
 * words, those of languages that neither that plan nor the staff reads are left
 * out, unless the clinic has words or steps of its own that are held against
 * them. A worker, which may be NULL, reads half of the files.
 */
const struct clinic *load_clinic_for(struct arena *run, const char *folder, const char *data_folder,
                                     const char *language, struct worker *worker, struct findings *findings,
                                     enum load_status *status);

/*
 * The language that a plan's file asks for, looked up before the clinic is
 * known; NULL where the file does not say so plainly, or speaks of another plan
 * too. What is wrong with it is for load_plan() to say.
 */
const char *load_plan_language(struct arena *arena, const char *path);

/* What the program brings, for a question without a clinic: its syringes, all in stock, and its words in `language`. */
const struct clinic *load_no_clinic(struct arena *run, const char *data_folder, const char *language,
                                    struct findings *findings, enum load_status *status);

/* The plan, in the patient arena; NULL where `status` is not LOAD_GOOD. */
const struct plan *load_plan(struct arena *patient, const struct clinic *clinic, const char *path,
                             struct findings *findings, enum load_status *status);

/*
 * The plan that a tree describes as a plan's file would, in the patient arena;
 * `id` names it, `file` is where it came from. Without a seal, which goes on
 * once all is in it. NULL where something stops.
 */
struct plan *load_plan_tree(struct arena *patient, const struct clinic *clinic, const struct node *root, const char *id,
                            const struct source_file *file, struct findings *findings);

/* The nearest folder at or above `path` (a folder or a file) that has a clinic.yaml; NULL: none has. */
const char *load_find_clinic(struct arena *arena, const char *path);

#endif
