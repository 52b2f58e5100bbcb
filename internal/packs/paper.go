package packs

import (
	"fmt"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// PaperID names a size of paper.
type PaperID string

// The papers.
const (
	Letter  PaperID = "letter"
	Tabloid PaperID = "tabloid"
	ArchD   PaperID = "arch_d"
	A4      PaperID = "a4"
	A3      PaperID = "a3"
)

// Paper is a size of paper, upright, in points.
type Paper struct {
	ID            PaperID
	Name          string
	Width, Height float64
	Metric        bool
	Lists         PaperID // lists of a pack whose plans are on it are on this: to be held in the hand
}

// mm is a length on metric paper in points.
func mm(v float64) float64 { return v * 72 / 25.4 }

// Papers are the sizes in the order they are offered (ISO 216, ANSI/ASME Y14.1 for
// Letter and Tabloid; ARCH D is 24 × 36 in).
func Papers() []Paper {
	return []Paper{
		{Letter, "Letter", 612, 792, false, Letter},
		{Tabloid, "Tabloid", 792, 1224, false, Letter},
		{ArchD, "ARCH D", 1728, 2592, false, Letter},
		{A4, "A4", mm(210), mm(297), true, A4},
		{A3, "A3", mm(297), mm(420), true, A4},
	}
}

// UsualPaper is the paper of whoever asks for none.
func UsualPaper(sys units.System) PaperID {
	if sys == units.Metric {
		return A4
	}
	return Letter
}

// PaperOf is a paper by its name. The error lists those there are.
func PaperOf(id PaperID) (Paper, error) {
	var names []string
	for _, p := range Papers() {
		if p.ID == id {
			return p, nil
		}
		names = append(names, string(p.ID))
	}
	return Paper{}, fmt.Errorf("no paper is named “%s”; there are %s", id, plan.Series(names))
}

// Scale is one scale that plans are drawn at.
type Scale struct {
	To   int // 1 to so many
	Name string
}

// Scales are the scales of a system of units, largest first: 1 in to whole feet and
// parts of an inch to one, as rulers of the trade and tapes have them, or the usual
// metric ones (common practice).
func Scales(sys units.System) []Scale {
	if sys == units.Metric {
		var out []Scale
		for _, n := range []int{50, 100, 200, 250, 500, 1000, 2000} {
			out = append(out, Scale{n, fmt.Sprintf("1:%d", n)})
		}
		return out
	}
	out := []Scale{{48, "1/4 in = 1 ft"}, {60, "1 in = 5 ft"}, {96, "1/8 in = 1 ft"}, {120, "1 in = 10 ft"}, {192, "1/16 in = 1 ft"}}
	for _, ft := range []int{20, 30, 40, 50, 60, 100, 200} {
		out = append(out, Scale{12 * ft, fmt.Sprintf("1 in = %d ft", ft)})
	}
	return out
}

// perFoot is how many points of paper a foot of ground takes.
func (s Scale) perFoot() float64 { return 72 * 12 / float64(s.To) }

// scaleThatFits is the largest scale at which ground so wide and high, in feet, fits
// room in points; the smallest there is, with false, when none does.
func scaleThatFits(sys units.System, wide, high, roomWide, roomHigh float64) (Scale, bool) {
	all := Scales(sys)
	for _, s := range all {
		if wide*s.perFoot() <= roomWide && high*s.perFoot() <= roomHigh {
			return s, true
		}
	}
	return all[len(all)-1], false
}

// ScaleOf is a scale of either system by its number. The error lists those of sys.
func ScaleOf(sys units.System, to int) (Scale, error) {
	for _, s := range append(Scales(units.US), Scales(units.Metric)...) {
		if s.To == to {
			return s, nil
		}
	}
	return Scale{}, fmt.Errorf("no scale is 1 to %d; there are %s", to, ScaleNames(sys))
}

// ScaleNames are the scales of a system in a row, as 240 (1 in = 20 ft).
func ScaleNames(sys units.System) string {
	var names []string
	for _, s := range Scales(sys) {
		names = append(names, fmt.Sprintf("%d (%s)", s.To, s.Name))
	}
	return plan.Series(names)
}
