package web

import (
	"bytes"
	"fmt"
	"net/http"
	"slices"

	"github.com/go-chi/chi/v5"
	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/starts"
	"evenfall/internal/units"
)

// The size of a thumbnail, in its own units, and the room left around.
const (
	thumbWide, thumbHigh = 144, 100
	thumbRoom            = 5
)

// grounds are the kinds of area in the order they are painted in, weakest
// first, with their colours. They are middle tones, to be told apart on light
// paper and on dark.
var grounds = []struct {
	kind plan.Kind
	fill string
}{
	{plan.RightOfWay, "#8d9390"}, {plan.Planting, "#6f9f5f"}, {plan.Ground, "#a98f68"}, {plan.Paving, "#a7aba6"},
	{plan.Water, "#5b93b8"}, {plan.Building, "#6a7072"},
}

// bedFill is the colour of a planting area that is no lawn.
const bedFill = "#4d7d55"

// fewHeads is up to how many heads have room for a large dot each.
const fewHeads = 20

// drawThumbnail draws a plan small: its areas by kind, its heads as dots. It
// holds no text and no style, so nothing of the user's can get out of it.
func drawThumbnail(p *plan.Plan) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d">`, thumbWide, thumbHigh)
	t := fit(p)
	if len(p.Site.Lot) > 0 {
		t.path(&b, p.Site.Lot, nil, `fill="#8d9390" fill-opacity="0.22" stroke="#7d8583" stroke-width="0.8" stroke-dasharray="5 1.5 1.5 1.5"`)
	}
	for _, g := range grounds {
		for _, id := range largestFirst(p, g.kind) {
			a := p.Areas[id]
			fill := g.fill
			if g.kind == plan.Planting && a.Planting != plan.Turf {
				fill = bedFill
			}
			t.path(&b, a.Outline, a.Holes, `fill="`+fill+`"`)
		}
	}
	dot := `r="1.7" fill="#ffffff" stroke="#17505a"`
	if len(p.Heads) > fewHeads {
		dot = `r="1.1" fill="#ffffff" stroke="#17505a" stroke-width="0.6"`
	}
	taken := map[[2]int]bool{} // thousands of heads would lie on one another
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		x, y := t.at(orb.Point{float64(h.X), float64(h.Y)})
		place := [2]int{int(x), int(y)}
		if len(p.Heads) > fewHeads && taken[place] {
			continue
		}
		taken[place] = true
		fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" %s/>`, x, y, dot)
	}
	b.WriteString(`</svg>`)
	return b.Bytes()
}

// largestFirst are the areas of a kind, so that a bed drawn in a lawn is seen.
func largestFirst(p *plan.Plan, kind plan.Kind) []plan.ID {
	var ids []plan.ID
	for _, id := range plan.SortedIDs(p.Areas) {
		if p.Areas[id].Kind == kind {
			ids = append(ids, id)
		}
	}
	slices.SortStableFunc(ids, func(a, b plan.ID) int {
		switch d := p.Areas[b].Outline.Area() - p.Areas[a].Outline.Area(); {
		case d > 0:
			return 1
		case d < 0:
			return -1
		}
		return 0
	})
	return ids
}

// thumb turns feet into the thumbnail's units.
type thumb struct {
	scale, left, top float64 // units a foot; feet at the upper left corner
}

// fit finds the scale at which a plan fills a thumbnail.
func fit(p *plan.Plan) thumb {
	bound := orb.Bound{Min: orb.Point{1, 1}, Max: orb.Point{-1, -1}} // empty
	add := func(o geom.Outline) {
		if len(o) > 0 {
			bound = bound.Union(o.Bound())
		}
	}
	add(p.Site.Lot)
	if bound.IsEmpty() { // the street and the neighbours matter only when nothing else is there
		for _, id := range plan.SortedIDs(p.Areas) {
			add(p.Areas[id].Outline)
		}
	}
	for _, id := range plan.SortedIDs(p.Heads) {
		bound = bound.Extend(orb.Point{float64(p.Heads[id].X), float64(p.Heads[id].Y)})
	}
	if bound.IsEmpty() {
		return thumb{1, 0, 0}
	}
	wide, high := max(bound.Max[0]-bound.Min[0], 1), max(bound.Max[1]-bound.Min[1], 1)
	scale := min((thumbWide-2*thumbRoom)/wide, (thumbHigh-2*thumbRoom)/high)
	middle := bound.Center()
	return thumb{scale, middle[0] - thumbWide/2/scale, middle[1] + thumbHigh/2/scale}
}

func (t thumb) at(p orb.Point) (x, y float64) {
	return (p[0] - t.left) * t.scale, (t.top - p[1]) * t.scale
}

// path writes an outline with its holes.
func (t thumb) path(b *bytes.Buffer, o geom.Outline, holes []geom.Outline, look string) {
	b.WriteString(`<path fill-rule="evenodd" d="`)
	for _, ring := range append([]geom.Outline{o}, holes...) {
		last := ""
		for i, p := range ring.Ring() {
			x, y := t.at(p)
			verb := "L"
			if i == 0 {
				verb = "M"
			}
			if place := fmt.Sprintf("%.1f %.1f", x, y); place != last {
				b.WriteString(verb + place)
				last = place
			}
		}
		b.WriteString("Z")
	}
	b.WriteString(`" ` + look + `/>`)
}

// thumbnail hands out the small picture of a plan.
func (s *Site) thumbnail(w http.ResponseWriter, r *http.Request) {
	saved, err := s.Plans.Load(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		s.fail(w, r, err)
		return
	}
	// Not the revision: after a restore that comes again with another document.
	s.svg(w, r, `"`+plan.Digest(saved.Doc)+`"`, func() ([]byte, error) {
		p, err := plan.Decode(saved.Doc)
		if err != nil {
			return nil, err
		}
		return drawThumbnail(p), nil
	})
}

// startThumbnail hands out the small picture of a typical yard.
func (s *Site) startThumbnail(w http.ResponseWriter, r *http.Request) {
	yard, ok := starts.Find(chi.URLParam(r, "name"))
	if !ok {
		s.fail(w, r, errNoPage)
		return
	}
	s.svg(w, r, `"`+s.Version+`"`, func() ([]byte, error) { return drawThumbnail(yard.Plan(yard.Name, units.US)), nil })
}

// svg sends a picture that can do nothing, unless the reader has it already.
func (s *Site) svg(w http.ResponseWriter, r *http.Request, etag string, draw func() ([]byte, error)) {
	h := w.Header()
	h.Set("ETag", etag)
	h.Set("Cache-Control", "private, no-cache") // asked for again each time, sent only when it changed
	if r.Header.Get("If-None-Match") == etag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	b, err := draw()
	if err != nil {
		s.fail(w, r, err)
		return
	}
	h.Set("Content-Security-Policy", filePolicy)
	h.Set("Content-Type", "image/svg+xml")
	s.write(w, r, b)
}
