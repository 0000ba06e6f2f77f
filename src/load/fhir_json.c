#include "load/fhir_json.h"

#include <glib.h>
#include <string.h>

/* ---- numbers as texts ---- */

static size_t digits(const char *text, size_t n)
{
	size_t length = 0;
	while (length < n && g_ascii_isdigit(text[length]))
		length++;
	return length;
}

/* JSON's own grammar: no leading zeros, no bare points, no plus before. */
static bool is_number(const char *text, size_t n)
{
	size_t at = n > 0 && text[0] == '-';
	size_t whole = digits(text + at, n - at);
	if (whole == 0 || (whole > 1 && text[at] == '0'))
		return false;
	at += whole;
	if (at < n && text[at] == '.') {
		size_t decimals = digits(text + at + 1, n - at - 1);
		if (decimals == 0)
			return false;
		at += 1 + decimals;
	}
	if (at < n && (text[at] == 'e' || text[at] == 'E')) {
		at++;
		at += at < n && (text[at] == '+' || text[at] == '-');
		size_t exponent = digits(text + at, n - at);
		if (exponent == 0)
			return false;
		at += exponent;
	}
	return at == n;
}

static size_t number_like(const char *text, size_t n)
{
	size_t length = 0;
	while (length < n && (g_ascii_isdigit(text[length]) || strchr("+-.eE", text[length]) != NULL))
		length++;
	return length;
}

static size_t string_length(const char *text, size_t n)
{
	for (size_t at = 1; at < n; at++) {
		if (text[at] == '\\')
			at++;
		else if (text[at] == '"')
			return at + 1;
	}
	return n;
}

static GString *with_texts(const char *bytes, size_t length)
{
	GString *out = g_string_sized_new(length + length / 8);
	for (size_t at = 0; at < length;) {
		size_t n = 1;
		if (bytes[at] == '"') {
			n = string_length(bytes + at, length - at);
		} else if (bytes[at] == '-' || g_ascii_isdigit(bytes[at])) {
			n = number_like(bytes + at, length - at);
			if (is_number(bytes + at, n)) {
				g_string_append(out, "{\"=\":\"");
				g_string_append_len(out, bytes + at, (gssize)n);
				g_string_append(out, "\"}");
				at += n;
				continue;
			}
		}
		g_string_append_len(out, bytes + at, (gssize)n);
		at += n;
	}
	return out;
}

json_t *fhir_json_read(const char *bytes, size_t length)
{
	GString *text = with_texts(bytes, length);
	json_t *json = json_loadb(text->str, text->len, JSON_REJECT_DUPLICATES, NULL);
	g_string_free(text, TRUE);
	return json;
}

/* ---- asking ---- */

const char *fhir_string(const json_t *object, const char *key)
{
	return json_string_value(json_object_get(object, key));
}

const char *fhir_number(const json_t *object, const char *key)
{
	return fhir_string(json_object_get(object, key), "=");
}

const json_t *fhir_at(const json_t *object, const char *path)
{
	while (object != NULL && *path != '\0') {
		char key[64];
		size_t n = strcspn(path, ".");
		if (n >= sizeof key)
			return NULL;
		memcpy(key, path, n);
		key[n] = '\0';
		if (json_is_array(object))
			object = json_array_get(object, 0);
		object = json_object_get(object, key);
		path += n + (path[n] == '.');
	}
	return object;
}

const char *fhir_string_at(const json_t *object, const char *path)
{
	return json_string_value(fhir_at(object, path));
}

const json_t *fhir_entry(const json_t *list, size_t i)
{
	return json_array_get(list, i);
}
