/* The differences of two pictures, summed over 3 x 3 pixels, in loops that a compiler makes wide instructions of. */
#pragma GCC optimize("O3")

#include "sums.h"

#include <stddef.h>

/* along sums a row's differences with those of its neighbours to both sides. */
static void along(const unsigned char *restrict a, const unsigned char *restrict b, int w, short *restrict diff, short *restrict to)
{
	int n = 3 * w;
	for (int i = 0; i < n; i++)
		diff[i] = (short)(a[i] - b[i]);
	for (int i = 3; i < n - 3; i++)
		to[i] = (short)(diff[i - 3] + diff[i] + diff[i + 3]);
	for (int k = 0; k < 3; k++) {
		int last = n - 3 + k, next = w > 1 ? k + 3 : k, before = w > 1 ? last - 3 : last;
		to[k] = (short)(2 * diff[k] + diff[next]);
		to[last] = (short)(2 * diff[last] + diff[before]);
	}
}

static void down(const short *restrict a, const short *restrict b, const short *restrict c, int n, short *restrict to)
{
	for (int i = 0; i < n; i++)
		to[i] = (short)(a[i] + b[i] + c[i]);
}

void lm_sums(const unsigned char *a, const unsigned char *b, int w, int h, short *sums, short *rows)
{
	size_t n = 3 * (size_t)w;
	short *diff = rows + 3 * n;
	along(a, b, w, diff, rows);
	for (int y = 0; y < h; y++) {
		int above = y > 0 ? y - 1 : 0, below = y + 1 < h ? y + 1 : y;
		if (below > y)
			along(a + n * (size_t)below, b + n * (size_t)below, w, diff, rows + n * (size_t)(below % 3));
		down(rows + n * (size_t)(above % 3), rows + n * (size_t)(y % 3), rows + n * (size_t)(below % 3), (int)n, sums + n * (size_t)y);
	}
}
