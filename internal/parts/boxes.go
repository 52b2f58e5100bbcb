package parts

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// boxSizes are the boxes with the ground that the gravel under them covers: their
// own foot and 2 in beyond each side, in square inches (from memory of common boxes;
// chosen).
var boxSizes = map[trench.BoxKind]struct {
	name   string
	across units.Inches // of a round one, which is asked for by it
	gravel float64
}{
	trench.RoundBox:    {"Valve box, round", 10, 200},
	trench.StandardBox: {"Valve box, standard rectangle", 0, 430},
	trench.JumboBox:    {"Valve box, jumbo", 0, 700},
	trench.SpliceBox:   {"Box for splices, round", 6, 80},
}

// boxRules say how many valves each is for.
var boxRules = map[trench.BoxKind]string{
	trench.RoundBox:    "One for a valve that stands alone.",
	trench.StandardBox: "One for two or three valves that stand together, 3 in between them.",
	trench.JumboBox:    "One for four or five valves that stand together, 3 in between them.",
	trench.SpliceBox:   "One for each drawn as new, for splices away from the valves.",
}

// boxes counts what is set at the valves: boxes by kind, bricks and gravel under
// them, and unions. They stand on the list of the main, as one box serves several
// zones; those for splices on the electrical one.
func boxes(p *plan.Plan, digs *trench.Digs, ts tallies) {
	s := newSetter(p, ts)
	for _, b := range digs.Boxes {
		if !b.New {
			continue
		}
		s.box(b)
	}
	s.unions()
}

// setter sets boxes.
type setter struct {
	p      *plan.Plan
	ts     tallies
	deep   float64 // gravel, in inches
	bricks int
}

func newSetter(p *plan.Plan, ts tallies) setter {
	deep, _ := p.Figure(plan.GravelDepth)
	bricks, _ := p.Figure(plan.BricksEach)
	return setter{p, ts, deep, int(bricks)}
}

func (s *setter) box(b trench.Box) {
	at := place{kind: OnMain}
	if b.Kind == trench.SpliceBox {
		at.kind = Electrical
	}
	var from []plan.Ref
	if b.Drawn != "" {
		from = append(from, plan.RefTo("boxes", b.Drawn))
	}
	for _, z := range b.Zones {
		from = append(from, plan.RefTo("zones", z))
	}
	if len(from) == 0 {
		return
	}
	s.set(at, b.Kind, boxRules[b.Kind], from)
}

// set counts one box with what is under it.
func (s *setter) set(at place, kind trench.BoxKind, rule string, from []plan.Ref) {
	size := boxSizes[kind]
	name := size.name
	if size.across > 0 {
		name += " " + s.p.Show.NominalInches(size.across)
	}
	if s.p.Supply.Kind == plan.Reclaimed && kind != trench.SpliceBox {
		name += ", purple lid"
	}
	on := s.ts.on(at)
	on.addFrom(piece{group: GroupBox, item: name, rule: plan.FixedWords(s.p.Show, rule)}, 1, from)
	on.addFrom(piece{group: GroupBox, item: "Brick", rule: fmt.Sprintf("%d under each box, which stands on them and not on the pipe.", s.bricks)}, s.bricks, from)
	pounds := size.gravel * s.deep / 1728 * gravelPounds
	if pounds <= 0 {
		return
	}
	for i, ref := range from {
		a := amount{in: byWeight, packing: packing{one: "bag", sizes: []float64{gravelBagLb}, metric: []float64{gravelBagKg}},
			piece: piece{GroupBox, "Gravel, washed", gravelRule(s.p.Show, s.deep), ref}}
		if i == 0 {
			a.of = pounds
		}
		on.addAmount(a)
	}
}

// gravelRule says how the gravel was reckoned.
func gravelRule(sys units.System, deep float64) string {
	volume := func(k trench.BoxKind) string {
		feet := boxSizes[k].gravel * deep / 1728
		if sys == units.Metric {
			return fmt.Sprintf("%.0f litres", feet*28.316846592)
		}
		return fmt.Sprintf("%.2f cubic feet", feet)
	}
	heavy := "100 lb a cubic foot"
	if sys == units.Metric {
		heavy = "1.6 kg a litre"
	}
	return plan.FixedWords(sys, fmt.Sprintf("{%g in} deep under each box and {2 in} beyond its sides, by volume: %s under a round valve box, %s under a standard, %s under a jumbo one; at %s.",
		deep, volume(trench.RoundBox), volume(trench.StandardBox), volume(trench.JumboBox), heavy))
}

// unions counts those by which valves come out again without a cut.
func (s *setter) unions() {
	each, _ := s.p.Figure(plan.ValveUnions)
	for _, id := range plan.SortedIDs(s.p.Zones) {
		if !s.p.Zones[id].Status.IsNew() || int(each) == 0 {
			continue
		}
		_, valve := s.p.ZoneValve(id)
		s.ts.on(place{OfZone, id}).addSome(piece{GroupFitting, "Union, " + sizes(s.p.Show, valve.Nominal),
			fmt.Sprintf("%d for each new zone valve, so that it comes out without a cut; a manifold with unions of its own serves instead.", int(each)), plan.RefTo("zones", id)}, int(each))
	}
}

// atDevice counts what a backflow device in the main takes beside itself: unions and
// nipples on both sides, adapters where no pipe is drawn to it, and where it freezes a
// cover. An atmospheric breaker stands in the laterals, threaded to its pipe.
func atDevice(p *plan.Plan, d catalog.Device, drawn bool, one func(group, item, rule string, n int)) {
	size := sizes(p.Show, d.Nominal)
	one(GroupBackflow, "Union, "+size, "One on each side of the backflow device, so that it comes out to be mended, and in winter.", 2)
	one(GroupBackflow, "Nipple, thick wall (Schedule 80 or brass), "+size, "One on each side of the backflow device. No thread is cut into Schedule 40 pipe.", 2)
	if !drawn {
		one(GroupBackflow, "Male adapter, "+size, "One on each side of the backflow device, as no pipe is drawn to it.", 2)
	}
	if freezes(p) {
		one(GroupBackflow, "Cover for the backflow device, insulated", "One, as the plan is for ground that freezes. It is no way around draining the device.", 1)
	}
}

// freezes reports whether the plan says that it freezes there.
func freezes(p *plan.Plan) bool { return p.Supply.Freeze != "" && p.Supply.Freeze != "none" }
