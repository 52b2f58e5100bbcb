package parts

import (
	"cmp"
	"slices"

	"evenfall/internal/plan"
)

// The groups of the list, in the order they are printed.
const (
	GroupBody   = "body"
	GroupNozzle = "nozzle"
	GroupJoint  = "swing joint"
	GroupValve  = "valve"
	GroupClock  = "controller"
	GroupSensor = "sensor"
	GroupFlag   = "flag"
)

var groupOrder = []string{GroupBody, GroupNozzle, GroupJoint, GroupValve, GroupClock, GroupSensor, GroupFlag}

// piece is one thing to buy, with what asks for it.
type piece struct {
	group, item, rule string
	from              plan.Ref
}

// tally gathers pieces into lines. Pieces of one group and item make one line.
type tally struct {
	byItem map[[2]string]*Line
}

func newTally() *tally { return &tally{byItem: map[[2]string]*Line{}} }

func (t *tally) add(p piece) {
	key := [2]string{p.group, p.item}
	line := t.byItem[key]
	if line == nil {
		line = &Line{Group: p.group, Item: p.item, Unit: "each", Rule: p.rule}
		t.byItem[key] = line
	}
	line.Count++
	line.From = append(line.From, p.from)
}

// lines returns the tally by group, then item, with From sorted.
func (t *tally) lines() []Line {
	lines := make([]Line, 0, len(t.byItem))
	for _, line := range t.byItem { // sorted below
		from := slices.Clone(line.From)
		slices.Sort(from)
		lines = append(lines, Line{line.Group, line.Item, line.Unit, line.Count, from, line.Rule})
	}
	slices.SortFunc(lines, func(a, b Line) int {
		return cmp.Or(
			cmp.Compare(slices.Index(groupOrder, a.Group), slices.Index(groupOrder, b.Group)),
			cmp.Compare(a.Item, b.Item),
		)
	})
	return lines
}
