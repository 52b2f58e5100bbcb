package web

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// RouteView is what a search for routes found, in words: the value of GET
// /plans/{id}/route. When nothing can be routed Offered is false and Says tells why.
type RouteView struct {
	Rev         int64         `json:"rev"` // of the stored plan it was made from
	Offered     bool          `json:"offered"`
	Says        string        `json:"says"`
	At          plan.Ref      `json:"at,omitzero"` // what stands in the way, of a refusal
	Rows        []string      `json:"rows"`        // what the figures of each offer are, in their order
	Offers      []RouteOffer  `json:"offers"`      // the one that costs least first
	Blocked     []BlockedView `json:"blocked"`
	Notes       []string      `json:"notes"`
	Caution     string        `json:"caution"`
	Evaluations string        `json:"evaluations"`
}

// RouteOffer is one set of routes.
type RouteOffer struct {
	Name    string          `json:"name"`
	Says    string          `json:"says"`
	Patch   json.RawMessage `json:"patch,omitempty"` // none: the plan has these routes
	Label   string          `json:"label"`
	Figures []string        `json:"figures"` // by RouteView.Rows
	Least   []bool          `json:"least"`   // by figure: no offer has less
	Notes   []string        `json:"notes"`
}

// BlockedView is an end that no way leads to.
type BlockedView struct {
	What plan.Ref  `json:"what"`
	Name string    `json:"name"`
	At   orb.Point `json:"at"`
	Why  string    `json:"why"`
}

func noRoutes(rev int64, no *trench.Refusal) *RouteView {
	return &RouteView{
		Rev: rev, Says: sentence(no.Sentence), At: no.At, Rows: []string{}, Offers: []RouteOffer{}, Blocked: []BlockedView{},
		Notes: []string{}, Caution: trench.Caution,
	}
}

// routeRows are the measures that routes are compared by, with what less of is
// better; nil where neither is.
var routeRows = []struct {
	title string
	text  func(*maker, *trench.Measures) string
	less  func(*trench.Measures) float64
}{
	{"Cost by your figures", func(m *maker, r *trench.Measures) string { return m.cost(r.Cost) }, func(r *trench.Measures) float64 { return r.Cost }},
	{"Trench", func(m *maker, r *trench.Measures) string { return m.feet(r.Trench) }, func(r *trench.Measures) float64 { return float64(r.Trench) }},
	{"Of it", (*maker).byGround, nil},
	{"For wire alone", func(m *maker, r *trench.Measures) string { return m.feet(r.Wire) }, func(r *trench.Measures) float64 { return float64(r.Wire) }},
	{"Main", func(m *maker, r *trench.Measures) string { return m.feet(r.Main) }, nil},
	{"Laterals", func(m *maker, r *trench.Measures) string { return m.feet(r.Lateral) }, nil},
	{"Crossings of paving", func(_ *maker, r *trench.Measures) string { return fmt.Sprint(r.Crossings) }, func(r *trench.Measures) float64 { return float64(r.Crossings) }},
	{"Longest bore", func(m *maker, r *trench.Measures) string {
		if r.Longest == 0 {
			return "none"
		}
		return m.sys.Length(r.Longest)
	}, func(r *trench.Measures) float64 { return float64(r.Longest) }},
	{"Valve boxes", func(_ *maker, r *trench.Measures) string { return fmt.Sprint(r.Boxes) }, func(r *trench.Measures) float64 { return float64(r.Boxes) }},
	{"Against the least there can be", func(_ *maker, r *trench.Measures) string { return gapWords(r) }, nil},
}

// routeWords puts routes into words.
func routeWords(p *plan.Plan, rev int64, found *trench.Proposal) *RouteView {
	m := &maker{p: p, sys: p.Show}
	v := &RouteView{
		Rev: rev, Offered: len(found.Offers) > 0, Rows: []string{}, Offers: []RouteOffer{}, Blocked: []BlockedView{},
		Notes: orEmpty(found.Notes), Caution: trench.Caution, Evaluations: weighed(found.Evaluations, "way", "ways"),
	}
	for _, row := range routeRows {
		v.Rows = append(v.Rows, row.title)
	}
	for i := range found.Offers {
		o := &found.Offers[i]
		view := RouteOffer{Name: o.Name, Says: o.Says, Patch: patchOf(o.Patch), Label: o.Label, Notes: orEmpty(o.Notes)}
		for _, row := range routeRows {
			least := row.less != nil && len(found.Offers) > 1
			for j := range found.Offers {
				least = least && row.less(&o.Measures) <= row.less(&found.Offers[j].Measures)
			}
			view.Figures, view.Least = append(view.Figures, row.text(m, &o.Measures)), append(view.Least, least)
		}
		v.Offers = append(v.Offers, view)
	}
	for _, b := range found.Blocked {
		v.Blocked = append(v.Blocked, BlockedView{b.What, plan.Capital(p.Label(b.What)), orb.Point{finite(b.At[0]), finite(b.At[1])}, sentence(b.Why)})
	}
	v.Says = routesSay(v)
	return v
}

func routesSay(v *RouteView) string {
	says := ""
	switch {
	case len(v.Offers) == 1:
		says = v.Offers[0].Says
	case len(v.Offers) > 1:
		says = fmt.Sprintf("%d ways to lay it, the one that costs least first.", len(v.Offers))
	}
	if n := len(v.Blocked); n > 0 {
		says = strings.TrimSpace(says + fmt.Sprintf(" No way leads to %s.", plan.Plural(n, "place", "places")))
	}
	if says == "" {
		says = "No routes were found."
	}
	return says
}

// cost prints what routes cost by the plan's figures of digging: a plain number.
func (m *maker) cost(c float64) string {
	if c < 100 {
		return fmt.Sprintf("%.1f", c)
	}
	return fmt.Sprintf("%.0f", c)
}

// byGround is the trench of routes by ground: "lawn 240 ft, bed 12 ft".
func (m *maker) byGround(r *trench.Measures) string {
	var words []string
	for _, g := range groundOrder {
		if l := r.By[g]; l >= leastTold {
			words = append(words, groundNames[g]+" "+m.feet(l))
		}
	}
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, ", ")
}

// leastTold is the least trench in a ground that is told.
const leastTold units.Feet = 0.5

// gapWords says how far routes are from a bound that none can go below.
func gapWords(r *trench.Measures) string {
	switch {
	case !(r.Bound > 0):
		return "not known"
	case r.Cost <= r.Bound*1.0005:
		return "proved least"
	}
	return fmt.Sprintf("at most %.1f %% more", 100*(r.Cost/r.Bound-1))
}
