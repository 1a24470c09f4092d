/* Decoding a JPEG once, to its planes. What libjpeg does last and for every pixel, spreading the shared colours and turning them into RGB, is
 * done here for those pixels alone that are looked at, by the same formulas (libjpeg-turbo's jdsample.c, jdcolor.c; JFIF 1.02). */
#pragma GCC optimize("O3")

#include "planes.h"
#include "jpegtrouble.h"

#include <string.h>

/* has_planes says whether a file stores brightness whole and two colour differences alike, halved or not. */
static int has_planes(const struct jpeg_decompress_struct *j)
{
	const jpeg_component_info *c = j->comp_info;
	return j->num_components == 3 && j->jpeg_color_space == JCS_YCbCr && j->data_precision == 8 &&
	       c[0].h_samp_factor == j->max_h_samp_factor && c[0].v_samp_factor == j->max_v_samp_factor &&
	       c[1].h_samp_factor == 1 && c[1].v_samp_factor == 1 && c[2].h_samp_factor == 1 && c[2].v_samp_factor == 1 &&
	       j->max_h_samp_factor <= 2 && j->max_v_samp_factor <= 2;
}

void lm_planes_layout(const unsigned char *data, size_t n, struct lm_planes *p, struct lm_jpeg *result)
{
	struct decoding d;
	memset(p, 0, sizeof *p);
	lm_ready(&d, result);
	if (setjmp(d.t.back)) {
		jpeg_destroy_decompress(&d.j);
		return;
	}
	lm_open(&d, data, n);
	p->width = (int)d.j.image_width;
	p->height = (int)d.j.image_height;
	if (has_planes(&d.j)) {
		int h = d.j.max_h_samp_factor, v = d.j.max_v_samp_factor;
		p->across = h;
		p->down = v;
		p->stride[1] = (p->width + 8 * h - 1) / (8 * h) * 8;
		p->rows[1] = (p->height + 8 * v - 1) / (8 * v) * 8;
		p->stride[0] = h * p->stride[1];
		p->rows[0] = v * p->rows[1];
		p->bytes = (size_t)p->stride[0] * (size_t)p->rows[0] + 2 * (size_t)p->stride[1] * (size_t)p->rows[1];
	}
	jpeg_destroy_decompress(&d.j);
}

/* plane is where one begins: 0 brightness, 1 and 2 the colour differences. */
static size_t plane(const struct lm_planes *p, int k)
{
	size_t whole = (size_t)p->stride[0] * (size_t)p->rows[0], part = (size_t)p->stride[1] * (size_t)p->rows[1];
	return k == 0 ? 0 : k == 1 ? whole : whole + part;
}

static unsigned char tone(int v) { return (unsigned char)(v < 0 ? 0 : v > 255 ? 255 : v); }

/* rgb turns n pixels into RGB triples (JFIF 1.02, by ITU-R BT.601), rounded as libjpeg does. */
static void rgb(const unsigned char *y, const unsigned char *cb, const unsigned char *cr, int n, unsigned char *out)
{
	for (int i = 0; i < n; i++, out += 3) {
		int b = cb[i] - 128, r = cr[i] - 128;
		out[0] = tone(y[i] + ((91881 * r + 32768) >> 16));
		out[1] = tone(y[i] + ((-22554 * b - 46802 * r + 32768) >> 16));
		out[2] = tone(y[i] + ((116130 * b + 32768) >> 16));
	}
}

static int least(int a, int b) { return a < b ? a : b; }

/* halvings is how often two is in n, where n is a power of two; else -1. */
static int halvings(int n)
{
	int k = 0;
	while (1 << k < n)
		k++;
	return 1 << k == n ? k : -1;
}

/* columns adds up h rows from p on, each w long. */
static void columns(const unsigned char *p, int stride, int w, int h, unsigned short *restrict cols)
{
	for (int x = 0; x < w; x++)
		cols[x] = p[x];
	for (int y = 1; y < h; y++) {
		p += stride;
		for (int x = 0; x < w; x++)
			cols[x] = (unsigned short)(cols[x] + p[x]);
	}
}

/* means reduces h rows from p on, w pixels wide, by k across into ceil(w/k) means; cols has room for w sums. */
static void means(const unsigned char *p, int stride, int w, int h, int k, unsigned short *cols, unsigned char *out)
{
	int whole = w / k, shift = halvings(k * h);
	columns(p, stride, w, h, cols);
	for (int x = 0; x < whole; x++, cols += k) {
		int sum = k * h / 2;
		for (int i = 0; i < k; i++)
			sum += cols[i];
		out[x] = (unsigned char)(shift >= 0 ? sum >> shift : sum / (k * h));
	}
	int n = (w - k * whole) * h, sum = n / 2; /* fewer at the right */
	for (int i = 0; i < w - k * whole; i++)
		sum += cols[i];
	if (n > 0)
		out[whole] = (unsigned char)(sum / n);
}

static void reduce(const struct lm_planes *p, const unsigned char *pix, int from, int to, int k, unsigned char *out, unsigned short *sums)
{
	int n = (p->width + k - 1) / k;
	unsigned char *rows = (unsigned char *)(sums + p->width);
	for (int y = from / k; y * k < least(to, p->height); y++) {
		for (int c = 0; c < 3; c++) {
			int across = c ? p->across : 1, down = c ? p->down : 1, stride = p->stride[c > 0];
			int w = (p->width + across - 1) / across, h = (p->height + down - 1) / down, kx = k / across, ky = k / down;
			means(pix + plane(p, c) + (size_t)(y * ky) * (size_t)stride, stride, w, least(ky, h - y * ky), kx, sums, rows + (size_t)c * (size_t)n);
		}
		rgb(rows, rows + n, rows + 2 * (size_t)n, n, out + 3 * (size_t)n * (size_t)y);
	}
}

/* read_planes decodes band by band, and reduces each while it is near by. */
static void read_planes(struct jpeg_decompress_struct *j, const struct lm_planes *p, unsigned char *pix, const struct lm_small *small)
{
	JSAMPROW rows[3][16];
	JSAMPARRAY all[3] = {rows[0], rows[1], rows[2]};
	while (j->output_scanline < j->output_height) {
		size_t y = j->output_scanline / (8 * (size_t)p->down);
		for (int k = 0; k < 3; k++) {
			size_t n = k == 0 ? 8 * (size_t)p->down : 8, stride = (size_t)p->stride[k > 0];
			for (size_t i = 0; i < n; i++)
				rows[k][i] = pix + plane(p, k) + (y * n + i) * stride;
		}
		int above = (int)j->output_scanline;
		jpeg_read_raw_data(j, all, 8 * (JDIMENSION)p->down);
		if (small->k > 1)
			reduce(p, pix, above, (int)j->output_scanline, small->k, small->out, small->sums);
	}
}

void lm_planes_decode(const unsigned char *data, size_t n, const struct lm_planes *p, unsigned char *pix, const struct lm_small *small, struct lm_jpeg *result)
{
	struct decoding d;
	lm_ready(&d, result);
	if (setjmp(d.t.back)) {
		jpeg_destroy_decompress(&d.j);
		return;
	}
	lm_open(&d, data, n);
	if (!has_planes(&d.j) || (int)d.j.image_width != p->width || (int)d.j.image_height != p->height ||
	    d.j.max_h_samp_factor != p->across || d.j.max_v_samp_factor != p->down) {
		result->status = LM_JPEG_OTHER_SIZE;
	} else {
		d.j.raw_data_out = TRUE;
		d.j.out_color_space = JCS_YCbCr;
		jpeg_start_decompress(&d.j);
		lm_units(&d, 1);
		lm_begin_scan(&d);
		read_planes(&d.j, p, pix, small);
	}
	jpeg_destroy_decompress(&d.j);
}

static int within(int i, int n) { return i < 0 ? 0 : i >= n ? n - 1 : i; }

/* shared spreads a plane of colour differences over the w pixels from (x, y) on: 3/4 of the near and 1/4 of the far sample (libjpeg's
 * "fancy" upsampling). */
static void shared(const struct lm_planes *p, const unsigned char *q, int x, int y, int w, unsigned char *out)
{
	int cw = (p->width + p->across - 1) / p->across, ch = (p->height + p->down - 1) / p->down;
	const unsigned char *near = q + (size_t)(y / p->down) * (size_t)p->stride[1], *far = near;
	if (p->down == 2)
		far = q + (size_t)within(y / 2 + (y % 2 ? 1 : -1), ch) * (size_t)p->stride[1];
	if (p->across == 1) {
		for (int i = 0; i < w; i++)
			out[i] = (unsigned char)((3 * near[x + i] + far[x + i] + (y % 2 ? 2 : 1)) >> 2);
		return;
	}
	for (int i = 0; i < w; i++) {
		int a = (x + i) / 2, b = within(a + ((x + i) % 2 ? 1 : -1), cw);
		out[i] = p->down == 2 ? (unsigned char)((3 * (3 * near[a] + far[a]) + 3 * near[b] + far[b] + ((x + i) % 2 ? 7 : 8)) >> 4)
		                      : (unsigned char)((3 * near[a] + near[b] + ((x + i) % 2 ? 2 : 1)) >> 2);
	}
}

/* bright is the brightness of the w pixels from (x, y) on, blurred by 1 4 6 4 1 where a colour is shared. */
static void bright(const struct lm_planes *p, const unsigned char *q, int x, int y, int w, unsigned char *out)
{
	static const int taps[5] = {1, 4, 6, 4, 1};
	const unsigned char *r[5];
	for (int k = 0; k < 5; k++)
		r[k] = q + (size_t)within(p->down == 2 ? y + k - 2 : y, p->height) * (size_t)p->stride[0];
	int v[5] = {0};
	for (int i = -2; i < w + 2; i++) {
		int at = within(x + i, p->width);
		v[0] = v[1], v[1] = v[2], v[2] = v[3], v[3] = v[4];
		v[4] = r[0][at] + 4 * r[1][at] + 6 * r[2][at] + 4 * r[3][at] + r[4][at];
		if (i < 2)
			continue;
		int sum = 0;
		for (int k = 0; k < 5; k++)
			sum += taps[k] * (p->across == 2 ? v[k] : v[2]);
		out[i - 2] = (unsigned char)((sum + 128) >> 8);
	}
}

void lm_planes_part(const struct lm_planes *p, const unsigned char *pix, int x, int y, int w, int h, int level, unsigned char *out, unsigned char *rows)
{
	for (int k = 0; k < h; k++, out += 3 * (size_t)w) {
		const unsigned char *luma = pix + (size_t)(y + k) * (size_t)p->stride[0] + x;
		if (level) {
			bright(p, pix, x, y + k, w, rows);
			luma = rows;
		}
		shared(p, pix + plane(p, 1), x, y + k, w, rows + w);
		shared(p, pix + plane(p, 2), x, y + k, w, rows + 2 * (size_t)w);
		rgb(luma, rows + w, rows + 2 * (size_t)w, w, out);
	}
}
