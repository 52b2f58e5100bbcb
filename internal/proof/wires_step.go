package proof

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"

	"evenfall/internal/plan"
)

// step is what to do next, and how many touches and readings are still needed at most.
func (f *wireWork) step() (next *WireStep, touches, readings int) {
	if len(f.zones) == 0 {
		return nil, 0, 0
	}
	if len(f.ids) < 2 {
		return &WireStep{Kind: StepNote, Says: "Note every wire that comes out at the controller, spares too: each by its colour, or by tape that you put on it. If you know the common, say so; it is often white."}, 0, 0
	}
	if f.other >= 0 && f.against >= 0 {
		q := ask{min(f.other, f.against), max(f.other, f.against)}
		return f.reading(q, fmt.Sprintf("If one coil is read, %s is the common, and not the wire that is marked.", f.mark(f.other))), len(f.toTry()), 1
	}
	if f.other >= 0 {
		return &WireStep{Kind: StepNote, Says: f.misnamedSays() + " Look once more, and mark it as the common instead."}, 0, 0
	}
	for i := range f.ids {
		if f.doubtful[i] >= 0 {
			return f.touch(i, "It ran something else the last time."), 1 + len(f.toTry()), 0
		}
	}
	if q, ok := f.joined(); ok {
		return f.reading(q, fmt.Sprintf("One zone ran by both: below %s they are joined.", ohmsSay(shortMost))), len(f.toTry()), 1
	}
	if q, ok := f.silent(); ok {
		return f.reading(q, "Hardly anything ran so far: if it reads more than one coil has, another wire is the common."), len(f.toTry()), 1
	}
	if len(f.unfound) == 0 && (!f.hasMaster || f.master >= 0 || !f.sound) {
		return nil, 0, 0
	}
	try := f.toTry()
	if touches = len(try); f.sound {
		touches = f.wanted() - 1
		if f.valves() == 1 && !slices.Contains(f.common, true) {
			touches = 1 // its two wires are alike until one is powered
		}
	}
	if q, most, ok := f.toRead(); ok {
		return f.reading(q, f.readWhy(try)), touches, most
	}
	if a, b, ok := f.onlyPair(); ok {
		return f.touch(a, "", b), 1, 0
	}
	if len(try) == 0 || !slices.Contains(f.common, true) {
		return nil, 0, 0
	}
	return f.touch(try[0], ""), max(touches, 1), 0
}

// onlyPair are the two wires of the only valve there is. Either serves as its common, and no
// reading tells which of them does for others that may come.
func (f *wireWork) onlyPair() (hot, common int, ok bool) {
	if len(f.worlds) != 2 || !f.sound || f.worlds[0].commons == f.worlds[1].commons || f.worlds[0].dead != f.worlds[1].dead {
		return 0, 0, false
	}
	return bits.TrailingZeros64(f.worlds[1].commons), bits.TrailingZeros64(f.worlds[0].commons), true
}

// wanted is how many valves no wire is known for.
func (f *wireWork) wanted() int {
	n := len(f.unfound)
	if f.hasMaster && f.master < 0 {
		n++
	}
	return n
}

// toTry are the wires to be powered, those that surely lead to a valve first.
func (f *wireWork) toTry() []int {
	try := f.untried()
	slices.SortStableFunc(try, func(a, b int) int {
		switch {
		case f.live[a] == f.live[b]:
			return 0
		case f.live[a]:
			return -1
		}
		return 1
	})
	return try
}

// joined is a pair of wires by which one zone ran and which were not read yet.
func (f *wireWork) joined() (ask, bool) {
	for _, z := range f.zones {
		by := f.running(z)
		for i, a := range by {
			for _, b := range by[i+1:] {
				if _, read := f.read(a, b); !read {
					return ask{a, b}, true
				}
			}
		}
	}
	return ask{}, false
}

// mostSilent is after how many touches by which nothing ran the common is looked at
// (chosen).
const mostSilent = 2

// silent is a reading of the common, where wires were powered and nothing ran. One that
// ran a zone may be the common itself: it is the other end of the wire that is marked.
func (f *wireWork) silent() (ask, bool) {
	marked := slices.IndexFunc(f.wires, func(w plan.FoundWire) bool { return w.Common })
	nothing, something := 0, 0
	for i := range f.ids {
		if ran, powered := f.ran(i); len(ran) > 0 {
			something++
		} else if powered {
			nothing++
		}
	}
	if marked < 0 || nothing < mostSilent || something > 1 {
		return ask{}, false
	}
	for i := range f.ids {
		if _, read := f.read(marked, i); !read && i != marked {
			return ask{min(i, marked), max(i, marked)}, true
		}
	}
	return ask{}, false
}

// toRead is the reading that tells most: which wire is the common, and which lead nowhere.
// The common has to be known before a wire is powered; that a wire leads nowhere is told
// by a reading without a walk.
func (f *wireWork) toRead() (q ask, most int, ok bool) {
	common := slices.Contains(f.common, true)
	if len(f.worlds) == 0 {
		return f.oneByOne()
	}
	if common && !f.sound && len(f.toTry()) <= f.wanted() {
		return ask{}, 0, false
	}
	g := &readingGame{worlds: f.worlds, n: len(f.ids), read: map[ask]bool{}}
	for _, r := range f.readings {
		g.read[ask{r.a, r.b}] = true
		g.told |= 1<<r.a | 1<<r.b
	}
	for i := range f.ids {
		if _, powered := f.ran(i); powered || f.wires[i].Common {
			g.told |= 1 << i
		}
	}
	return g.next()
}

// oneByOne is the next reading of wires too many to think through: against a common where
// one is known, until no more are left than valves, else against the first wire.
func (f *wireWork) oneByOne() (ask, int, bool) {
	with := max(0, slices.Index(f.common, true))
	of := f.untried()
	if f.common[with] && len(of) <= f.wanted() {
		return ask{}, 0, false
	}
	var left []int
	for _, i := range of {
		if _, read := f.read(with, i); !read && i != with {
			left = append(left, i)
		}
	}
	if len(left) == 0 {
		return ask{}, 0, false
	}
	return ask{min(with, left[0]), max(with, left[0])}, len(left), true
}

// reading is the step of reading a pair.
func (f *wireWork) reading(q ask, why string) *WireStep {
	says := fmt.Sprintf("Read the resistance between %s and %s: transformer unplugged, both off their terminals. %s", f.mark(q.a), f.mark(q.b), why)
	return &WireStep{Kind: StepRead, From: f.ids[q.a], To: f.ids[q.b], Says: strings.TrimSpace(says)}
}

// readWhy says what a reading is for, and what to do without a meter.
func (f *wireWork) readWhy(try []int) string {
	if !slices.Contains(f.common, true) {
		return "That finds the common: a wire reads one coil against it, two in line against any other. Without a meter: mark as common the wire, often white, that is joined to one lead of every valve in a box."
	}
	if len(try) == 0 {
		return "That tells which wire leads to a valve."
	}
	return fmt.Sprintf("That tells which wires lead nowhere and saves walking. Without a meter: power %s instead.", f.mark(try[0]))
}

// touch is the step of powering a wire. common is the one to use where none is known.
func (f *wireWork) touch(i int, why string, common ...int) *WireStep {
	var says []string
	if why != "" {
		says = append(says, fmt.Sprintf("Touch %s again. %s", f.mark(i), why))
	}
	how := fmt.Sprintf("Power %s", f.mark(i))
	if t := f.wires[i].Terminal; t > 0 {
		how += fmt.Sprintf(", which is on terminal %d: run that station", t)
	} else {
		how += ": put it on a free terminal and run that station"
	}
	says = append(says, how+", then see which zone runs.")
	if len(f.touches) == 0 {
		says = append(says, f.first(common))
	}
	return &WireStep{Kind: StepTouch, Wire: f.ids[i], Says: strings.Join(says, " ")}
}

// first is what has to be so before the first touch.
func (f *wireWork) first(or []int) string {
	var commons []string
	for i, is := range f.common {
		if is || slices.Contains(or, i) {
			commons = append(commons, f.mark(i))
		}
	}
	says := fmt.Sprintf("First, with the transformer unplugged, put %s on the common terminal; open the supply.", plan.Series(commons))
	if f.hasMaster {
		says += " Open the master valve by its bleed, or no zone runs."
	}
	return says
}

// loose reports whether a wire whose terminal is known is not told to be on one.
func (f *wireWork) loose(wires []WireAt) bool {
	for i, w := range wires {
		if w.Goes != "" && f.wires[i].Terminal <= 0 && !f.wires[i].Common {
			return true
		}
	}
	return false
}

// says tells how far it is.
func (f *wireWork) says(m *WireMap) string {
	switch {
	case len(f.zones) == 0:
		return "The plan has no zone yet: draw the zones, then find their wires."
	case len(f.ids) == 0:
		return fmt.Sprintf("No wire is noted yet. %s to be found.", plan.Plural(len(f.zones), "zone is", "zones are"))
	case m.Found == m.Zones && m.Next == nil:
		s := "The wires of all zones are found."
		if m.Zones == 1 {
			s = "The wire of the zone is found."
		}
		if f.left >= 0 {
			s += fmt.Sprintf(" %s is told by being the only one left: power it once to be sure.", plan.Capital(f.mark(f.left)))
		}
		if f.loose(m.Wires) {
			s += " With the power off, put each wire on the terminal the map names."
		}
		return s
	case m.Next == nil:
		return fmt.Sprintf("%d of %s found, and no wire is left to try.", m.Found, plan.Plural(m.Zones, "zone", "zones"))
	}
	s := fmt.Sprintf("%d of %s found", m.Found, plan.Plural(m.Zones, "zone", "zones"))
	var need []string
	switch {
	case m.Readings >= mostReadings:
		need = append(need, fmt.Sprintf("%d readings or more", mostReadings))
	case m.Readings > 0:
		need = append(need, plan.Plural(m.Readings, "reading", "readings"))
	}
	if m.Touches > 0 {
		need = append(need, plan.Plural(m.Touches, "touch", "touches"))
	}
	if len(need) == 0 {
		return s + "."
	}
	about := "at most"
	if !slices.Contains(f.common, true) {
		about = "or so"
	}
	if f.sound {
		about += ", if nothing is at fault"
	}
	return fmt.Sprintf("%s; %s more %s.", s, plan.Series(need), about)
}
