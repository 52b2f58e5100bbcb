package parts

import (
	"cmp"
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
	GroupValve    = "valve"
	GroupPipe     = "pipe"
	GroupFitting  = "fitting"
	GroupBackflow = "backflow"
	GroupSupply   = "supply"
	GroupFrost    = "frost"
	GroupClock    = "controller"
	GroupSensor   = "sensor"
	GroupFlag     = "flag"
)

var groupOrder = []string{
	GroupBody, GroupNozzle, GroupJoint, GroupValve, GroupPipe, GroupFitting, GroupBackflow, GroupSupply, GroupFrost,
	GroupClock, GroupSensor, GroupFlag,
}

// piece is one thing to buy, with what asks for it.
type piece struct {
	group, item, rule string
	from              plan.Ref
}

// run is a length of pipe to buy, with the drawn pipe that asks for it.
type run struct {
	piece
	length units.Feet
	sold   units.Feet // length of a stick or coil; 0: not known
	coil   bool
}

// tally gathers pieces and runs into lines. Those of one group and item make one line.
type tally struct {
	byItem map[[2]string]*entry
}

// entry is one line while it is counted.
type entry struct {
	line Line
	run  run // of pipe: how it is sold
}

func newTally() *tally { return &tally{byItem: map[[2]string]*entry{}} }

func (t *tally) entry(p piece) *entry {
	key := [2]string{p.group, p.item}
	e := t.byItem[key]
	if e == nil {
		e = &entry{line: Line{Group: p.group, Item: p.item, Unit: "each", Rule: p.rule}}
		t.byItem[key] = e
	}
	e.line.From = append(e.line.From, p.from)
	return e
}

func (t *tally) add(p piece) { t.entry(p).line.Count++ }

func (t *tally) addRun(r run) {
	e := t.entry(r.piece)
	e.line.Length += r.length
	e.run = r
}

// roundUp gives the lines of pipe their counts: whole feet, or metres.
func (t *tally) roundUp(sys units.System) {
	for _, e := range t.byItem {
		if e.line.Group != GroupPipe {
			continue
		}
		length := float64(e.line.Length)
		e.line.Unit = "ft"
		if sys == units.Metric {
			length, e.line.Unit = e.line.Length.Metres(), "m"
		}
		e.line.Count = int(math.Ceil(length - 1e-6))
	}
}

// addAll adds another tally, rounded up, to this one.
func (t *tally) addAll(other *tally) {
	for key, e := range other.byItem { // sums of whole counts, and of lengths below: any order does
		sum := t.byItem[key]
		if sum == nil {
			sum = &entry{line: e.line, run: e.run}
			sum.line.Count, sum.line.From = 0, nil
			sum.line.Length = 0
			t.byItem[key] = sum
		}
		sum.line.Count += e.line.Count
		sum.line.Length += e.line.Length
		sum.line.From = append(sum.line.From, e.line.From...)
	}
}

// pack says of the lines of pipe how many sticks or coils they are.
func (t *tally) pack(sys units.System) {
	for _, e := range t.byItem {
		if e.run.sold <= 0 || e.line.Count == 0 {
			continue
		}
		bought := units.Feet(e.line.Count)
		if sys == units.Metric {
			bought = units.Feet(float64(e.line.Count) / units.MetresPerFoot)
		}
		n := int(math.Ceil(float64(bought/e.run.sold) - 1e-6))
		one, many := "stick", "sticks"
		if e.run.coil {
			one, many = "coil", "coils"
		}
		e.line.Sold = plan.Plural(n, one, many) + " of " + sys.NominalLength(e.run.sold)
	}
}

// lines returns the tally by group, then item, with From sorted.
func (t *tally) lines() []Line {
	lines := make([]Line, 0, len(t.byItem))
	for _, e := range t.byItem { // sorted below
		line := e.line
		line.From = slices.Clone(line.From)
		slices.Sort(line.From)
		lines = append(lines, line)
	}
	slices.SortFunc(lines, func(a, b Line) int {
		return cmp.Or(
			cmp.Compare(slices.Index(groupOrder, a.Group), slices.Index(groupOrder, b.Group)),
			cmp.Compare(a.Item, b.Item),
		)
	})
	return lines
}
