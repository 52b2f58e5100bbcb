package packs

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"evenfall/internal/drawing"
	"evenfall/internal/units"
)

// planOf makes the pages of ground on a paper at a scale.
func planOf(t testing.TB, sys units.System, paper PaperID, scale int, ground orb.Bound, aside float64) (*builder, []*drawing.View) {
	t.Helper()
	p := emptyPlan("Yard")
	p.Show = sys
	b := bare(t, p, Asked{Paper: paper, Scale: scale})
	var views []*drawing.View
	if err := b.make(sheet{code: "C3", title: "Layout plan", make: func(b *builder) error {
		return b.planPages(planSheet{bounds: ground, aside: aside, fill: func(q *page, v *drawing.View) error {
			q.add(v)
			views = append(views, v)
			return nil
		}})
	}}); err != nil {
		t.Fatal(err)
	}
	return b, views
}

// shows is the ground of a view.
func shows(v *drawing.View) orb.Bound {
	return orb.Bound{Min: v.ToGround(v.Box.Min), Max: v.ToGround(v.Box.Max)}
}

func TestEveryPaperAtEveryScale(t *testing.T) {
	t.Parallel()
	ground := orb.Bound{Min: orb.Point{-20, -10}, Max: orb.Point{110, 120}} // feet, a corner lot
	for _, sys := range []units.System{units.US, units.Metric} {
		for _, paper := range Papers() {
			for _, s := range append([]Scale{{}}, Scales(sys)...) {
				b, views := planOf(t, sys, paper.ID, s.To, ground, 150)
				where := fmt.Sprintf("%s at %q", paper.Name, s.Name)
				said := saysOn(&b.finish().Document.Pages[0])
				for i, v := range views {
					q := b.pages[i]
					if s.To != 0 && q.says == "" && math.Abs(v.PerFoot-s.perFoot()) > 1e-12 {
						t.Errorf("%s: page %d takes %g points to a foot", where, i+1, v.PerFoot)
					}
					if s.To != 0 && q.says == "" && !strings.Contains(said, "Scale "+s.Name) {
						t.Errorf("%s: the sheet does not say so", where)
					}
					if at, err := scaleNamed(sys, q.scale); err != nil || math.Abs(at.perFoot()-v.PerFoot) > 1e-12 {
						t.Errorf("%s: page %d says %q and takes %g points to a foot", where, i+1, q.scale, v.PerFoot)
					}
					if q.says != "" && !strings.Contains(said, "would take") {
						t.Errorf("%s: another scale without a word", where)
					}
					if s.To == 0 && len(views) > 1 {
						t.Errorf("%s: %d pages where one sheet was asked", where, len(views))
					}
				}
				if len(views) > tilesMost {
					t.Errorf("%s: %d pages", where, len(views))
				}
				if miss := uncovered(ground, views); miss != "" {
					t.Errorf("%s: %s", where, miss)
				}
			}
		}
	}
}

func scaleNamed(sys units.System, name string) (Scale, error) {
	for _, s := range Scales(sys) {
		if s.Name == name {
			return s, nil
		}
	}
	return Scale{}, fmt.Errorf("no scale %q", name)
}

// uncovered says which ground no tile shows.
func uncovered(ground orb.Bound, views []*drawing.View) string {
	const n = 40
	for i := range n + 1 {
		for k := range n + 1 {
			p := orb.Point{ground.Min[0] + (ground.Max[0]-ground.Min[0])*float64(i)/n, ground.Min[1] + (ground.Max[1]-ground.Min[1])*float64(k)/n}
			if !slices.ContainsFunc(views, func(v *drawing.View) bool { return shows(v).Contains(p) }) {
				return fmt.Sprintf("%v is on no page", p)
			}
		}
	}
	return ""
}

func TestTilesCoverAndShare(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		sys := rapid.SampledFrom([]units.System{units.US, units.Metric}).Draw(rt, "units")
		paper := rapid.SampledFrom(Papers()).Draw(rt, "paper")
		scale := rapid.SampledFrom(append([]Scale{{}}, Scales(sys)...)).Draw(rt, "scale")
		at := orb.Point{rapid.Float64Range(-1e6, 1e6).Draw(rt, "x"), rapid.Float64Range(-1e6, 1e6).Draw(rt, "y")}
		ground := orb.Bound{Min: at, Max: orb.Point{at[0] + rapid.Float64Range(0, 3000).Draw(rt, "wide"), at[1] + rapid.Float64Range(0, 3000).Draw(rt, "high")}}
		b, views := planOf(t, sys, paper.ID, scale.To, ground, rapid.SampledFrom([]float64{0, 150}).Draw(rt, "aside"))
		if len(views) > tilesMost {
			rt.Fatalf("%d pages", len(views))
		}
		if miss := uncovered(ground, views); miss != "" {
			rt.Fatal(miss)
		}
		for i, v := range views {
			q := b.pages[i]
			if !(q.room.Min[0] <= v.Box.Min[0] && q.room.Min[1] <= v.Box.Min[1] && v.Box.Max[0] <= q.room.Max[0]+1e-9 && v.Box.Max[1] <= q.room.Max[1]+1e-9) {
				rt.Fatalf("page %d: the drawing stands out of its room", i+1)
			}
			if q.aside.Max[0] > q.aside.Min[0] && v.Box.Max[0] >= q.aside.Min[0] {
				rt.Fatalf("page %d: the drawing stands in the legend", i+1)
			}
			for k := range i {
				o := b.pages[k]
				dr, dc := q.tileAt[0]-o.tileAt[0], q.tileAt[1]-o.tileAt[1]
				if dr*dr+dc*dc != 1 {
					continue
				}
				a, z := shows(v), shows(views[k])
				wide, high := min(a.Max[0], z.Max[0])-max(a.Min[0], z.Min[0]), min(a.Max[1], z.Max[1])-max(a.Min[1], z.Min[1])
				shared := wide
				if dr != 0 {
					shared = high
				}
				if shared*v.PerFoot < 36 {
					rt.Fatalf("pages %d and %d share only %.1f points", k+1, i+1, shared*v.PerFoot)
				}
			}
		}
	})
}

// What joins two tiles stands on the same ground on both: crosses, and the names at the
// ends of their seam.
func TestTilesJoin(t *testing.T) {
	t.Parallel()
	ground := orb.Bound{Max: orb.Point{200, 100}}
	b, views := planOf(t, units.US, Letter, 120, ground, 0)
	if len(views) != 6 {
		t.Fatalf("%d tiles of 200 by 100 ft at 1 in = 10 ft on Letter, not 6", len(views))
	}
	made := b.finish()
	crosses := make([][]orb.Point, len(views))
	for i := range views {
		for _, it := range made.Document.Pages[i].Items {
			if a, is := it.(*drawing.Arc); is && a.Radius == 3 {
				crosses[i] = append(crosses[i], views[i].ToGround(a.Centre))
			}
		}
	}
	for i, q := range b.pages {
		said := saysOn(&made.Document.Pages[i])
		if !strings.Contains(said, "tile "+tileName(q.tileAt[0], q.tileAt[1])+" of 6") || !strings.Contains(said, fmt.Sprintf("page %d of 6", i+1)) {
			t.Errorf("page %d does not say which tile it is:\n%s", i+1, said)
		}
		for k, o := range b.pages {
			dr, dc := q.tileAt[0]-o.tileAt[0], q.tileAt[1]-o.tileAt[1]
			if dr*dr+dc*dc != 1 {
				continue
			}
			if n := strings.Count(said, tileName(o.tileAt[0], o.tileAt[1])); n < 3 { // two ends of the seam, and the key map
				t.Errorf("page %d names its neighbour %d times", i+1, n)
			}
			same := 0
			for _, p := range crosses[i] {
				if slices.ContainsFunc(crosses[k], func(x orb.Point) bool { return math.Hypot(x[0]-p[0], x[1]-p[1]) < 1e-6 }) {
					same++
				}
			}
			if same < 2 {
				t.Errorf("pages %d and %d have %d crosses in common", i+1, k+1, same)
			}
		}
		if s := besideFrame(&made.Document.Pages[i]); s != "" {
			t.Error(s)
		}
	}
}

func TestPlanOfNothingAndOfTheWorld(t *testing.T) {
	t.Parallel()
	for _, ground := range []orb.Bound{
		{}, {Min: orb.Point{5, 5}, Max: orb.Point{-5, -5}}, {Min: orb.Point{7, 7}, Max: orb.Point{7, 7}},
		{Min: orb.Point{0, 0}, Max: orb.Point{0, 50}}, {Min: orb.Point{-1e8, -1e8}, Max: orb.Point{1e8, 1e8}},
	} {
		for _, scale := range []int{0, 48, 2400} {
			b, views := planOf(t, units.US, Letter, scale, ground, 0)
			if len(views) == 0 || len(views) > tilesMost {
				t.Errorf("%v at 1 to %d: %d pages", ground, scale, len(views))
			}
			for _, v := range views {
				if !(v.PerFoot > 0) || math.IsNaN(v.Middle[0]+v.Middle[1]) {
					t.Errorf("%v: %+v", ground, v)
				}
			}
			if q := &b.finish().Document.Pages[0]; !strings.Contains(saysOn(q), "Scale 1") {
				t.Errorf("%v at 1 to %d: no scale is said", ground, scale)
			}
		}
	}
	if tileName(0, 0) != "A1" || tileName(1, 11) != "B12" || tileName(27, 0) != "AB1" {
		t.Error("names of tiles:", tileName(0, 0), tileName(1, 11), tileName(27, 0))
	}
}
