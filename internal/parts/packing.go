package parts

import (
	"strconv"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// measure puts an amount in the units of a plan, and names them.
type measure func(sys units.System, of float64) (v float64, unit string)

// byLength is of feet.
func byLength(sys units.System, of float64) (float64, string) {
	if sys == units.Metric {
		return units.Feet(of).Metres(), "m"
	}
	return of, "ft"
}

// kilogramsPerPound is by definition.
const kilogramsPerPound = 0.45359237

// byWeight is of pounds.
func byWeight(sys units.System, of float64) (float64, string) {
	if sys == units.Metric {
		return of * kilogramsPerPound, "kg"
	}
	return of, "lb"
}

// byJoint is of joints, which are the same everywhere.
func byJoint(_ units.System, of float64) (float64, string) { return of, "joint" }

// packing is how something that is measured is sold.
type packing struct {
	one    string    // stick; several of it end in s
	sizes  []float64 // in the unit of the amount, rising; none: by the unit
	metric []float64 // as sold where units are metric, in those; nil: the same sizes
	plain  bool      // the pack says its size itself: a can
	inOne  bool      // what is needed may lie in one piece: no joint between two packs
	waste  float64   // share added for what is lost
}

// choose is the packs for so many units. What may be joined comes in those that leave
// least over, the fewest of them; what may not, in one that holds all, or, where none
// does, in as many of the largest as it takes.
func (k packing) choose(sys units.System, in measure, needed int) (Pack, bool) {
	if len(k.sizes) == 0 || k.sizes[0] <= 0 {
		return Pack{}, false
	}
	var best Pack
	left := 0.0
	for i, size := range k.sizes {
		of, unit := in(sys, size)
		if sys == units.Metric && k.metric != nil {
			of = k.metric[i]
		}
		p := Pack{Count: wholeUp(float64(needed) / of), Unit: k.one, Of: of}
		if !k.plain {
			p.Size = strconv.FormatFloat(of, 'f', -1, 64) + " " + unit
			if unit == "ft" || unit == "m" {
				p.Size = sys.NominalLength(units.Feet(size))
			}
		}
		if k.inOne && p.Count == 1 {
			return p, true
		}
		over := float64(p.Count)*of - float64(needed)
		if i == 0 || k.inOne || over < left || over == left && p.Count < best.Count {
			best, left = p, over
		}
	}
	return best, true
}

// words is how many of the pack: "5 sticks of 20 ft".
func (k Pack) words() string {
	words := plan.Plural(k.Count, k.Unit, k.Unit+"s")
	if k.Size != "" {
		words += " of " + k.Size
	}
	return words
}

// The packs that things come in: common practice, from memory; shops differ.
var (
	coilsOfPE = []float64{100, 300, 500}        // ft
	rolls     = []float64{250, 500, 1000, 2500} // ft, of wire
)

const (
	stickFt      = 20.0 // of pipe for sleeves, in feet
	conduitFt    = 10.0 // of conduit, in feet
	gravelBagLb  = 50.0
	gravelBagKg  = 25.0
	gravelPounds = 100.0 // a cubic foot, loose (from memory)
)
