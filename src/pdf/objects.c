#include "pdf/objects.h"

#include "base/arena.h"

#include <assert.h>
#include <libdeflate.h>

qpdf_oh object_text(qpdf_data file, const char *utf8)
{
	return qpdf_oh_new_unicode_string(file, utf8);
}

qpdf_oh object_name(qpdf_data file, const char *name)
{
	return qpdf_oh_new_name(file, name);
}

qpdf_oh object_parsed(qpdf_data file, const char *syntax)
{
	return qpdf_oh_parse(file, syntax);
}

qpdf_oh object_reference(qpdf_data file, qpdf_oh object)
{
	return qpdf_make_indirect_object(file, object);
}

void object_set(qpdf_data file, qpdf_oh dictionary, const char *key, qpdf_oh value)
{
	qpdf_oh_replace_key(file, dictionary, key, value);
}

void object_give(qpdf_data file, qpdf_oh dictionary, const char *key, qpdf_oh value)
{
	object_set(file, dictionary, key, value);
	qpdf_oh_release(file, value);
}

void object_append(qpdf_data file, qpdf_oh array, qpdf_oh value)
{
	qpdf_oh_append_item(file, array, value);
	qpdf_oh_release(file, value);
}

void object_set_name(qpdf_data file, qpdf_oh dictionary, const char *key, const char *name)
{
	object_give(file, dictionary, key, object_name(file, name));
}

void object_set_integer(qpdf_data file, qpdf_oh dictionary, const char *key, long long value)
{
	object_give(file, dictionary, key, qpdf_oh_new_integer(file, value));
}

/* Level 6 is the usual one of every zlib; this library finds the same in a third of the time. */
enum { compression_level = 6 };

GByteArray *deflated(const void *bytes, size_t n)
{
	struct libdeflate_compressor *compressor = libdeflate_alloc_compressor(compression_level);
	if (!compressor)
		out_of_memory();
	size_t bound = libdeflate_zlib_compress_bound(compressor, n);
	GByteArray *out = g_byte_array_sized_new((guint)bound);
	g_byte_array_set_size(out, (guint)bound);
	size_t length = libdeflate_zlib_compress(compressor, bytes, n, out->data, bound);
	libdeflate_free_compressor(compressor);
	/* The bound holds whatever the bytes are. */
	assert(length > 0);
	g_byte_array_set_size(out, (guint)length);
	return out;
}

qpdf_oh object_deflated_stream(qpdf_data file, const GByteArray *bytes)
{
	qpdf_oh stream = qpdf_oh_new_stream(file);
	qpdf_oh_replace_stream_data(file, stream, bytes->data, bytes->len, object_name(file, "/FlateDecode"),
	                            qpdf_oh_new_null(file));
	return stream;
}

qpdf_oh object_stream(qpdf_data file, const void *bytes, size_t n)
{
	GByteArray *compressed = deflated(bytes, n);
	qpdf_oh stream = object_deflated_stream(file, compressed);
	g_byte_array_unref(compressed);
	return stream;
}
