package proof

import "testing"

// What a reading to the common says stands on the coil's own limits, and on what the other
// valves here read where enough of them are read.
func TestWires_WhatOhmsMean(t *testing.T) {
	t.Parallel()
	const extra = 4 // ohms that the wire adds at most
	for _, c := range []struct {
		ohms, usual float64
		want        string
	}{
		{5, 0, ohmsShort}, {9.9, 28, ohmsShort},
		{12, 0, ohmsHalf}, {14, 28, ohmsHalf}, {19, 0, ohmsCoil},
		{30, 0, ohmsCoil}, {30, 50, ohmsHalf}, {32, 50, ohmsCoil},
		{65, 0, ohmsCoil}, {65, 28, ohmsHigh}, {65, 40, ohmsCoil}, // a coil of another make, or twice the others
		{75, 0, ohmsHigh}, {75, 50, ohmsHigh},
	} {
		if got := ohmsMean(reading{ohms: c.ohms}, c.usual, extra); got != c.want {
			t.Errorf("%g Ω where others read %g: %s, want %s", c.ohms, c.usual, got, c.want)
		}
	}
	if got := ohmsMean(reading{open: true}, 28, extra); got != ohmsOpen {
		t.Errorf("no path: %s", got)
	}
}
