/* What libjpeg lets pass although no encoder writes it. Its decoder of Huffman codes is called through a function of ours, which looks at
 * the coefficients while they are near by: a second pass over the file would take as long as the first. */
#define JPEG_INTERNALS
#include "jpegtrouble.h"

#include <jerror.h>

/* What the mean of a block of 8-bit samples can be, in the scale of its coefficient: 8 times 128 either way (T.81, A.3.3). A sixteenth is
 * left to encoders that overshoot on purpose. */
#define MOST_MEAN (1024 + 64)

/* quanta tells of a quantum of nought, which takes a coefficient out of the whole picture: they begin at 1 (T.81, B.2.4.1). */
static void quanta(j_decompress_ptr c, struct trouble *t)
{
	for (int i = 0; i < c->num_components; i++) {
		const JQUANT_TBL *table = c->comp_info[i].quant_table;
		for (int k = 0; table && k < DCTSIZE2; k++)
			if (table->quantval[k] == 0)
				lm_damaged(t, "its quanta are none that an encoder writes");
	}
}

/* bounds works out between which values the coefficients of the scan's blocks can lie: each is a multiple of its quantum, rounded. */
static void bounds(j_decompress_ptr c, struct trouble *t)
{
	for (int i = 0; i < c->blocks_in_MCU; i++) {
		int q = c->cur_comp_info[c->MCU_membership[i]]->quant_table->quantval[0];
		t->most[i] = MOST_MEAN / (q > 0 ? q : 1) + 1;
	}
}

/* watched decodes one MCU and looks at the means of its blocks. They are coded as differences, so that one that is wrong makes all that follow
 * too bright or too dark, until one can be no picture's. */
static boolean watched(j_decompress_ptr c, JBLOCKROW *blocks)
{
	struct trouble *t = (struct trouble *)c->err;
	if (!t->decode(c, blocks))
		return FALSE;
	int beyond = 0;
	for (int i = 0; i < c->blocks_in_MCU; i++)
		beyond |= blocks[i][0][0] > t->most[i] || blocks[i][0][0] < -t->most[i];
	if (beyond)
		lm_damaged(t, "its tones lie beyond black and white");
	return TRUE;
}

void lm_watch_scan(struct decoding *d)
{
	quanta(&d->j, &d->t);
	if (d->j.progressive_mode || d->j.inputctl->has_multiple_scans)
		return; /* it was read already */
	bounds(&d->j, &d->t);
	d->t.coded = 1;
	d->t.decode = d->j.entropy->decode_mcu;
	d->j.entropy->decode_mcu = watched;
}
