package proof

import (
	"fmt"
	"maps"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/stakeout"
	"evenfall/internal/units"
)

// BuiltOf is every thing of a plan whose built place was measured: valves, boxes, sleeves
// with an end each, heads; each by id, with dimensions from fixed corners that a tape
// reaches. d must be of p; it may be nil.
func BuiltOf(p *plan.Plan, d *design.Design) []BuiltThing {
	out := builtThings(p)
	if len(out) == 0 {
		return out
	}
	targets := make([]stakeout.Target, len(out))
	for i, t := range out {
		targets[i] = stakeout.Target{Of: t.Ref, Tag: fmt.Sprint(i), What: t.Kind, At: t.At}
	}
	s := stakeout.Of(Standing(p), nil, targets...)
	at := map[string]int{}
	for i := range s.Flags {
		at[s.Flags[i].Tag] = i
	}
	why := map[string]string{}
	for _, l := range s.Left {
		why[l.Tag] = l.Why
	}
	for i := range out {
		if k, ok := at[fmt.Sprint(i)]; ok {
			out[i].measure(p, s, k, out)
		} else {
			out[i].Says = "No tape reaches it. " + why[fmt.Sprint(i)]
		}
	}
	return out
}

// Standing is the plan with all that stands as there already, so that new walls and paving
// are measured from as well, and nothing gets a flag of its own in its stake-out.
func Standing(p *plan.Plan) *plan.Plan {
	q := *p
	q.Heads = nil
	q.Supply.Status, q.Controller.Status = plan.Existing, plan.Existing
	q.Areas, q.Barriers = maps.Clone(p.Areas), maps.Clone(p.Barriers)
	for id, a := range q.Areas {
		if a.Status.IsNew() {
			a.Status = plan.Existing
			q.Areas[id] = a
		}
	}
	for id, b := range q.Barriers {
		if b.Status.IsNew() {
			b.Status = plan.Existing
			q.Barriers[id] = b
		}
	}
	return &q
}

// builtThings are the things with a built place, without dimensions.
func builtThings(p *plan.Plan) []BuiltThing {
	var out []BuiltThing
	add := func(ref plan.Ref, what, kind string, at orb.Point, was *plan.Spot, b *plan.Built, status plan.Status) {
		t := BuiltThing{Ref: ref, What: what, Kind: kind, At: at, On: b.On, Depth: b.DepthIn, Note: b.Note, Status: status}
		if was != nil {
			w := spotAt(*was)
			t.Was = &w
			t.Moved = MovedWords(p, w, at)
		}
		out = append(out, t)
	}
	for _, id := range plan.SortedIDs(p.Zones) {
		if z := p.Zones[id]; z.Built != nil && z.ValveAt != nil {
			add(plan.RefTo("zones", id), "Valve of "+p.ZoneName(id), "valve", spotAt(*z.ValveAt), z.Built.Was, z.Built, z.Status)
		}
	}
	for _, id := range plan.SortedIDs(p.Boxes) {
		if b := p.Boxes[id]; b.Built != nil {
			add(plan.RefTo("boxes", id), p.Label(plan.RefTo("boxes", id)), "box", orb.Point{float64(b.X), float64(b.Y)}, b.Built.Was, b.Built, b.Status)
		}
	}
	for _, id := range plan.SortedIDs(p.Sleeves) {
		if v := p.Sleeves[id]; v.Built != nil {
			add(plan.RefTo("sleeves", id), p.Label(plan.RefTo("sleeves", id))+", first end", "sleeve", spotAt(v.From), v.Built.Was, v.Built, v.Status)
			add(plan.RefTo("sleeves", id), p.Label(plan.RefTo("sleeves", id))+", second end", "sleeve", spotAt(v.To), v.Built.WasTo, v.Built, v.Status)
		}
	}
	for _, id := range plan.SortedIDs(p.Heads) {
		if h := p.Heads[id]; h.Built != nil {
			add(plan.RefTo("heads", id), p.Label(plan.RefTo("heads", id)), "head", orb.Point{float64(h.X), float64(h.Y)}, h.Built.Was, h.Built, h.Status)
		}
	}
	return out
}

func spotAt(s plan.Spot) orb.Point { return orb.Point{float64(s.X), float64(s.Y)} }

// MovedWords say how far a thing went from where it was drawn, in the plan's units:
// `6" east of where it was drawn`; "" within half an inch.
func MovedWords(p *plan.Plan, was, at orb.Point) string {
	d := math.Hypot(at[0]-was[0], at[1]-was[1])
	if d < 1./24 {
		return ""
	}
	return fmt.Sprintf("%s %s of where it was drawn", p.Show.Length(units.Feet(d)), p.Compass(was, at))
}

// measure takes the dimensions of a thing from its flag.
func (t *BuiltThing) measure(p *plan.Plan, s *stakeout.Plan, k int, all []BuiltThing) {
	f := &s.Flags[k]
	from := func(i int, feet units.Feet, check bool) Dim {
		q := s.Points[i]
		d := Dim{Letter: q.Letter, From: q.Name, At: q.At, Feet: feet, Check: check}
		if q.Flag {
			d.Letter, d.From = "", flagWords(q.Letter, all)
		}
		return d
	}
	length := p.Show.Length
	name := func(d Dim) string {
		if d.Letter == "" {
			return d.From
		}
		if strings.HasPrefix(d.From, "where ") {
			return d.From + " (" + d.Letter + ")"
		}
		return "the " + d.From + " (" + d.Letter + ")"
	}
	a := from(f.From, f.A, false)
	if f.How == stakeout.AlongEdge {
		a.Along, a.Off = f.Edge, f.B
		to := from(f.To, 0, false)
		t.Dims = []Dim{a}
		t.Says = fmt.Sprintf("%s from %s along %s toward %s, then %s square off it on the %s", length(f.A), name(a), f.EdgeWords(), name(to), length(f.B), f.Hand())
	} else {
		b := from(f.To, f.B, false)
		t.Dims = []Dim{a, b}
		t.Says = fmt.Sprintf("%s from %s and %s from %s", length(f.A), name(a), length(f.B), name(b))
	}
	switch {
	case f.Check >= 0:
		c := from(f.Check, f.C, true)
		t.Dims = append(t.Dims, c)
		t.Says += fmt.Sprintf("; check %s from %s", length(f.C), name(c))
	case f.Near >= 0:
		o := s.Flags[f.Near]
		c := Dim{From: flagWords(o.Tag, all), At: o.At, Feet: f.C, Check: true}
		t.Dims = append(t.Dims, c)
		t.Says += fmt.Sprintf("; check %s from %s", length(f.C), c.From)
	}
}

// flagWords names the thing a flag of this stake-out stands for: its tag is its number.
func flagWords(tag string, all []BuiltThing) string {
	n := 0
	if _, err := fmt.Sscan(tag, &n); err != nil || n < 0 || n >= len(all) {
		return "what was measured before"
	}
	what := all[n].What
	return strings.ToLower(what[:1]) + what[1:]
}
