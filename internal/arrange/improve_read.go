package arrange

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// trouble is what is wrong with a layout: what a mend is to lower.
type trouble struct {
	result *coverage.Result
	found  []plan.Finding // stop and mend, not accepted
	// sum is in square feet of dry ground, or what is as bad; measured is the part of
	// it that no finding counts for.
	sum, measured float64
}

// How bad things are, in square feet of dry ground. Chosen: a finding that stops
// outweighs any shade of evenness, so that a change that cures one is found; what
// is measured besides says which of several cures is the best.
const (
	badStop    = 60.0 // a finding of rank stop
	badMend    = 15.0 // of rank mend
	badUneven  = 0.5  // of the ground by which an area's driest quarter falls short of its mean
	badHard    = 40.0 // a gpm on what must stay dry, past what is let pass
	badPassed  = 12.0 // the same of what is let pass; a third of it on bare ground
	badRate    = 20.0 // a head off its zone's rate
	badLeftOut = 200. // a head that cannot run
	badApart   = 10.0 // a throw by which a head stands farther than head to head
)

// hardLet is the share of the flow that is let pass on what must stay dry, and
// bareLet on bare ground: the limits of the findings (see package coverage).
const (
	hardLet = 0.02
	bareLet = 0.05
)

// watched are the findings that Improve seeks to cure, in the order it takes them:
// first what makes the rest read wrong.
var watched = []string{
	plan.HeadsDoubled, plan.NozzleNotFitting, plan.OutsideTable, plan.RatesMixed, plan.RotorNozzleByArc, plan.TurnedDownFar,
	plan.HeadCloseToPaving, plan.NoDigging, plan.SprayOnWall, plan.ThingInThrow,
	plan.SpacingWide, plan.DryPatch, plan.NeighbourFacesAway, plan.CornerBare,
	plan.ThrowOnPaving, plan.BandWetted, plan.LeavesLot, plan.ThrowOnGround, plan.ThrowUndrawn,
	plan.NarrowStrip, plan.EdgeShared, plan.NothingAssigned,
}

// read reads the whole of the mender's plan.
func (m *mender) read(ctx context.Context) (trouble, error) { return m.readOf(ctx, m.p, m.field, true) }

// readOf reads a plan on a field; without checks what is found is left out of the
// sum, and it takes half the time.
func (m *mender) readOf(ctx context.Context, p *plan.Plan, field *coverage.Field, checks bool) (trouble, error) {
	r, _, err := field.Update(ctx, p)
	if err != nil {
		return trouble{}, err
	}
	m.evaluations++
	t := trouble{result: r}
	t.measured = m.uneven(r) + m.astray(p, r) + m.unmatched(p, r) + badLeftOut*float64(len(r.LeftOut))
	t.sum = t.measured
	if !checks {
		return t, nil
	}
	if err := ctx.Err(); err != nil {
		return trouble{}, err
	}
	t.found = plan.Accept(p, coverage.Check(p, r, field))
	t.found = slices.DeleteFunc(t.found, func(f plan.Finding) bool { return f.Accepted != nil || f.Rank == plan.Notice })
	plan.SortFindings(t.found)
	for _, f := range t.found {
		if f.Rank == plan.Stop {
			t.sum += badStop
		} else {
			t.sum += badMend
		}
	}
	return t, nil
}

// uneven is what is dry, uneven, or stands too far apart.
func (m *mender) uneven(r *coverage.Result) float64 {
	sum := 0.0
	headed := map[plan.ID]bool{}
	for _, h := range r.Heads {
		headed[h.Area] = true
		if n := h.Nearest; n != nil {
			sum += badApart * max(float64(n.OverThrow)-1, 0)
		}
	}
	for _, g := range r.Gaps {
		if headed[g.Area] {
			sum += float64(g.AreaSqFt)
		}
	}
	for _, a := range r.Areas {
		if headed[a.ID] {
			sum += badUneven * 0.25 * float64(a.AreaSqFt) * float64(1-a.DU)
		}
	}
	return sum
}

// astray is the water past what is let pass, zone by zone.
func (m *mender) astray(p *plan.Plan, r *coverage.Result) float64 {
	type water struct{ flow, hard, bare float64 }
	zones := map[plan.ID]*water{}
	sum := 0.0
	for i := range r.Heads {
		h := &r.Heads[i]
		zone := p.Heads[h.ID].Zone
		w := zones[zone]
		if w == nil {
			w = &water{}
			zones[zone] = w
		}
		hard, bare := m.hardOf(h), 0.0
		for _, l := range h.Landed {
			if l.Surface == coverage.Undrawn || p.Areas[l.Surface].Kind == plan.Ground {
				bare += float64(l.GPM)
			}
		}
		w.flow += float64(h.FlowGPM)
		w.hard += hard
		w.bare += bare
		// What is let pass is still planned at none, and a head may stray alone
		// without its zone's share telling.
		sum += badPassed*hard + badPassed/3*bare + badHard/2*max(hard-0.1*float64(h.FlowGPM), 0)
	}
	for _, id := range plan.SortedIDs(zones) {
		w := zones[id]
		sum += badHard*max(w.hard-hardLet*w.flow, 0) + badHard/2*max(w.bare-bareLet*w.flow, 0)
		if most := m.zoneMost(); most > 0 && id != "" {
			sum += 5 * badHard * max(w.flow-max(float64(most), m.flowed[id]), 0)
		}
	}
	return sum
}

// zoneMost is the most a zone may take: what was asked for, else, as a stand-in,
// nine tenths of what the plan's supply names.
func (m *mender) zoneMost() units.GPM {
	return cmp.Or(m.o.ZoneMost, 0.9*cmp.Or(m.was.Supply.DesignFlowGPM, m.was.Supply.FlowGPM))
}

// hardOf is the water of a head, in gpm, that lands on what must stay dry or is
// thrown at a building.
func (m *mender) hardOf(h *coverage.HeadReading) float64 {
	hard := 0.0
	for _, l := range h.Landed {
		if m.isHard(l.Surface) {
			hard += float64(l.GPM)
		}
	}
	for _, c := range h.Caught {
		if collection, _ := c.By.Split(); collection == "areas" {
			hard += float64(c.Share) * float64(h.FlowGPM)
		}
	}
	return hard
}

// isHard reports whether no water is to land on a surface. Past what is drawn
// nobody knows what lies there where the property line is not drawn.
func (m *mender) isHard(surface plan.ID) bool {
	switch m.p.Areas[surface].Kind {
	case plan.Paving, plan.Building, plan.RightOfWay, plan.Water:
		return true
	}
	return surface == coverage.Band || surface == coverage.Outside && len(m.p.Site.Lot) > 0
}

// unmatched is how far heads are off the rate of their zone.
func (m *mender) unmatched(p *plan.Plan, r *coverage.Result) float64 {
	rates := map[plan.ID]float64{}
	for _, z := range r.Zones {
		rates[z.ID] = float64(z.HeadToHead)
	}
	sum := 0.0
	for _, h := range r.Heads {
		if rate := rates[p.Heads[h.ID].Zone]; rate > 0 {
			if off := math.Abs(float64(h.OwnRate)-rate) / rate; off > rateWithin {
				sum += badRate * min(off, 2)
			}
		}
		if h.TableThrow > 0 {
			usual := float64(p.Nozzles[p.Heads[h.ID].Nozzle].TurnDown.UsualShare)
			sum += badRate * max(usual-float64(h.Throw/h.TableThrow)-0.005, 0)
		}
	}
	return sum
}

// rateWithin is how far off its zone's rate a head may be: common practice.
const rateWithin = 0.10

// head is the reading of a head; nil when it cannot run.
func (t *trouble) head(id plan.ID) *coverage.HeadReading {
	i, ok := slices.BinarySearchFunc(t.result.Heads, id, func(h coverage.HeadReading, id plan.ID) int {
		switch {
		case h.ID < id:
			return -1
		case h.ID > id:
			return 1
		}
		return 0
	})
	if !ok {
		return nil
	}
	return &t.result.Heads[i]
}

// area is the reading of an area; nil when it has none.
func (t *trouble) area(id plan.ID) *coverage.AreaReading {
	for i := range t.result.Areas {
		if t.result.Areas[i].ID == id {
			return &t.result.Areas[i]
		}
	}
	return nil
}

// stops counts the findings of rank stop by what they are of. That heads stand
// too far apart and that ground is dry are one mistake, told by its cause where
// the cause is known.
func (t *trouble) stops() map[string]int {
	n := map[string]int{}
	for _, f := range t.found {
		if f.Rank == plan.Stop {
			n[sameMistake(f.Code)]++
		}
	}
	return n
}

func sameMistake(code string) string {
	if code == plan.SpacingWide {
		return plan.DryPatch
	}
	return code
}

// worseThan reports whether a layout has a stop that another has not.
func (t *trouble) worseThan(before *trouble) bool {
	was := before.stops()
	for code, n := range t.stops() {
		if n > was[code] {
			return true
		}
	}
	return false
}

func spotOf(h plan.Head) orb.Point { return orb.Point{float64(h.X), float64(h.Y)} }
