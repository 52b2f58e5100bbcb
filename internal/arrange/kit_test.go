package arrange

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// lawnPlan is a plan of one planting area w by d feet, and its ground by hand.
func lawnPlan(w, d float64) (*plan.Plan, *ground) {
	p := plan.Empty("lawn", units.US)
	p.Supply = plan.Supply{Kind: plan.TownMeter}
	o := geom.Outline{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: d}, {X: 0, Y: d}}
	p.Areas = map[plan.ID]plan.Area{"lawn": {Name: "Lawn", Kind: plan.Planting, Outline: o, Planting: plan.Turf}}
	p.Heads, p.Nozzles, p.Bodies = map[plan.ID]plan.Head{}, map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{}
	shape := orb.MultiPolygon{{o.Ring()}}
	return p, &ground{id: "lawn", name: "Lawn", cover: plan.Turf, shape: shape, widest: units.Feet(min(w, d)), typical: units.Feet(min(w, d))}
}

func kitOf(t *testing.T, kits []*kit, f catalog.Family) *kit {
	t.Helper()
	for _, k := range kits {
		if k.family == f {
			return k
		}
	}
	t.Fatalf("no kit of %s", f)
	return nil
}

func (k *kit) settings() []setting {
	out := slices.Clone(k.strips)
	for _, s := range k.at {
		if s != nil {
			out = append(out, *s)
		}
	}
	return out
}

// Whatever is set from one kit is matched, as the finding of mixed rates has it:
// within 10 % of any middle.
func TestE24_KitHoldsOneRate(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]float64{{40, 5}, {40, 12}, {40, 24}, {80, 60}} {
		p, g := lawnPlan(size[0], size[1])
		for _, o := range []Options{Usual(), {AngleStep: 5, ThrowStep: 0.5}} {
			kits, why := kitsFor(p, g, o)
			if why != "" || len(kits) == 0 {
				t.Fatalf("%v: no kits: %s", size, why)
			}
			for _, k := range kits {
				for _, s := range k.settings() {
					if math.Abs(float64(s.rate/k.rate)-1) > 0.1+1e-9 {
						t.Errorf("%s %g° %g ft puts down %.3f where the class has %.3f", s.nozzle, s.sweep, s.throw, s.rate, k.rate)
					}
					n, _ := nozzleRow(p, s.nozzle)
					b, _ := bodyRow(p, s.body)
					if !b.Fits(n) || s.fall == nil || n.Family != k.family {
						t.Errorf("%s in %s does not fit the kit of %s", s.nozzle, s.body, k.family)
					}
					table, _, _ := n.At(n.BestPSI)
					if s.throw < table*3/4-1e-9 || s.turned != (s.throw < table) {
						t.Errorf("%s is set to %g ft of %g", s.nozzle, s.throw, table)
					}
					whole := math.Mod(float64(s.throw)/float64(o.ThrowStep)+1e-9, 1) < 1e-6
					if s.turned && !whole {
						t.Errorf("%s is turned down to %g ft, no whole step of %g", s.nozzle, s.throw, o.ThrowStep)
					}
				}
			}
		}
	}
}

// A gear rotor's flow is its nozzle's whatever the arc: 0.75, 1.5 and 3.0 gpm on a
// quarter, a half and a full circle of 30 ft.
func TestE7_RotorNozzleGoesByArc(t *testing.T) {
	t.Parallel()
	p, g := lawnPlan(100, 60)
	kits, _ := kitsFor(p, g, Usual())
	k := kitOf(t, kits, catalog.Rotor)
	throw := slices.Index(k.throws, 30)
	for sweep, want := range map[units.Degrees]plan.ID{90: "rotor-30-0_75", 180: "rotor-30-1_5", 360: "rotor-30-3"} {
		s := k.set(slices.Index(k.sweeps, sweep), throw)
		if s == nil || s.nozzle != want {
			t.Errorf("%g°: %+v, want %s", sweep, s, want)
		}
	}
	if kits[0].family != catalog.Rotor {
		t.Errorf("60 ft of lawn is given %s first", kits[0].family)
	}
}

// Fixed nozzles come before adjustable ones where the arc is theirs or lies
// within 5° of theirs.
func TestE8_FixedNozzlesFirst(t *testing.T) {
	t.Parallel()
	p, g := lawnPlan(40, 15)
	kits, _ := kitsFor(p, g, Options{AngleStep: 5, ThrowStep: 1})
	k := kitOf(t, kits, catalog.Spray)
	ten := slices.Index(k.throws, 10)
	for _, tt := range []struct {
		sweep units.Degrees
		want  plan.ID // "" for none
	}{{90, "spray-10-q"}, {180, "spray-10-h"}, {85, ""}, {95, ""}, {100, "spray-10-adj"}, {360, "spray-10-f"}} {
		i := slices.Index(k.sweeps, tt.sweep)
		var got plan.ID
		if i >= 0 && k.set(i, ten) != nil {
			got = k.set(i, ten).nozzle
		}
		if got != tt.want {
			t.Errorf("%g°: nozzle %q, want %q", tt.sweep, got, tt.want)
		}
	}
}

// Stream nozzles go by their arc classes.
func TestE8_StreamsGoByArcClass(t *testing.T) {
	t.Parallel()
	p, g := lawnPlan(60, 25)
	kits, _ := kitsFor(p, g, Usual())
	k := kitOf(t, kits, catalog.Stream)
	for sweep, want := range map[units.Degrees]plan.ID{90: "stream-20", 180: "stream-20", 255: "stream-20-270", 360: "stream-20-360"} {
		s := k.set(slices.Index(k.sweeps, sweep), slices.Index(k.throws, 20))
		if s == nil || s.nozzle != want {
			t.Errorf("%g°: %+v, want %s", sweep, s, want)
		}
	}
	if i := slices.Index(k.sweeps, 60); i >= 0 {
		t.Error("streams are not made for 60°")
	}
}

// Pop-ups stand as tall as what grows asks for, regulated where the supply may
// bring more than the nozzle works at, with check valves on falling ground.
func TestBodiesByCoverPressureAndFall(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		cover  plan.Cover
		mow    units.Inches
		static units.PSI
		fall   units.Feet
		family catalog.Family
		want   plan.ID
	}{
		{"turf", plan.Turf, 3, 0, 0, catalog.Spray, "body-4"},
		{"turf left long", plan.Turf, 3.5, 0, 0, catalog.Spray, "body-6"},
		{"flowers", plan.Flowers, 0, 0, 0, catalog.Spray, "body-12"},
		{"high pressure", plan.Turf, 3, 62, 0, catalog.Spray, "body-4-reg"},
		{"streams take more", plan.Turf, 3, 62, 0, catalog.Stream, "body-4"},
		{"streams, very high", plan.Turf, 3, 75, 0, catalog.Stream, "body-4-reg40"},
		{"falling ground", plan.Turf, 3, 0, 2, catalog.Spray, "body-4-check"},
		{"nearly level", plan.Turf, 3, 0, 0.3, catalog.Spray, "body-4"},
		{"rotors", plan.Turf, 3, 0, 0, catalog.Rotor, "body-rotor-4"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p, g := lawnPlan(60, 40)
			a := p.Areas["lawn"]
			a.Planting, a.MowHeightIn = tt.cover, tt.mow
			p.Areas["lawn"], g.cover = a, tt.cover
			p.Supply.StaticPSI = tt.static
			p.Elevations = map[plan.ID]plan.Elevation{"a": {X: 0, Y: 0, Z: 0}, "b": {X: 60, Y: 40, Z: tt.fall}, "c": {X: 0, Y: 40, Z: 0}}
			kits, why := kitsFor(p, g, Options{Families: []catalog.Family{tt.family}, AngleStep: 15, ThrowStep: 1})
			if why != "" {
				t.Fatal(why)
			}
			if got := kitOf(t, kits, tt.family).settings()[0].body; got != tt.want {
				t.Errorf("body %s, want %s", got, tt.want)
			}
		})
	}
}

// Heads that stay fix the rate of all others, and two rates that stay are refused.
func TestStayingHeadsFixTheRate(t *testing.T) {
	t.Parallel()
	p, g := lawnPlan(40, 25)
	put := func(id, nozzle plan.ID) {
		p.Nozzles[nozzle], _ = catalog.FindNozzle(string(nozzle))
		p.Bodies["body-4"], _ = catalog.FindBody("body-4")
		p.Heads[id] = plan.Head{Nozzle: nozzle, Body: "body-4", X: 1, Y: 1, SweepDeg: 90, Status: plan.Existing}
		g.stays = append(g.stays, id)
	}
	put("a", "spray-15-q")
	kits, why := kitsFor(p, g, Usual())
	if why != "" || len(kits) != 1 || kits[0].family != catalog.Spray {
		t.Fatalf("beside a spray that stays: %d kits, %s", len(kits), why)
	}
	o := Usual()
	o.Families = []catalog.Family{catalog.Stream}
	if kits, why := kitsFor(p, g, o); len(kits) > 0 || why == "" {
		t.Errorf("streams beside a spray that stays: %d kits, %q", len(kits), why)
	}
	put("b", "stream-20")
	if kits, why := kitsFor(p, g, Usual()); len(kits) > 0 || why == "" {
		t.Errorf("two rates that stay: %d kits, %q", len(kits), why)
	}
}

// A stock whose shortest throw is far more than the ground is wide is refused in
// words, and so is one that nobody has.
func TestStockThatCannotServe(t *testing.T) {
	t.Parallel()
	p, g := lawnPlan(40, 8)
	for _, stock := range [][]plan.ID{{"stream-25"}, {"rotor-30-3"}, {"no-such"}} {
		if kits, why := kitsFor(p, g, Options{Stock: stock, AngleStep: 15, ThrowStep: 1}); len(kits) > 0 || why == "" {
			t.Errorf("%v: %d kits, %q", stock, len(kits), why)
		}
	}
}

// Narrow ground gets strips and small sprays, wider ground sprays, then streams,
// then rotors; what the user asks for wins.
func TestFamilyByWidth(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		width float64
		cover plan.Cover
		want  catalog.Family
	}{{5, plan.Turf, catalog.Strip}, {12, plan.Turf, catalog.Spray}, {25, plan.Turf, catalog.Stream}, {25, plan.Shrubs, catalog.Spray}, {50, plan.Turf, catalog.Rotor}} {
		p, g := lawnPlan(80, tt.width)
		g.cover = tt.cover
		kits, why := kitsFor(p, g, Usual())
		if why != "" || kits[0].family != tt.want || kits[0].why == "" {
			t.Errorf("%g ft of %s: first %s (%s), want %s", tt.width, tt.cover, kits[0].family, why, tt.want)
		}
		o := Usual()
		o.Families = []catalog.Family{catalog.Spray}
		if kits, why := kitsFor(p, g, o); why != "" || kits[0].family != catalog.Spray {
			t.Errorf("%g ft, sprays asked for: %s", tt.width, why)
		}
	}
}
