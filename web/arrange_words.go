package web

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"evenfall/internal/arrange"
	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// layoutWords puts what a search found into words.
type layoutWords struct {
	p    *plan.Plan
	rev  int64
	maps *mapMaker
}

func (l *layoutWords) empty() *ArrangeView {
	v := &ArrangeView{
		Rev: l.rev, Columns: []Column{}, Offers: []OfferView{}, Answers: []AnswerView{}, Notes: []string{},
		Caution: arrange.Caution,
	}
	for _, c := range arrange.Columns() {
		best := "least"
		if c.Most {
			best = "most"
		}
		v.Columns = append(v.Columns, Column{ID: c.ID, Label: c.Label, Short: c.Short, Best: best})
	}
	return v
}

func (l *layoutWords) refusal(no *arrange.Refusal) *ArrangeView {
	v := l.empty()
	v.Says, v.At, v.Whole = sentence(no.Sentence), no.At, true
	return v
}

func (l *layoutWords) view(ctx context.Context, found *arrange.Proposal, whole bool) *ArrangeView {
	v := l.empty()
	v.Whole, v.Evaluations = whole, weighed(found.Evaluations, "layout", "layouts")
	l.maps.left = newMaps
	if whole {
		l.maps.left = math.MaxInt
	}
	v.Notes = append(v.Notes, found.Notes...)
	for i := range found.Answers {
		v.Answers = append(v.Answers, l.answer(ctx, &found.Answers[i]))
	}
	for _, o := range found.Offers {
		v.Offers = append(v.Offers, l.offer(&o))
	}
	v.Offered = len(v.Offers) > 0
	v.Says = l.says(v)
	return v
}

// says counts what is offered, and names the areas that nothing is offered for.
func (l *layoutWords) says(v *ArrangeView) string {
	var without []string
	for _, a := range v.Answers {
		if len(a.Layouts) == 0 {
			without = append(without, a.Name)
		}
	}
	switch {
	case !v.Offered && len(v.Answers) == 1:
		return v.Answers[0].Why
	case !v.Offered:
		return "No layout is offered for any of the areas. Each says why."
	}
	s := plan.Plural(len(v.Offers), "offer", "offers") + " for " + plan.Plural(len(v.Answers)-len(without), "area", "areas") + "."
	if len(without) > 0 {
		s += " None for " + plan.Several(without) + ": see why."
	}
	return s
}

func (l *layoutWords) offer(o *arrange.Offer) OfferView {
	v := OfferView{Name: o.Name, Says: o.Says, Picks: []PickView{}, Figures: l.figures(&o.Total), Patch: patchOf(o.Patch), Label: o.Label}
	for _, k := range o.Picks {
		v.Picks = append(v.Picks, PickView{k.Area, k.Layout})
	}
	return v
}

func (l *layoutWords) answer(ctx context.Context, a *arrange.Answer) AnswerView {
	v := AnswerView{Area: a.Area, Name: plan.Capital(l.p.AreaName(a.Area)), Rings: l.rings(a.Area), Layouts: []LayoutView{}, Why: a.Why}
	for i := range a.Layouts {
		v.Layouts = append(v.Layouts, l.layout(ctx, &a.Layouts[i]))
	}
	return v
}

func (l *layoutWords) layout(ctx context.Context, y *arrange.Layout) LayoutView {
	v := LayoutView{
		Family: string(y.Family), Kind: arrange.FamilyWord(y.Family), Tidy: y.Tidy, Says: y.Says,
		Heads: stands(l.p, y.Heads), Figures: l.figures(&y.Measures), Past: []LabelledText{},
		Map: l.maps.of(ctx, y), Patch: patchOf(y.Patch), Label: "Arrange " + l.p.AreaName(y.Area),
	}
	for _, s := range y.Measures.PastTold() {
		name := s.Name
		if name == "" {
			name = coverage.SurfaceName(l.p, s.Surface)
		}
		v.Past = append(v.Past, LabelledText{plan.Capital(name), arrange.SmallShare(l.p.Show, s.Share)})
	}
	return v
}

func (l *layoutWords) figures(m *arrange.Measures) []Figure {
	var out []Figure
	for i, f := range m.Figures(l.p) {
		v := Figure{Text: f.Text, Sort: finite(f.Sort)}
		switch arrange.Columns()[i].ID {
		case "evenness":
			v.Rank = rankOf(m.DU)
		case "hard":
			v.Rank = good
			if m.HardShare(l.p) > arrange.Usual().Hard {
				v.Rank = "poor"
			}
		}
		out = append(out, v)
	}
	return out
}

// rings are the outline and the holes of an area.
func (l *layoutWords) rings(area plan.ID) [][][2]float64 {
	a := l.p.Areas[area]
	out := [][][2]float64{}
	for _, o := range append([]geom.Outline{a.Outline}, a.Holes...) {
		ring := [][2]float64{}
		for _, at := range o.Ring() {
			ring = append(ring, [2]float64(at))
		}
		out = append(out, ring)
	}
	return out
}

// stands are heads of a layout, to be drawn.
func stands(p *plan.Plan, heads []arrange.Placed) []StandView {
	out := []StandView{}
	for i := range heads {
		h := &heads[i]
		v := StandView{
			ID: h.ID, X: finite(h.At[0]), Y: finite(h.At[1]), Start: finite(float64(h.Start)), Sweep: finite(float64(h.Sweep)),
			Throw: finite(float64(h.Throw)), Stays: h.Stays, Nozzle: h.Nozzle, Says: h.Says(p),
		}
		if n := nozzleOf(p, h.Nozzle); n.Strip != nil {
			v.Strip = &StripView{n.Strip.Ahead, n.Strip.Back, float64(n.Strip.Left), float64(n.Strip.Right)}
		}
		out = append(out, v)
	}
	return out
}

// nozzleOf is a nozzle of the plan, or else of the catalogue.
func nozzleOf(p *plan.Plan, id plan.ID) catalog.Nozzle {
	if n, ok := p.Nozzles[id]; ok {
		return n
	}
	n, _ := catalog.FindNozzle(string(id)) // an unknown one has no rows and no name
	return n
}

// patchOf is a patch on the wire; none when it changes nothing.
func patchOf(p plan.Patch) json.RawMessage {
	if len(p) == 0 || string(p) == "{}" {
		return nil
	}
	return json.RawMessage(p)
}

// weighed counts what a search weighed: "12,400 layouts weighed".
func weighed(n int, one, many string) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s + " " + plan.Choose(n, one, many) + " weighed"
}

// finite keeps a number that is none off the wire, which has no sign for it.
func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

// noMends says why nothing can be improved.
func noMends(rev int64, no *arrange.Refusal) *ImproveView {
	return &ImproveView{Rev: rev, Says: sentence(no.Sentence), At: no.At, Mends: []MendView{}, Left: []string{}, Caution: arrange.Caution}
}

// mendWords puts an improvement into words.
func mendWords(p *plan.Plan, rev int64, found *arrange.Improvement) *ImproveView {
	v := &ImproveView{
		Rev: rev, Offered: len(found.Mends) > 0, Says: found.Says, Mends: []MendView{}, Left: orEmpty(found.Left),
		Caution: arrange.Caution, Evaluations: weighed(found.Evaluations, "change", "changes"),
	}
	for i := range found.Mends {
		v.Mends = append(v.Mends, mendView(p, &found.Mends[i]))
	}
	return v
}

func mendView(p *plan.Plan, m *arrange.Mend) MendView {
	v := MendView{
		Kind: m.Kind, Heads: orEmpty(m.Heads), Area: m.Area, AreaName: plan.Capital(p.AreaName(m.Area)), Says: m.Says, Why: m.Why,
		X: finite(m.At[0]), Y: finite(m.At[1]), From: stands(p, m.From), To: stands(p, m.To), Patch: patchOf(m.Patch), Label: m.Label,
	}
	for _, b := range m.Readings(p) {
		v.Readings = append(v.Readings, BeforeAfter{b.ID, b.Label, b.Before, b.After, b.Change})
	}
	return v
}

// mapMaker makes the small maps of layouts, each once.
type mapMaker struct {
	p    *plan.Plan
	made map[string]*MapView
	left int // that may still be made for the answer under way
}

// newMaps is how many maps are made for one answer on the way: a first answer must
// not wait for the maps of many areas. The whole answer has them all. Chosen.
const newMaps = 8

func mapsOf(p *plan.Plan) *mapMaker { return &mapMaker{p: p, made: map[string]*MapView{}} }

// of is the map of a layout; none when the search is called off meanwhile, and none
// yet when enough were made for this answer.
func (m *mapMaker) of(ctx context.Context, y *arrange.Layout) *MapView {
	key := fmt.Sprintf("%s %v", y.Area, y.Heads)
	if v, ok := m.made[key]; ok {
		return v
	}
	if m.left <= 0 {
		return nil
	}
	m.left--
	g, cells, err := y.Map(ctx, m.p)
	if err != nil {
		return nil
	}
	v := &MapView{FrameView{g.Origin[0], g.Origin[1], g.Cell, g.NX, g.NY}, cells}
	m.made[key] = v
	return v
}
