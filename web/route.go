package web

import (
	"cmp"
	"context"
	"errors"
	"net/http"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// routing is the step of the search, as a page shows it.
const routing = "Weighing ways for pipes and wire"

// route answers with routes for the pipes and wires of the stored plan. Nothing is
// changed by it: the page that takes an offer makes a step of its patch.
func (s *Site) route(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	o, err := trench.Asked(q.p, r.URL.Query().Get)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		found, err := s.search.route(ctx, q.p, o, g.stage(routing, 1))
		var no *trench.Refusal
		if errors.As(err, &no) {
			return noRoutes(q.rev, no), nil
		}
		if err != nil {
			return nil, err
		}
		v := routeWords(q.p, q.rev, found)
		return v, priceOffers(q.p, v, found)
	})
}

// RouteOptions is what a page needs before it asks for routes.
type RouteOptions struct {
	Zones   []RouteZone  `json:"zones"` // by station
	Figures []FigureView `json:"figures"`
	Wire    string       `json:"wire"` // why wire cannot be laid yet; "" where it can
	Caution string       `json:"caution"`
}

// RouteZone is a zone that routes may be asked for.
type RouteZone struct {
	ID   plan.ID `json:"id"`
	Name string  `json:"name"`
	Says string  `json:"says"` // its heads, and whether its valve is placed
	Can  bool    `json:"can"`
}

// routeOptions answers with what a page needs before it asks for routes.
func (s *Site) routeOptions(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, routeAsk(q.p))
}

func routeAsk(p *plan.Plan) *RouteOptions {
	v := &RouteOptions{Zones: []RouteZone{}, Figures: []FigureView{}, Caution: trench.Caution}
	heads := map[plan.ID]int{}
	for _, h := range p.Heads {
		if h.Status != plan.Remove {
			heads[h.Zone]++
		}
	}
	ids := plan.SortedIDs(p.Zones)
	slices.SortStableFunc(ids, func(a, b plan.ID) int { return cmp.Compare(p.Zones[a].Station, p.Zones[b].Station) })
	for _, id := range ids {
		z := p.Zones[id]
		says := plan.Plural(heads[id], "head", "heads")
		if z.ValveAt == nil {
			says += ", its valve is not placed"
		}
		v.Zones = append(v.Zones, RouteZone{id, plan.Capital(p.ZoneName(id)), says, heads[id] > 0 && z.Status != plan.Remove})
	}
	for _, g := range figureGroups(p) {
		if g.ID == "digging" {
			v.Figures = g.Rows
		}
	}
	if p.Controller.At == nil {
		v.Wire = "No controller is placed yet: set it with the tool Fixture, then wire can be laid."
	}
	return v
}
