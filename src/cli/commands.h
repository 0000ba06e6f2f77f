/*
 * commands.h - one function a command; each prints its results and returns the exit code.
 */
#ifndef CLI_COMMANDS_H
#define CLI_COMMANDS_H

#include "cli/session.h"

enum exit_code command_check(struct session *session);
enum exit_code command_packet(struct session *session);
enum exit_code command_replace(struct session *session);
enum exit_code command_batch(struct session *session);
enum exit_code command_workings(struct session *session);
enum exit_code command_draw(struct session *session);
enum exit_code command_sign(struct session *session);

/* The second check of a plan that was computed: its sheet, and the answers compared. */
void write_blind_sheet(struct session *session, struct made *made);
void compare_answers(struct session *session, struct made *made);

/* Says what is wrong with the command line. */
enum exit_code usage_fault(const char *why);

#endif
