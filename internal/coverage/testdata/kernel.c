/* The reference of the kernel benchmark: one head added to a grid of floats by
 * spans, as one would write it in C. It reads the grid's size, the head and the
 * spans, adds them again and again, and prints the shortest time in ns for each
 * cell.
 *
 *   nx ny cx cy peak slope spans     slope: of the rate for each cell of distance
 *   y x0 x1                          one line for each span
 */
#define _POSIX_C_SOURCE 199309L
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

struct span { int y, x0, x1; };

static void add(float *rate, int nx, const struct span *s, int n,
                float cx, float cy, float peak, float slope)
{
	for (int i = 0; i < n; i++) {
		float *row = rate + (long)s[i].y * nx;
		float dy = (float)s[i].y + 0.5f - cy, dy2 = dy * dy;
		for (int x = s[i].x0; x < s[i].x1; x++) {
			float dx = (float)x + 0.5f - cx;
			row[x] += peak - slope * sqrtf(dx * dx + dy2);
		}
	}
}

static double now(void)
{
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return 1e9 * (double)t.tv_sec + (double)t.tv_nsec;
}

int main(void)
{
	int nx, ny, n;
	float cx, cy, peak, slope;
	if (scanf("%d %d %f %f %f %f %d", &nx, &ny, &cx, &cy, &peak, &slope, &n) != 7)
		return 1;
	struct span *s = malloc(sizeof *s * (size_t)n);
	float *rate = calloc((size_t)nx * (size_t)ny, sizeof *rate);
	if (!s || !rate)
		return 2;
	long cells = 0;
	for (int i = 0; i < n; i++) {
		if (scanf("%d %d %d", &s[i].y, &s[i].x0, &s[i].x1) != 3)
			return 3;
		cells += s[i].x1 - s[i].x0;
	}
	double best = 1e30;
	for (int round = 0; round < 400; round++) {
		double start = now();
		for (int k = 0; k < 16; k++)
			add(rate, nx, s, n, cx, cy, peak, slope);
		double t = (now() - start) / 16.0 / (double)cells;
		if (t < best)
			best = t;
	}
	/* The sum keeps the compiler from dropping the work. */
	double sum = 0;
	for (long i = 0; i < (long)nx * ny; i++)
		sum += rate[i];
	printf("%.6f %g\n", best, sum);
	return 0;
}
