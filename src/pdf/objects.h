/*
 * objects.h - a PDF file's objects, made through qpdf; inside pdf only.
 *
 * Handles belong to the file and need no care; but each takes memory until the
 * file is done, so what is made by the thousand is given away. Whatever goes
 * wrong sticks and is told by qpdf_has_error().
 */
#ifndef PDF_OBJECTS_H
#define PDF_OBJECTS_H

#include <glib.h>
#include <qpdf/qpdf-c.h>
#include <stdbool.h>
#include <stddef.h>

/* What PDF calls text: UTF-8 here, UTF-16 in the file where it must be. */
qpdf_oh object_text(qpdf_data file, const char *utf8);

qpdf_oh object_name(qpdf_data file, const char *name);     /* "/Page" */
qpdf_oh object_parsed(qpdf_data file, const char *syntax); /* "<< /Type /Font >>" */
qpdf_oh object_reference(qpdf_data file, qpdf_oh object);  /* the object, made indirect */

void object_set(qpdf_data file, qpdf_oh dictionary, const char *key, qpdf_oh value);
/* The same, and appending to an array; the value's handle is no longer valid then. */
void object_give(qpdf_data file, qpdf_oh dictionary, const char *key, qpdf_oh value);
void object_append(qpdf_data file, qpdf_oh array, qpdf_oh value);

void object_set_name(qpdf_data file, qpdf_oh dictionary, const char *key, const char *name);
void object_set_integer(qpdf_data file, qpdf_oh dictionary, const char *key, long long value);

/* A stream that holds `bytes`, compressed. */
qpdf_oh object_stream(qpdf_data file, const void *bytes, size_t n);

/* The same from bytes that deflated() made. */
qpdf_oh object_deflated_stream(qpdf_data file, const GByteArray *deflated);

/* `bytes` in zlib's form, as PDF calls FlateDecode. Free it with g_byte_array_unref(). */
GByteArray *deflated(const void *bytes, size_t n);

#endif
