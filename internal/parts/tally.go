package parts

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The groups of the list, in the order they are printed.
const (
	GroupBody     = "body"
	GroupNozzle   = "nozzle"
	GroupJoint    = "swing joint"
	GroupCheck    = "check valve"
	GroupValve    = "valve"
	GroupBox      = "box"
	GroupPipe     = "pipe"
	GroupFitting  = "fitting"
	GroupSleeve   = "sleeve"
	GroupBackflow = "backflow"
	GroupSupply   = "supply"
	GroupFrost    = "frost"
	GroupClock    = "controller"
	GroupSensor   = "sensor"
	GroupWire     = "wire"
	GroupUsedUp   = "used up"
	GroupFlag     = "flag"
)

var groupOrder = []string{
	GroupBody, GroupNozzle, GroupJoint, GroupCheck, GroupValve, GroupBox, GroupPipe, GroupFitting, GroupSleeve, GroupBackflow,
	GroupSupply, GroupFrost, GroupClock, GroupSensor, GroupWire, GroupUsedUp, GroupFlag,
}

// piece is one thing to buy, with what asks for it.
type piece struct {
	group, item, rule string
	from              plan.Ref
}

// amount is so much of something that is measured, with what asks for it.
type amount struct {
	piece
	of      float64 // ft, lb or joints
	in      measure
	packing packing
}

// tally gathers pieces and amounts into lines. Those of one group and item make one
// line.
type tally struct {
	byItem map[[2]string]*entry
}

// entry is one line while it is counted.
type entry struct {
	line    Line
	rank    int     // of its group
	of      float64 // of what is measured
	in      measure // nil: counted in pieces
	packing packing
}

func newTally() *tally { return &tally{byItem: map[[2]string]*entry{}} }

func (t *tally) entry(p piece) *entry {
	key := [2]string{p.group, p.item}
	e := t.byItem[key]
	if e == nil {
		e = &entry{rank: slices.Index(groupOrder, p.group), line: Line{Group: p.group, Item: p.item, Unit: "each", Rule: p.rule}}
		t.byItem[key] = e
	}
	e.line.From = append(e.line.From, p.from)
	return e
}

func (t *tally) add(p piece) { t.entry(p).line.Count++ }

// addSome adds so many pieces of one kind that one thing asks for.
func (t *tally) addSome(p piece, n int) {
	for range n {
		t.add(p)
	}
}

// addFrom adds so many pieces that several things ask for together.
func (t *tally) addFrom(p piece, n int, from []plan.Ref) {
	if n <= 0 {
		return
	}
	p.from = from[0]
	e := t.entry(p)
	e.line.Count += n
	e.line.From = append(e.line.From, from[1:]...)
}

func (t *tally) addAmount(a amount) {
	e := t.entry(a.piece)
	e.of += a.of
	e.in, e.packing = a.in, a.packing
}

// roundUp gives the lines of what is measured their counts, whole units, and names
// each thing they come from once.
func (t *tally) roundUp(sys units.System) {
	for _, e := range t.byItem {
		if e.in == nil {
			continue
		}
		var of float64
		of, e.line.Unit = e.in(sys, e.of)
		e.line.Count = wholeUp(of)
		slices.Sort(e.line.From)
		e.line.From = slices.Compact(e.line.From)
		if e.line.Group != GroupUsedUp && (e.line.Unit == "ft" || e.line.Unit == "m") {
			e.line.Length = units.Feet(e.of)
		}
	}
}

// wholeUp rounds up, but for what is no more than rounding.
func wholeUp(v float64) int { return int(math.Ceil(v - 1e-6)) }

// addAll adds another tally, rounded up, to this one.
func (t *tally) addAll(other *tally) { t.addSuch(other, func(string) bool { return true }) }

// addSuch adds of another tally the lines of some groups.
func (t *tally) addSuch(other *tally, group func(string) bool) {
	for key, e := range other.byItem { // sums of whole counts, and of lengths below: any order does
		if !group(key[0]) {
			continue
		}
		sum := t.byItem[key]
		if sum == nil {
			sum = &entry{line: e.line, rank: e.rank, in: e.in, packing: e.packing}
			sum.line.Count, sum.line.From = 0, nil
			sum.line.Length = 0
			t.byItem[key] = sum
		}
		sum.line.Count += e.line.Count
		sum.line.Length += e.line.Length
		sum.line.From = append(sum.line.From, e.line.From...)
	}
}

// pack says of what is measured how it is bought.
func (t *tally) pack(sys units.System) {
	for _, e := range t.byItem {
		if e.in == nil || e.line.Count == 0 {
			continue
		}
		e.line.Needed = wholeUp(float64(e.line.Count) * (1 + e.packing.waste))
		if k, ok := e.packing.choose(sys, e.in, e.line.Needed); ok {
			e.line.Pack, e.line.Sold = &k, k.words()
		}
	}
}

// lines returns the tally by group, then item, with From sorted.
func (t *tally) lines() []Line {
	sorted := slices.SortedFunc(maps.Values(t.byItem), func(a, b *entry) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.line.Item, b.line.Item))
	})
	lines := make([]Line, 0, len(sorted))
	for _, e := range sorted {
		line := e.line
		line.From = slices.Clone(line.From)
		slices.Sort(line.From)
		lines = append(lines, line)
	}
	return lines
}
