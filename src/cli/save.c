#include "cli/save.h"

#include "paint/paint.h"
#include "pdf/save.h"

static void fail(struct session *session, const char *code, const char *says)
{
	session->failed = true;
	findings_add(&session->findings, FINDING_STOP, code, (struct place){.file = NULL}, "%s", says);
}

void save_pages(struct session *session, const char *path, enum drawing_kind kind,
                const struct drawing_options *options, const struct placed_page *pages, size_t n)
{
	struct rect first = {0, 0, pages[0].width, pages[0].height};
	struct device *device = drawing_new(kind, options, first);
	const unsigned char *bytes;
	size_t n_bytes;
	const char *why;
	paint_pages(pages, n, device);
	if (!drawing_finish(device, &bytes, &n_bytes))
		fail(session, "drawing-failed", "the pages could not be drawn; nothing was written");
	else if (!save_file(session->run, path, bytes, n_bytes, &why))
		fail(session, "file-unwritable", why);
	if (!session->leaves)
		drawing_free(device);
}

void save_packet(struct session *session, const struct made *made, const char *path, const struct placed_page *pages,
                 size_t n)
{
	struct drawing_options options = {.mono = session->options->mono,
	                                  .title = say0(made->speaker, "overview.title"),
	                                  .language = made->handout->language,
	                                  .worker = session->worker};
	save_pages(session, path, DRAWING_PDF, &options, pages, n);
}
