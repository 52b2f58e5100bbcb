package proof

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/audit"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// catches are the cans of one audit as they were read.
type catches struct {
	plan.Audit
	id    plan.ID
	cans  []caught // in the order they are walked
	read  []int    // of cans: those that were read and are not left out
	known bool     // depths are known: the opening is given, or cans are marked in inches
}

// caught is one can.
type caught struct {
	id    plan.ID
	can   plan.CatchCan
	read  bool
	value float64      // in the unit that all are compared in: inches where known, else ml
	depth units.Inches // where depths are known
}

// ByDepth and ByVolume are the values of plan.Audit.Scale: what cans are marked in.
const (
	ByVolume = "volume"
	ByDepth  = "depth"
)

// auditCalled is an audit by its id; "" is the one that older documents have.
func auditCalled(p *plan.Plan, id plan.ID) (plan.Audit, error) {
	if id == "" {
		if len(p.Proof.Cans) == 0 {
			return plan.Audit{}, fmt.Errorf("the plan has no audit without an id")
		}
		a := plan.Audit{Cans: p.Proof.Cans, ThroatIn2: p.Proof.ThroatIn2}
		if p.Proof.Minutes > 0 { // it did not say of which zones: of all
			a.Runs = map[plan.ID]float64{}
			for _, zone := range plan.SortedIDs(p.Zones) {
				if p.Zones[zone].Status.Stands() {
					a.Runs[zone] = p.Proof.Minutes
				}
			}
		}
		return a, nil
	}
	a, ok := p.Proof.Audits[id]
	if !ok {
		return plan.Audit{}, fmt.Errorf("the plan has no audit %q", id)
	}
	return a, nil
}

// catchesOf reads the cans of an audit.
func catchesOf(p *plan.Plan, id plan.ID, a plan.Audit) *catches {
	c := &catches{Audit: a, id: id, known: a.Scale == ByDepth || a.ThroatIn2 > 0}
	for _, can := range CansInOrder(p, a) {
		v := caught{id: can, can: a.Cans[can]}
		switch {
		case a.Scale == ByDepth && v.can.Depth != nil:
			v.read, v.depth = true, *v.can.Depth
			v.value = float64(v.depth)
		case a.Scale != ByDepth && v.can.ML != nil:
			v.read, v.value = true, *v.can.ML
			if depth, err := audit.Depth(*v.can.ML, a.ThroatIn2); err == nil {
				v.depth, v.value = depth, float64(depth)
			}
		}
		if v.read && !v.can.Out {
			c.read = append(c.read, len(c.cans))
		}
		c.cans = append(c.cans, v)
	}
	return c
}

// CansInOrder are the cans of an audit as they are walked: those numbered c1, c2, … by their
// number, which is written on them, and those set down by hand after them, there and back.
func CansInOrder(p *plan.Plan, a plan.Audit) []plan.ID {
	type numbered struct {
		id plan.ID
		n  int
	}
	var list []numbered
	var others []site
	named := map[orb.Point][]plan.ID{}
	for _, id := range plan.SortedIDs(a.Cans) {
		if n := numberOf(id); n > 0 {
			list = append(list, numbered{id, n})
			continue
		}
		at := orb.Point{float64(a.Cans[id].X), float64(a.Cans[id].Y)}
		others = append(others, site{at: at})
		named[at] = append(named[at], id)
	}
	slices.SortStableFunc(list, func(a, b numbered) int { return cmp.Compare(a.n, b.n) })
	out := make([]plan.ID, 0, len(a.Cans))
	for _, l := range list {
		out = append(out, l.id)
	}
	for _, s := range walked(others, rowsOf(p.Areas[a.Area])) {
		out = append(out, named[s.at][0])
		named[s.at] = named[s.at][1:]
	}
	return out
}

// numberOf is the number in the id of a can that was set out, c12; 0: it has another id.
func numberOf(id plan.ID) int {
	digits, ok := strings.CutPrefix(string(id), "c")
	n, err := strconv.Atoi(digits)
	if !ok || err != nil || n < 1 || n > plan.MaxCans || strconv.Itoa(n) != digits {
		return 0
	}
	return n
}

// values are the catches that count, in the unit of all.
func (c *catches) values() []float64 {
	out := make([]float64, len(c.read))
	for k, i := range c.read {
		out[k] = c.cans[i].value
	}
	return out
}

// driest marks the cans that are wholly of the driest quarter.
func (c *catches) driest() map[int]bool {
	order := slices.Clone(c.read)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(c.cans[a].value, c.cans[b].value) })
	out := map[int]bool{}
	for _, i := range order[:len(order)/4] {
		out[i] = true
	}
	return out
}

// meanML is the mean catch in millilitres; 0 of cans that are marked in inches.
func (c *catches) meanML() float64 {
	if c.Scale == ByDepth || len(c.read) == 0 {
		return 0
	}
	sum := 0.0
	for _, i := range c.read {
		sum += *c.cans[i].can.ML
	}
	return sum / float64(len(c.read))
}

// place is where a can stands.
func (v *caught) place() orb.Point { return orb.Point{float64(v.can.X), float64(v.can.Y)} }

// sameMinutes is how long each zone ran where all ran as long; 0 where they did not.
func (c *catches) sameMinutes() float64 {
	minutes := 0.0
	for _, id := range plan.SortedIDs(c.Runs) {
		switch m := c.Runs[id]; {
		case !(m > 0):
		case minutes == 0:
			minutes = m
		case math.Abs(m-minutes) > 1e-9:
			return 0
		}
	}
	return minutes
}

// gone counts the zones that ran and that the plan has no more.
func (c *catches) gone(p *plan.Plan) int {
	n := 0
	for id, minutes := range c.Runs { // counted: order does not matter
		if _, there := p.Zones[id]; !there && minutes > 0 {
			n++
		}
	}
	return n
}

// ran are the zones that ran and that the plan still has, by id.
func (c *catches) ran(p *plan.Plan) []plan.ID {
	var out []plan.ID
	for _, id := range plan.SortedIDs(c.Runs) {
		if _, there := p.Zones[id]; there && c.Runs[id] > 0 {
			out = append(out, id)
		}
	}
	return out
}
