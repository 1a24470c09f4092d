/* What jpegdecode.c and planes.c share: a file while it is decoded, and where its errors lead. */
#ifndef LEADMARK_JPEGTROUBLE_H
#define LEADMARK_JPEGTROUBLE_H

#include "jpegdecode.h"

#include <setjmp.h>
#include <stdio.h>

#include <jpeglib.h>

struct trouble {
	struct jpeg_error_mgr manager; /* first, so that a pointer to it is one to this */
	jmp_buf back;
	struct lm_jpeg *result;
	int coded; /* the picture's own data are being read */
};

struct decoding {
	struct jpeg_decompress_struct j;
	struct trouble t;
	struct jpeg_progress_mgr progress;
};

/* Clears d and result; the caller then says by d->t.back where errors lead, and destroys d->j in the end. */
void lm_ready(struct decoding *d, struct lm_jpeg *result);

/* Notes damage of the data; the first that was met counts. */
void lm_damaged(struct trouble *t, const char *what);

/* Puts the size and number of coding units into the result. */
void lm_units(struct decoding *d, int denom);

/* Looks at the tables that the picture's own data are decoded with, and minds stray bytes among those from here on. To be called behind
 * jpeg_start_decompress. */
void lm_begin_scan(struct decoding *d);

/* Reads the header; an error jumps back to d->t.back. */
void lm_open(struct decoding *d, const unsigned char *data, size_t n);

#endif
