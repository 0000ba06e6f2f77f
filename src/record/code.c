/*
 * code.c - a code that can be read over the telephone.
 *
 * 40 bits of the digest, five at a time, in 32 signs that are not mistaken for
 * one another; then one check character by ISO/IEC 7064 MOD 37,36, which finds
 * every single wrong sign and nearly every swap of neighbours. Where the check
 * falls on one of the four signs left out, the digest is hashed again with a
 * counter.
 */
#include "record/record.h"

#include <glib.h>
#include <string.h>

#define CODE_LENGTH 8

/* Digits are 0 to 9, letters 10 to 35, as the standard numbers them. */
static int value_of_sign(char sign)
{
	return sign <= '9' ? sign - '0' : sign - 'A' + 10;
}

static char check_sign(const char *signs)
{
	int product = 36;
	for (const char *sign = signs; *sign != '\0'; sign++) {
		int sum = (product + value_of_sign(*sign)) % 36;
		product = (sum == 0 ? 36 : sum) * 2 % 37;
	}
	int check = (37 - product) % 36;
	return (char)(check < 10 ? '0' + check : 'A' + check - 10);
}

static void signs_of_digest(const char *digest, char signs[CODE_LENGTH + 1])
{
	static const char alphabet[] = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
	uint64_t bits = 0;
	for (int i = 0; i < 10; i++)
		bits = bits << 4 | (uint64_t)g_ascii_xdigit_value(digest[i]);
	for (int i = 0; i < CODE_LENGTH; i++)
		signs[i] = alphabet[bits >> (5 * (CODE_LENGTH - 1 - i)) & 31];
	signs[CODE_LENGTH] = '\0';
}

static const char *hash_again(struct arena *arena, const char *digest, int counter)
{
	char *text = arena_printf(arena, "%s:%d", digest, counter);
	char *hash = g_compute_checksum_for_string(G_CHECKSUM_SHA256, text, -1);
	const char *copy = arena_strdup(arena, hash);
	g_free(hash);
	return copy;
}

const char *record_code(struct arena *arena, const char *digest)
{
	char signs[CODE_LENGTH + 1];
	const char *hash = digest;
	for (int counter = 1;; counter++) {
		signs_of_digest(hash, signs);
		char check = check_sign(signs);
		if (strchr("ILOU", check) == NULL)
			return arena_printf(arena, "%.4s-%.4s-%c", signs, signs + 4, check);
		hash = hash_again(arena, digest, counter);
	}
}
