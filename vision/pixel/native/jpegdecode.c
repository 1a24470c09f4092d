/* Decoding and encoding with libjpeg-turbo. Its errors end in a jump back here, never in the end of the process; what it
 * only warns of (data that cannot be right, filled with grey) is reported. A progressive file with more scans than any
 * camera writes is given up, since each costs a pass over the whole picture. */
#include "jpegdecode.h"
#include "jpegtrouble.h"

#include <stdlib.h>
#include <string.h>

#include <jerror.h>

#define MOST_SCANS 200

/* Stray bytes inside the picture's data that are forgiven: more are left over where a broken code shifted all that follows. */
#define MOST_STRAY 4

static void give_up(j_common_ptr c)
{
	struct trouble *t = (struct trouble *)c->err;
	char text[JMSG_LENGTH_MAX];
	(*c->err->format_message)(c, text);
	snprintf(t->result->message, sizeof t->result->message, "%s", text);
	t->result->status = LM_JPEG_BROKEN;
	longjmp(t->back, 1);
}

void lm_damaged(struct trouble *t, const char *what)
{
	if (t->result->damaged)
		return;
	snprintf(t->result->message, sizeof t->result->message, "%s", what);
	t->result->damaged = 1;
}

/* note keeps the first warning that means damaged data. Stray bytes before a marker are met in sound files, but not inside
 * or behind the picture's data. */
static void note(j_common_ptr c, int level)
{
	struct trouble *t = (struct trouble *)c->err;
	if (level >= 0 || t->result->damaged)
		return;
	if (c->err->msg_code == JWRN_EXTRANEOUS_DATA && (!t->coded || c->err->msg_parm.i[0] <= MOST_STRAY))
		return;
	char text[JMSG_LENGTH_MAX];
	(*c->err->format_message)(c, text);
	lm_damaged(t, text);
}

static void say_nothing(j_common_ptr c) { (void)c; }

static void count_scans(j_common_ptr c)
{
	if (c->is_decompressor && ((j_decompress_ptr)c)->input_scan_number > MOST_SCANS)
		ERREXIT(c, JERR_BAD_PROGRESSION);
}

static void watch(struct trouble *t, struct lm_jpeg *result)
{
	jpeg_std_error(&t->manager);
	t->manager.error_exit = give_up;
	t->manager.emit_message = note;
	t->manager.output_message = say_nothing;
	t->result = result;
	t->coded = 0;
}

/* ink turns a row of Adobe's inverted CMYK into grey by the weights of ITU-R BT.601. */
static void ink(const unsigned char *cmyk, unsigned char *out, int width)
{
	for (int x = 0; x < width; x++, cmyk += 4) {
		int k = cmyk[3];
		out[x] = (unsigned char)((299 * cmyk[0] * k + 587 * cmyk[1] * k + 114 * cmyk[2] * k + 127500) / 255000);
	}
}

/* inks turns a row of Adobe's inverted CMYK into RGB, each colour dimmed by the black. */
static void inks(const unsigned char *cmyk, unsigned char *out, int width)
{
	for (int x = 0; x < width; x++, cmyk += 4, out += 3)
		for (int c = 0; c < 3; c++)
			out[c] = (unsigned char)((cmyk[c] * cmyk[3] + 127) / 255);
}

static void read_rows(struct jpeg_decompress_struct *j, int channels, unsigned char *out, int height)
{
	JSAMPARRAY wide = NULL;
	if (j->output_components == 4)
		wide = (*j->mem->alloc_sarray)((j_common_ptr)j, JPOOL_IMAGE, j->output_width * 4, 1);
	while ((int)j->output_scanline < height) {
		JSAMPROW row = out + (size_t)j->output_scanline * j->output_width * (size_t)channels;
		if (wide) {
			jpeg_read_scanlines(j, wide, 1);
			(channels == 1 ? ink : inks)(wide[0], row, (int)j->output_width);
		} else {
			jpeg_read_scanlines(j, &row, 1);
		}
	}
}

void lm_ready(struct decoding *d, struct lm_jpeg *result)
{
	memset(result, 0, sizeof *result);
	memset(d, 0, sizeof *d);
	watch(&d->t, result);
	d->j.err = &d->t.manager;
}

void lm_open(struct decoding *d, const unsigned char *data, size_t n)
{
	jpeg_create_decompress(&d->j);
	d->progress.progress_monitor = count_scans;
	d->j.progress = &d->progress;
	jpeg_mem_src(&d->j, data, n);
	jpeg_read_header(&d->j, TRUE);
}

/* begin starts decoding; an error jumps back to d->t.back. */
static void begin(struct decoding *d, const unsigned char *data, size_t n, int denom, int channels)
{
	struct jpeg_decompress_struct *j = &d->j;
	lm_open(d, data, n);
	j->out_color_space = j->num_components == 4 ? JCS_CMYK : channels == 1 ? JCS_GRAYSCALE : JCS_RGB;
	j->scale_num = 1;
	j->scale_denom = (unsigned)denom;
	jpeg_start_decompress(j);
	lm_units(d, denom);
}

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

void lm_begin_scan(struct decoding *d)
{
	quanta(&d->j, &d->t);
	if (!d->j.progressive_mode && !jpeg_has_multiple_scans(&d->j)) /* else it was read already */
		d->t.coded = 1;
}

static int parts(int n, int size) { return (n + size - 1) / size; }

void lm_units(struct decoding *d, int denom)
{
	int single = d->j.num_components == 1; /* its blocks stand alone (T.81, A.2.2) */
	int across = 8 * (single ? 1 : d->j.max_h_samp_factor), down = 8 * (single ? 1 : d->j.max_v_samp_factor);
	d->t.result->units = parts((int)d->j.image_width, across) * parts((int)d->j.image_height, down);
	d->t.result->across = across / denom;
	d->t.result->down = down / denom;
}

void lm_jpeg_decode(const unsigned char *data, size_t n, int denom, int channels, unsigned char *out, int width, int height, struct lm_jpeg *result)
{
	struct decoding d;
	lm_ready(&d, result);
	if (setjmp(d.t.back)) {
		jpeg_destroy_decompress(&d.j);
		return;
	}
	begin(&d, data, n, denom, channels);
	if ((int)d.j.output_width != width || (int)d.j.output_height < height)
		result->status = LM_JPEG_OTHER_SIZE;
	else {
		lm_begin_scan(&d);
		read_rows(&d.j, channels, out, height);
		if (d.j.output_scanline == d.j.output_height)
			jpeg_finish_decompress(&d.j); /* tells whether data are left over */
	}
	jpeg_destroy_decompress(&d.j); /* the rest of the file was looked through before */
}

size_t lm_jpeg_encode(const unsigned char *pix, int width, int height, int stride, int channels, int quality, unsigned char **out)
{
	struct jpeg_compress_struct j;
	struct trouble t;
	struct lm_jpeg result;
	unsigned long size = 0;
	memset(&result, 0, sizeof result);
	memset(&j, 0, sizeof j);
	watch(&t, &result);
	j.err = &t.manager;
	*out = NULL;
	if (setjmp(t.back)) {
		jpeg_destroy_compress(&j);
		free(*out);
		*out = NULL;
		return 0;
	}
	jpeg_create_compress(&j);
	jpeg_mem_dest(&j, out, &size);
	j.image_width = (JDIMENSION)width;
	j.image_height = (JDIMENSION)height;
	j.input_components = channels;
	j.in_color_space = channels == 1 ? JCS_GRAYSCALE : JCS_RGB;
	jpeg_set_defaults(&j);
	jpeg_set_quality(&j, quality, TRUE);
	jpeg_start_compress(&j, TRUE);
	while (j.next_scanline < j.image_height) {
		JSAMPROW row = (JSAMPROW)(pix + (size_t)j.next_scanline * (size_t)stride);
		jpeg_write_scanlines(&j, &row, 1);
	}
	jpeg_finish_compress(&j);
	jpeg_destroy_compress(&j);
	return size;
}
