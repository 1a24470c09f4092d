/* A JPEG's planes: brightness and two colour differences as they are stored, decoded once and whole. See planes.c. */
#ifndef LEADMARK_PLANES_H
#define LEADMARK_PLANES_H

#include "jpegdecode.h"

struct lm_planes {
	int width, height; /* of the picture */
	int across, down;  /* pixels that share one colour difference: 1 or 2 each way */
	int stride[2];     /* of a row of brightness and of one of colour difference */
	int rows[2];       /* that they have, up to the next whole block */
	size_t bytes;      /* of all three, one after the other */
};

/* Reads the header and says how the planes lie. bytes is 0 where the file has none that are dealt with here: grey, CMYK and RGB. */
void lm_planes_layout(const unsigned char *data, size_t n, struct lm_planes *p, struct lm_jpeg *result);

/* The picture reduced by k (2, 4 or 8; 1 for none) both ways while it is decoded, each pixel the mean of those that there are. out has room for
 * ceil(width/k) x ceil(height/k) RGB triples, sums for 3 width. */
struct lm_small {
	int k;
	unsigned char *out;
	unsigned short *sums;
};

/* Decodes into pix, p->bytes long, as lm_planes_layout laid it out, and into small. */
void lm_planes_decode(const unsigned char *data, size_t n, const struct lm_planes *p, unsigned char *pix, const struct lm_small *small, struct lm_jpeg *result);

/* Turns the w x h pixels from (x, y) on into RGB triples. Where level is not 0, brightness is blurred as much as colour is by being shared.
 * rows has room for 3 w bytes. */
void lm_planes_part(const struct lm_planes *p, const unsigned char *pix, int x, int y, int w, int h, int level, unsigned char *out, unsigned char *rows);

#endif
