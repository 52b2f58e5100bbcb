package packs

import (
	"math"

	"evenfall/internal/drawing"
)

// The colours of the map are those of the board on light paper
// (web/editor/palette.ts), which a test holds them to: brown where it is dry, pale on
// target, teal where it is wet, and a dark pink-red, hatched, for water off its target.

// mapStop is the colour at a share of the area's mean.
type mapStop struct {
	share   float64
	r, g, b float64
}

var mapStops = []mapStop{
	{0, 104, 60, 16}, {0.5, 178, 122, 58}, {0.8, 222, 192, 140}, {1, 246, 243, 232},
	{1.2, 190, 222, 214}, {1.5, 104, 172, 163}, {2, 14, 94, 90},
}

// strayInk is water off its target where it is strongest.
var strayInk = drawing.RGB(0xb01848)

// onMap reports whether a byte of the map is ground on target, and offMap whether it
// is water off it (coverage: 0 nothing, 1 to 200 hundredths of the mean and one, past
// it twentieths of it).
func onMap(b byte) bool  { return b >= 1 && b <= 200 }
func offMap(b byte) bool { return b >= 201 }

// mapShare is the share of the mean that a byte of the map stands for.
func mapShare(b byte) float64 {
	if offMap(b) {
		return float64(b-201) / 20
	}
	return float64(b-1) / 100
}

func inkOf(r, g, b float64) drawing.Ink {
	return drawing.RGB(uint32(math.Round(r))<<16 | uint32(math.Round(g))<<8 | uint32(math.Round(b)))
}

// mapInk is the colour of planting that gets a share of its area's mean.
func mapInk(share float64) drawing.Ink {
	share = min(max(share, 0), 2)
	i := 1
	for i < len(mapStops)-1 && share > mapStops[i].share {
		i++
	}
	a, b := mapStops[i-1], mapStops[i]
	t := (share - a.share) / (b.share - a.share)
	return inkOf(a.r+(b.r-a.r)*t, a.g+(b.g-a.g)*t, a.b+(b.b-a.b)*t)
}

// Opacity of water off its target on the lines of its hatch, and between them as a
// share of it: by its rate, so that a trace is faint, yet never unseen.
const (
	strayFaintest = 28.0
	strayPerMean  = 160.0
	strayMost     = 215.0
	strayBetween  = 0.4
)

func strayAlpha(b byte) float64 {
	return math.Round(min(strayMost, strayFaintest+mapShare(b)*strayPerMean))
}

// overWhite is an ink of an opacity, 0 to 255, laid on white paper: inks are opaque.
func overWhite(k drawing.Ink, alpha float64) drawing.Ink {
	r, g, b, _ := k.Parts()
	on := func(v uint8) float64 { return 255 + (float64(v)-255)*alpha/255 }
	return inkOf(on(r), on(g), on(b))
}

// mapInks are the inks of the map by its bytes; what shows nothing draws nothing.
func mapInks() []drawing.Ink {
	out := make([]drawing.Ink, 256)
	for i := 1; i < 256; i++ {
		if b := byte(i); onMap(b) {
			out[i] = mapInk(mapShare(b))
		} else {
			out[i] = overWhite(strayInk, math.Round(strayAlpha(b)*strayBetween))
		}
	}
	return out
}

// mapClass is a range of shares of the mean that goes by a number of its own, so that
// dry and wet are told apart without colour.
type mapClass struct {
	number int
	from   float64 // share of the mean
	below  float64
	words  string
}

// mapClasses are the classes from dry to wet. Their limits are those of the colours;
// half of the mean is where ground counts as dry, one and a half times where it counts
// as wet (package coverage).
func mapClasses() []mapClass {
	return []mapClass{
		{1, 0, 0.5, "dry: less than half of the area's mean"},
		{2, 0.5, 0.8, "short: 50 to 80 % of the mean"},
		{3, 0.8, 1.2, "as the mean: 80 to 120 %"},
		{4, 1.2, 1.5, "over: 120 to 150 % of the mean"},
		{5, 1.5, math.Inf(1), "wet: more than one and a half times the mean"},
	}
}

// unnumbered is the class that has no number on the map: it is the palest.
const unnumbered = 3

// classOf is the class of a byte on target, 1 to 5; 0 of any other.
func classOf(b byte) int { return int(byteClasses[b]) }

var byteClasses = func() (out [256]int8) {
	for i := range out {
		for _, c := range mapClasses() {
			if b := byte(i); onMap(b) && mapShare(b) >= c.from && mapShare(b) < c.below {
				out[i] = int8(c.number)
			}
		}
	}
	return out
}()
