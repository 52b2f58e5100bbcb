package coverage

import (
	"math"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// jet is a yard with one nozzle of R 30 ft at 25° on the ground, and a straight
// hedge across its way, d feet off.
func jet(d, height float64) *yard {
	y := newYard().area("lawn", plan.Planting, -50, -50, 50, -50, 50, 50, -50, 50)
	y.nozzle("n", 30, 0.5, linear)
	y.hedge("hedge", height, d, -40, d, 40)
	return y
}

func (y *yard) hedge(id plan.ID, height, x0, y0, x1, y1 float64) {
	y.Barriers[id] = plan.Barrier{Kind: plan.Hedge, Line: geom.Line{{X: x0, Y: y0}, {X: x1, Y: y1}}, HeightFt: units.Feet(height)}
}

// The stream of the trade's example, trade.md E13 as computed there: at 25° and
// R 30 ft its top is 3.5 ft, and 20 ft out it is 3.1 ft up. By hand, 30/4·tan 25°
// and 20·tan 25°/3.
func TestRowE13_TheStreamsHeight(t *testing.T) {
	s := setting{throw: 30, trajectory: 25}
	near(t, "top", s.heightAt(15), 3.5, 0.05)
	near(t, "20 ft out", s.heightAt(20), 3.1, 0.05)
	near(t, "top by hand", s.heightAt(15), 7.5*math.Tan(25*math.Pi/180), 1e-12)
	near(t, "20 ft out by hand", s.heightAt(20), 20.0/3*math.Tan(25*math.Pi/180), 1e-12)
	if s.heightAt(31) != 0 || s.heightAt(0) != 0 {
		t.Error("the stream is up before it leaves or after it has come down")
	}
	s.height = 0.5
	near(t, "from a nozzle 6 in up", s.heightAt(15), 0.5+7.5*math.Tan(25*math.Pi/180), 1e-12)
}

// "A 3 ft hedge stops little; a 6 ft fence stops all" (trade.md E13): of a narrow
// stream square to the hedge 15 ft off, under its top, a 3 ft hedge stops nothing
// and a 6 ft fence all that would fall beyond it.
func TestRowE13_LowHedgesAreCleared(t *testing.T) {
	for _, c := range []struct {
		d, height float64
		does      string
		lost      float64
	}{
		{15, 3, StreamPasses, 0},
		{15, 6, StreamStopped, 0.5}, // ∫ρ(1-ρ) from ½ to 1 is half of all
		{20, 3, StreamPasses, 0},
		{20, 3.2, StreamStopped, 7.0 / 27}, // from ⅔ to 1: 1 - 3·4/9 + 2·8/27
		{5, 3, StreamStopped, 0},           // not up yet: 1.9 ft
	} {
		y := jet(c.d, c.height)
		y.head("n", 0, 0, 359, 2)
		b := compute(t, y).Barriers
		if len(b) != 1 || b[0].ID != "hedge" || float64(b[0].TopFt) != c.height || len(b[0].Heads) != 1 {
			t.Fatalf("%g ft off, %g ft high: %+v", c.d, c.height, b)
		}
		got := b[0].Heads[0]
		if got.Does != c.does || got.Head != "h001" {
			t.Errorf("%g ft off, %g ft high: %+v, want %s", c.d, c.height, got, c.does)
		}
		if c.lost > 0 || c.does == StreamPasses {
			near(t, "lost", float64(got.Lost), c.lost, 0.002)
		}
		near(t, "distance", float64(got.NearFt), c.d, 0.01)
		want := c.d * math.Tan(25*math.Pi/180) * (1 - c.d/30)
		near(t, "stream", float64(got.MostFt), want, 0.02)
		near(t, "stream at its lowest", float64(got.LeastFt), want, 0.02)
	}
}

// A half circle at a long hedge: it clears it where it is near its top and not
// towards the ends, and what it does agrees with the ledger.
func TestRowE13_PartlyCleared(t *testing.T) {
	y := jet(15, 3)
	y.head("n", 0, 0, 270, 180)
	r := compute(t, y)
	c := r.Barriers[0].Heads[0]
	if c.Does != StreamPartly {
		t.Fatalf("%+v", c)
	}
	near(t, "nearest", float64(c.NearFt), 15, 1e-6)
	near(t, "farthest", float64(c.FarFt), 30, 1e-6)
	near(t, "highest", float64(c.MostFt), 3.497, 0.001)
	near(t, "lowest", float64(c.LeastFt), 0, 1e-6)
	if len(r.Stopped) != 1 {
		t.Fatalf("stopped: %+v", r.Stopped)
	}
	near(t, "lost as in the ledger", float64(c.Lost*units.Ratio(r.FlowGPM)), float64(r.Stopped[0].GPM), 1e-12)
}

// Heads that look away, that do not reach, or that a house hides have nothing to
// do with a hedge; a strip has where its rectangle meets it.
func TestRowE13_WhoHasToDoWithABarrier(t *testing.T) {
	y := jet(12, 2)
	y.area("house", plan.Building, 5, -30, 8, -30, 8, -10, 5, -10)
	y.stripNozzle("strip", 15, 1, catalog.StripShape{Ahead: true, Left: 2, Right: 2})
	ahead := y.head("n", 0, 0, 330, 60)
	y.head("n", 0, 5, 90, 180)    // looks away
	y.head("n", -25, 0, 300, 120) // 37 ft off
	y.head("n", 0, -20, 355, 10)  // the house stands between
	strip := y.head("strip", 0, 10, 0, 0)
	y.head("strip", 0, 20, 90, 0) // along the hedge
	got := map[plan.ID]bool{}
	for _, c := range compute(t, y).Barriers[0].Heads {
		got[c.Head] = true
	}
	if len(got) != 2 || !got[ahead] || !got[strip] {
		t.Errorf("heads at the hedge: %v", got)
	}
}

// What a field says of barriers does not depend on the edits that led to a plan:
// heads, hedges and their heights change one after another.
func TestRowE13_AfterEditsAsFresh(t *testing.T) {
	y := jet(15, 3)
	y.head("n", 0, 0, 270, 180)
	y.head("n", 30, 5, 90, 180)
	f := New()
	check := func(what string) {
		t.Helper()
		r, _, err := f.Update(t.Context(), &y.Plan)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := string(asJSON(t, r)), string(asJSON(t, compute(t, y))); got != want {
			t.Errorf("%s: %s, afresh %s", what, got, want)
		}
	}
	check("at first")
	y.hedge("a-low-wall", 1, -10, -10, -10, 10) // comes first: all are numbered anew
	check("a wall more")
	y.hedge("hedge", 1.5, 15, -40, 15, 40)
	check("the hedge cut")
	delete(y.Barriers, "a-low-wall")
	check("the wall gone")
	h := y.Heads["h001"]
	h.X = 4
	y.Heads["h001"] = h
	check("a head moved")
	delete(y.Barriers, "hedge")
	check("no hedge")
}
