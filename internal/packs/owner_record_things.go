package packs

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/sheets"
	"evenfall/internal/stakeout"
)

// recorded is a thing of the record drawing: its mark, what it is, and how it is found.
type recorded struct {
	of     plan.Ref
	tag    string
	what   string // as of stakeout.Flag
	zone   plan.ID
	nozzle string // of a head
	status plan.Status
	at     orb.Point
	built  *plan.Built // where it went, if that was measured; of a box, of the first of its valves
	was    []orb.Point // where it was drawn before, at this end of it
}

// record is all that a record drawing shows by its place, and the tapes it is found by.
type record struct {
	things []recorded // valve boxes, splice boxes, backflow, sleeves, main, controller, then heads
	stake  *stakeout.Plan
	found  map[stood]string // how what stands somewhere is found
}

// stood is a thing at a place: a sleeve has two.
type stood struct {
	of plan.Ref
	at orb.Point
}

func (r *record) foundOf(t *recorded) string { return r.found[stood{t.of, t.at}] }

// recordOf gathers the things of a plan, by where they are now, and finds each from
// fixed corners.
func (b *builder) recordOf() *record {
	if b.rec == nil {
		r := &record{things: slices.Concat(b.recordedBoxes(), b.recordedSupply(), b.recordedSleeves(), b.recordedMain(), b.recordedHeads())}
		r.tape(b)
		b.rec = r
	}
	return b.rec
}

// tape finds each thing that stands from what is fixed, new walls and paving among it.
func (r *record) tape(b *builder) {
	var targets []stakeout.Target
	for _, t := range r.things {
		if t.status.Stands() {
			targets = append(targets, stakeout.Target{Of: t.of, Tag: t.tag, What: t.what, At: t.at})
		}
	}
	r.stake = stakeout.Of(proof.Standing(b.p), nil, targets...)
	r.found = map[stood]string{}
	for i := range r.stake.Flags {
		f := &r.stake.Flags[i]
		r.found[stood{f.Of, f.At}] = b.foundBy(r.stake, f)
	}
	for _, l := range r.stake.Left {
		r.found[stood{l.Of, l.At}] = l.Why
	}
}

// foundBy is how a place is found again: its two lengths, and a third to check.
func (b *builder) foundBy(s *stakeout.Plan, f *stakeout.Flag) string {
	bare := func(called string) string { return strings.TrimPrefix(called, "flag ") } // no flag stands any more: the thing itself does
	from, to := bare(s.Points[f.From].Called()), bare(s.Points[f.To].Called())
	first, second := b.sys.Length(f.A), b.sys.Length(f.B)
	says := fmt.Sprintf("%s from %s, %s from %s, on the %s from %s to %s", first, from, second, to, f.Hand(), from, to)
	if f.How == stakeout.AlongEdge {
		says = fmt.Sprintf("%s from %s along %s toward %s, then %s off it, on the %s", first, from, f.EdgeWords(), to, second, f.Hand())
	}
	if f.Checked() {
		says += fmt.Sprintf("; check %s from %s", b.sys.Length(f.C), bare(s.CheckName(f)))
	}
	return says
}

// recordedBoxes are the boxes of valves, with who stands in each, and those of splices.
func (b *builder) recordedBoxes() []recorded {
	var out []recorded
	zones := zoneMarks(b.p)
	splices := 0
	for i := range b.in.Design.Digs.Boxes {
		x := &b.in.Design.Digs.Boxes[i]
		t := recorded{at: x.At, status: plan.New}
		if !x.New {
			t.status = plan.Existing
		}
		switch {
		case len(x.Zones) > 0:
			var tags []string
			for _, id := range x.Zones {
				tags = append(tags, "V"+zones[id].number)
				z := b.p.Zones[id]
				if z.Built != nil && z.Built.Was != nil {
					t.was = append(t.was, spotAt(*z.Built.Was))
				}
				if t.built == nil {
					t.built = z.Built
				}
			}
			t.of, t.what, t.tag = plan.RefTo("zones", x.Zones[0]), "valve", strings.Join(tags, " ")
		case x.Master:
			t.of, t.what, t.tag = "supply", "valve", "MV"
		case x.Drawn != "":
			splices++
			v := b.p.Boxes[x.Drawn]
			t.of, t.what, t.tag, t.built, t.status = plan.RefTo("boxes", x.Drawn), "box", fmt.Sprintf("SB%d", splices), v.Built, v.Status
			t.was = wasAt(v.Built)
		default:
			continue
		}
		out = append(out, t)
	}
	return out
}

func wasAt(b *plan.Built) []orb.Point {
	if b == nil || b.Was == nil {
		return nil
	}
	return []orb.Point{spotAt(*b.Was)}
}

// recordedSupply are the backflow device and the controller.
func (b *builder) recordedSupply() []recorded {
	var out []recorded
	if at := b.p.Supply.BackflowAt; at != nil {
		out = append(out, recorded{of: "supply", tag: "BF", what: "backflow", status: b.p.Supply.Status, at: spotAt(*at)})
	}
	if at := b.p.Controller.At; at != nil {
		out = append(out, recorded{of: "controller", tag: "CON", what: "controller", status: b.p.Controller.Status, at: spotAt(*at)})
	}
	return out
}

// recordedSleeves are both ends of every sleeve that is drawn.
func (b *builder) recordedSleeves() []recorded {
	var out []recorded
	for _, s := range sheets.LaidSleeves(b.p, b.in.Design.Digs) {
		v, drawn := b.p.Sleeves[s.ID]
		if !drawn {
			continue
		}
		t := recorded{of: plan.RefTo("sleeves", s.ID), what: "sleeve", status: v.Status, built: v.Built}
		was := []*plan.Spot{nil, nil}
		if v.Built != nil {
			was = []*plan.Spot{v.Built.Was, v.Built.WasTo}
		}
		for end, at := range []orb.Point{s.From, s.To} {
			t.tag, t.at, t.was = fmt.Sprintf("S%d%c", s.Number, 'a'+end), at, nil
			if was[end] != nil {
				t.was = []orb.Point{spotAt(*was[end])}
			}
			out = append(out, t)
		}
	}
	return out
}

// recordedMain are the places where the main bends or parts.
func (b *builder) recordedMain() []recorded {
	var out []recorded
	for _, t := range keyTargets(b.in, b.digging()) {
		if t.What == "main" {
			out = append(out, recorded{of: t.Of, tag: fmt.Sprintf("M%d", len(out)+1), what: t.What, status: plan.New, at: t.At})
		}
	}
	return out
}

// recordedHeads are all heads in the order of the lists, those that go among them.
func (b *builder) recordedHeads() []recorded {
	var out []recorded
	for _, id := range sheets.HeadOrder(b.p) {
		h := b.p.Heads[id]
		out = append(out, recorded{
			of: plan.RefTo("heads", id), tag: b.p.HeadTag(id), what: "head", zone: h.Zone, nozzle: b.p.NozzleName(h.Nozzle), status: h.Status,
			at: orb.Point{float64(h.X), float64(h.Y)}, built: h.Built, was: wasAt(h.Built),
		})
	}
	return out
}

// stateWords are a status as the record says it.
func stateWords(s plan.Status) string {
	switch s {
	case plan.Existing:
		return "there before"
	case plan.Remove:
		return "to be removed"
	}
	return "new"
}
