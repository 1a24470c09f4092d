#ifndef LEADMARK_SUMS_H
#define LEADMARK_SUMS_H

/* Sums a - b, both of w x h RGB triples, over 3 x 3 pixels by channel; at the rim the outermost pixels count again for those that are missing.
 * rows has room for 4 rows of 3 w. */
void lm_sums(const unsigned char *a, const unsigned char *b, int w, int h, short *sums, short *rows);

#endif
