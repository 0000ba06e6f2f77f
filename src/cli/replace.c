/*
 * replace.c - the same sheet printed again: all of it or an item's pages, larger, on other paper, in another language.
 *
 * The whole packet is composed in any case, so that a page printed alone has the
 * number it has among all. Nothing is written into a register: no new sheet comes
 * into being.
 */
#include "cli/commands.h"
#include "cli/save.h"
#include "load/nearest.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

#define USAGE "fillmark replace PLAN [--only ITEM]... [--large-print] [--language xx] [--paper letter|a4] [-o FILE.pdf]"

/* ---- which pages ---- */

static bool asked_for(const struct options *options, const struct item *item)
{
	for (size_t i = 0; item != NULL && i < options->only.n; i++)
		if (strcmp(options->only.list[i], item->id) == 0)
			return true;
	return false;
}

static const struct item *item_of(const struct made *made, const struct placed_page *page)
{
	return made->handout->sections[page->section].item;
}

static bool has_pages(const struct made *made, const char *id)
{
	for (size_t i = 0; i < made->packet->n; i++) {
		const struct item *item = item_of(made, &made->packet->pages[i]);
		if (item != NULL && strcmp(item->id, id) == 0)
			return true;
	}
	return false;
}

/* Each asked item must be one of the protocol's; the nearest of those is named. */
static bool items_known(struct session *session, const struct made *made)
{
	const struct options *options = session->options;
	const struct protocol *protocol = made->plan->protocol;
	bool known = true;
	for (size_t i = 0; i < options->only.n; i++) {
		const char *id = options->only.list[i];
		struct nearest nearest = nearest_to(id);
		if (protocol_item(protocol, id) != NULL)
			continue;
		for (size_t j = 0; j < protocol->n_items; j++)
			nearest_offer(&nearest, protocol->items[j].id);
		findings_add(&session->findings, FINDING_STOP, "item-not-in-plan", made->plan->place,
		             "there is no item '%s' in this plan%s", id, nearest_hint(session->run, &nearest));
		known = false;
	}
	return known;
}

static bool items_have_pages(struct session *session, const struct made *made)
{
	const struct options *options = session->options;
	bool all = true;
	for (size_t i = 0; i < options->only.n; i++) {
		if (has_pages(made, options->only.list[i]))
			continue;
		findings_add(&session->findings, FINDING_STOP, "item-without-pages", made->plan->place,
		             "'%s' has no page of its own in this packet; print the whole packet",
		             options->only.list[i]);
		all = false;
	}
	return all;
}

/* ---- the chosen pages ---- */

struct selection {
	struct placed_page *pages;
	size_t n;
};

static struct selection select_pages(struct session *session, const struct made *made)
{
	const struct placed_packet *packet = made->packet;
	struct selection selection = {arena_alloc(session->patient, packet->n * sizeof *selection.pages), 0};
	for (size_t i = 0; i < packet->n; i++)
		if (session->options->only.n == 0 || asked_for(session->options, item_of(made, &packet->pages[i])))
			selection.pages[selection.n++] = packet->pages[i];
	return selection;
}

static bool holds(const struct selection *selection, const char *label)
{
	for (size_t i = 0; i < selection->n; i++)
		if (strcmp(selection->pages[i].label, label) == 0)
			return true;
	return false;
}

/* What points at a page that is not printed keeps its words and leads nowhere. */
static void drop_links(struct session *session, const struct selection *selection)
{
	for (size_t i = 0; i < selection->n; i++) {
		struct placed_page *page = &selection->pages[i];
		struct placed_mark *marks = arena_alloc(session->patient, page->n * sizeof *marks);
		for (size_t j = 0; j < page->n; j++) {
			marks[j] = page->marks[j];
			if (marks[j].kind == MARK_TEXT && marks[j].text.link != NULL &&
			    !holds(selection, marks[j].text.link))
				marks[j].text.link = NULL;
		}
		page->marks = marks;
	}
}

static void write_replacement(struct session *session, const struct made *made)
{
	const struct options *options = session->options;
	const char *path = options->output != NULL ? options->output
	                                           : arena_printf(session->run, "%s-replacement.pdf", made->plan->id);
	struct selection selection = select_pages(session, made);
	drop_links(session, &selection);
	save_packet(session, made, path, selection.pages, selection.n);
	if (!session->failed && !options->quiet)
		printf("%s: %zu of %zu pages, %s, %s\n", path, selection.n, made->packet->n, made->record->code,
		       made->record->is_signed ? "signed" : "DRAFT");
}

/* ---- the command ---- */

static bool is_pdf(const char *path)
{
	size_t n = strlen(path);
	return n > 4 && strcasecmp(path + n - 4, ".pdf") == 0;
}

static const char *line_fault(const struct options *options)
{
	if (options->n_operands != 1)
		return "'replace' takes one plan: " USAGE;
	if (options->output != NULL && (*options->output == '\0' || strcmp(options->output, "-") == 0))
		return "-o for 'replace' takes a file's name: fillmark replace PLAN -o FILE.pdf";
	if (options->paper != NULL && strcmp(options->paper, "letter") != 0 && strcmp(options->paper, "a4") != 0)
		return "--paper takes 'letter' or 'a4'";
	if (is_pdf(options->operands[0]))
		return "a printed packet cannot be read back yet; name the plan that it was made from: " USAGE;
	return NULL;
}

enum exit_code command_replace(struct session *session)
{
	struct made made = {.clinic = NULL};
	const char *fault = line_fault(session->options);
	if (fault != NULL)
		return usage_fault(fault);
	if (session_record(session, session->options->operands[0], &made) && items_known(session, &made) &&
	    session_handout(session, &made) && session_packet(session, &made) && items_have_pages(session, &made))
		write_replacement(session, &made);
	made_free(&made);
	return session_report(session);
}
