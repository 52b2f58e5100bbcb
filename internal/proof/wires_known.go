package proof

import (
	"math/bits"
	"slices"

	"evenfall/internal/plan"
)

// wiresKnown is what follows from the records.
type wiresKnown struct {
	worlds  []world // that explain them with the fewest faults; none where they are not gone through
	faults  int
	sound   bool      // there are worlds, and nothing is at fault: what is left over can be told
	common  []bool    // by wire: it surely is a common
	dead    []bool    // it surely leads to no valve
	live    []bool    // it surely leads to one
	unfound []plan.ID // zones that no wire is known for
	master  int       // the wire of the master valve; -1 not known
	other   int       // the wire that is the common by the readings, though another is marked; -1 none
	against int       // a wire to read it against before that is said; -1 none
	left    int       // the wire that is told by what is left over; -1 none
	leftFor plan.ID   // its zone; "": the master valve
	usual   float64   // ohms that valves here read to the common; 0: too few were read
}

// conclude draws what follows from the records.
func (f *wireWork) conclude() {
	n := len(f.ids)
	f.wiresKnown = wiresKnown{common: make([]bool, n), dead: make([]bool, n), live: make([]bool, n), master: -1, left: -1, other: -1, against: -1}
	f.worldsLeft()
	for i, w := range f.wires {
		f.common[i] = f.common[i] || w.Common
	}
	for _, z := range f.zones {
		if len(f.running(z)) == 0 {
			f.unfound = append(f.unfound, z)
		}
	}
	f.usual = f.usualOhms()
	for i := range n {
		ran, powered := f.ran(i)
		if len(ran) > 0 || f.common[i] {
			continue
		}
		if len(f.worlds) == 0 && f.toCommon(i) == ohmsOpen {
			f.dead[i] = true
		}
		if f.hasMaster && f.master < 0 && powered && f.live[i] {
			f.master = i
		}
	}
	f.leftOver()
	f.misnamed()
}

// misnamed looks whether the readings, which fit with no fault if another wire is the
// common, do not fit with the one that is marked. What ran by then says nothing: it was
// powered against a wire that is no common.
func (f *wireWork) misnamed() {
	if f.sound || f.misreadBest() == 0 {
		return
	}
	alone := *f
	alone.unmarked, alone.touches = true, nil
	alone.last, alone.doubtful = make([]int, len(f.ids)), make([]int, len(f.ids))
	for i := range alone.last {
		alone.last[i], alone.doubtful[i] = -1, -1
	}
	worlds, faults := alone.possible()
	if len(worlds) == 0 || faults > 0 {
		return
	}
	commons := worlds[0].commons
	for _, w := range worlds {
		if w.commons != commons {
			return
		}
	}
	i := bits.TrailingZeros64(commons)
	if f.wires[i].Common {
		return
	}
	// A wire shorted to the common reads as it does, and a bad splice as two coils in line:
	// it takes a reading against the one that is marked, and two of one coil.
	marked := slices.IndexFunc(f.wires, func(w plan.FoundWire) bool { return w.Common })
	if _, read := f.read(i, marked); !read {
		f.other, f.against = i, marked
		return
	}
	direct := 0
	for j := range f.ids {
		if r, read := f.read(i, j); read && !r.open {
			direct++
		} else if !read && j != i && f.toCommon(j) == ohmsHigh && f.against < 0 {
			f.against = j
		}
	}
	if direct >= 2 {
		f.other, f.against = i, -1
	} else if f.against >= 0 {
		f.other = i
	}
}

// misreadBest is how many readings do not fit in the world in which most do.
func (f *wireWork) misreadBest() int {
	least := 0
	for i, w := range f.worlds {
		if n := f.misread(w); i == 0 || n < least {
			least = n
		}
	}
	return least
}

// worldsLeft takes from the worlds what all of them agree on.
func (f *wireWork) worldsLeft() {
	f.worlds, f.faults = f.possible()
	f.sound = len(f.worlds) > 0 && f.faults == 0
	if len(f.worlds) == 0 {
		return
	}
	commons, dead, live := ^uint64(0), ^uint64(0), ^uint64(0)
	for _, w := range f.worlds {
		commons, dead, live = commons&w.commons, dead&w.dead, live&^(w.commons|w.dead)
	}
	for i := range f.ids {
		f.common[i], f.dead[i], f.live[i] = commons>>i&1 == 1, dead>>i&1 == 1, live>>i&1 == 1
	}
}

// running are the wires that a zone ran by.
func (f *wireWork) running(zone plan.ID) []int {
	var by []int
	for i := range f.ids {
		if ran, _ := f.ran(i); slices.Contains(ran, zone) {
			by = append(by, i)
		}
	}
	return by
}

// leftOver finds the one wire that nothing is left for but one valve.
func (f *wireWork) leftOver() {
	if !f.sound || !slices.Contains(f.common, true) {
		return
	}
	wires := f.untried()
	wanted := len(f.unfound)
	if f.hasMaster && f.master < 0 {
		wanted++
	}
	if wanted != 1 || len(wires) != 1 || !f.live[wires[0]] {
		return
	}
	f.left = wires[0]
	if len(f.unfound) == 1 {
		f.leftFor, f.unfound = f.unfound[0], nil
	} else {
		f.master = f.left
	}
}

// untried are the wires that may lead to a valve and were not powered.
func (f *wireWork) untried() []int {
	var out []int
	for i := range f.ids {
		if _, powered := f.ran(i); !powered && !f.common[i] && !f.dead[i] && f.toCommon(i) != ohmsShort && i != f.left {
			out = append(out, i)
		}
	}
	return out
}

// commonRead is the reading of a wire to a common that is known.
func (f *wireWork) commonRead(i int) (reading, bool) {
	for c, is := range f.common {
		if is && c != i {
			if r, ok := f.read(c, i); ok {
				return r, true
			}
		}
	}
	return reading{}, false
}

// usualOhms is the middle one of what good valves read; 0 of fewer than three.
func (f *wireWork) usualOhms() float64 {
	var good []float64
	for i := range f.ids {
		if r, ok := f.commonRead(i); ok && !r.open && !f.common[i] && ohmsSeen(r.ohms).touches(valveSpan(f.longest(i))) {
			good = append(good, r.ohms)
		}
	}
	if len(good) < 3 {
		return 0
	}
	slices.Sort(good)
	return good[(len(good)-1)/2]
}

// toCommon is what a wire's reading to the common says; "" where there is none.
func (f *wireWork) toCommon(i int) string {
	r, ok := f.commonRead(i)
	if !ok || f.common[i] {
		return ""
	}
	return ohmsMean(r, f.usual, f.longest(i))
}
