/*
 * remedy.h - what to do where the system would not read or write, to stand after its own words.
 */
#ifndef BASE_REMEDY_H
#define BASE_REMEDY_H

/* "; is the name right?", "; a file belongs here"; "" where an errno tells nothing of the kind. */
const char *remedy_of_reading(int error);

/* "; make its folder first, or name another place", "; make room there". */
const char *remedy_of_writing(int error);

#endif
