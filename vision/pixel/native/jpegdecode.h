/* Decoding a JPEG with libjpeg(-turbo). See jpegdecode.c. */
#ifndef LEADMARK_JPEGDECODE_H
#define LEADMARK_JPEGDECODE_H

#include <stddef.h>

enum { LM_JPEG_OK = 0, LM_JPEG_BROKEN = 1, LM_JPEG_OTHER_SIZE = 2 };

struct lm_jpeg {
	int status;        /* one of the above */
	int across, down;  /* pixels of a coding unit (MCU), at the size decoded */
	int units;         /* of them in the whole picture */
	int damaged;       /* the decoder met data that cannot be right */
	char message[200]; /* in libjpeg's words, where status is LM_JPEG_BROKEN or damaged is set */
};

/* Decodes the first height rows of data at 1/denom (1, 2, 4 or 8) of its size into out: grey values, or RGB
 * triples where channels is 3, width x height of them. */
void lm_jpeg_decode(const unsigned char *data, size_t n, int denom, int channels, unsigned char *out, int width, int height, struct lm_jpeg *result);

/* Encodes grey values, or RGB triples where channels is 3. Returns the length written to *out, which the caller frees; 0 where
 * it failed. */
size_t lm_jpeg_encode(const unsigned char *pix, int width, int height, int stride, int channels, int quality, unsigned char **out);

#endif
