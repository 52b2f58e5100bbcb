package packs

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"evenfall/internal/design"
	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// The sleeve drawing of the demo is kept as it is. Regenerate with:
// go test ./internal/packs -run Golden -update
func TestGoldenSleeveDrawing(t *testing.T) {
	t.Parallel()
	const path = "../../testdata/golden/demo-sleeves.svg"
	var b bytes.Buffer
	if err := sleeveDrawing(&b, demoInput(t)); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(b.String(), "\n")); diff != "" {
		t.Errorf("%s differs (go test ./internal/packs -run Golden -update; -want +got):\n%s", path, diff)
	}
}

// No two texts of the drawing lie on one another, whatever is paved, all are on the
// page, and the same plan has the same drawing.
func TestWordsOfTheSleeveDrawingLieApart(t *testing.T) {
	t.Parallel()
	for seed := range uint64(10) {
		in := pavedAtRandom(rand.New(rand.NewPCG(seed, 7)))
		b, err := newBuilder(t.Context(), in, Asked{Kind: Crew})
		if err != nil {
			t.Fatal(err)
		}
		sheet := b.sleeveSheet()
		q := sheet.page()
		n := wordsApart(t, fmt.Sprintf("seed %d", seed), q)
		if n < 20 {
			t.Errorf("seed %d: %d texts only", seed, n)
		}
		var one, two bytes.Buffer
		for _, w := range []*bytes.Buffer{&one, &two} {
			if err := sleeveDrawing(w, in); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(one.Bytes(), two.Bytes()) {
			t.Fatalf("seed %d: the drawing differs the second time", seed)
		}
	}
}

// wordsApart holds that no two texts of a page lie on one another, and counts them.
func wordsApart(t *testing.T, name string, q *drawing.Page) int {
	t.Helper()
	var texts []*drawing.Text
	var collect func(items []drawing.Item)
	collect = func(items []drawing.Item) {
		for _, i := range items {
			switch v := i.(type) {
			case *drawing.Text:
				texts = append(texts, v)
			case *drawing.Layer:
				collect(v.Items)
			}
		}
	}
	collect(q.Items)
	rooms := make([]orb.Bound, len(texts))
	for i, a := range texts {
		if a.TurnDeg != 0 {
			t.Fatalf("%s: %q is turned", name, a.S)
		}
		c := a.Corners(a.At)
		rooms[i] = orb.Bound{Min: c[0], Max: c[2]}
		if rooms[i].Min[0] < 0 || rooms[i].Min[1] < 0 || rooms[i].Max[0] > q.Width || rooms[i].Max[1] > q.Height {
			t.Errorf("%s: %q runs off the page", name, a.S)
		}
		for k := range texts[:i] {
			if o := rooms[k]; rooms[i].Min[0] < o.Max[0] && o.Min[0] < rooms[i].Max[0] && rooms[i].Min[1]+1 < o.Max[1] && o.Min[1]+1 < rooms[i].Max[1] {
				t.Errorf("%s: %q at %v lies over %q at %v", name, a.S, a.At, texts[k].S, texts[k].At)
			}
		}
	}
	return len(texts)
}

// A plan without paving to cross gives a page that says so.
func TestSleeveDrawingWithoutSleevesSaysSo(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := sleeveDrawing(&b, designed(t, plan.Empty("Nothing", units.US))); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"No pipe or wire goes under paving", "Have buried lines located"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("it does not say %q", want)
		}
	}
}

// pavedAtRandom has many sleeves under walks that lie across one another.
func pavedAtRandom(rng *rand.Rand) Input {
	p := &plan.Plan{
		Name: "Paved & <measured>", Show: []units.System{units.US, units.Metric}[rng.IntN(2)],
		Areas: map[plan.ID]plan.Area{}, Sleeves: map[plan.ID]plan.Sleeve{}, Pipes: map[plan.ID]plan.Pipe{},
	}
	p.Site.NorthDeg = units.Degrees(rng.IntN(360))
	d := &trench.Digs{}
	side := 20 + rng.Float64()*150
	for i := range 1 + rng.IntN(4) {
		id := plan.ID(fmt.Sprintf("a%d", i))
		x, y, w, h := rng.Float64()*side, rng.Float64()*side, 3+rng.Float64()*side/2, 3+rng.Float64()*6
		a := plan.Area{Name: "Paving number " + fmt.Sprint(i), Kind: plan.Paving, Outline: geom.Outline{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}}
		if rng.IntN(3) == 0 {
			a.Outline[1].Bulge = 0.4
		}
		p.Areas[id] = a
		for range 1 + rng.IntN(6) {
			at := x + rng.Float64()*w
			c := trench.Crossing{Area: id, From: orb.Point{at, y}, To: orb.Point{at, y + h}, Length: units.Feet(h), New: true, Cover: 18}
			for k := range 1 + rng.IntN(3) {
				n := trench.Need{Carries: []string{"pipe", "wire", "spare"}[k], Nominal: 2}
				if rng.IntN(2) == 0 {
					sleeve := plan.ID(fmt.Sprintf("s%d", len(p.Sleeves)))
					off := at + rng.Float64()
					p.Sleeves[sleeve] = plan.Sleeve{From: plan.Spot{X: units.Feet(off), Y: units.Feet(y - 1)}, To: plan.Spot{X: units.Feet(off), Y: units.Feet(y + h + rng.Float64())}, NominalIn: 2, Carries: n.Carries}
					n.Sleeve, c.Sleeves = sleeve, append(c.Sleeves, sleeve)
				}
				c.Needs = append(c.Needs, n)
			}
			d.Crossings = append(d.Crossings, c)
		}
	}
	return Input{Plan: p, Design: &design.Design{Digs: d, Pressure: &pressure.Result{}}}
}
