package wire

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// Every plan of the tests is wired, with figures and wires moved about at random, and
// whatever comes of it is finite and hangs together.
func TestPlansAreWired(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/plans/*.json")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d plans, %v", len(files), err)
	}
	more, err := filepath.Glob("../../testdata/plans/mistakes/3*.json")
	if err != nil {
		t.Fatal(err)
	}
	known := 0
	for i, file := range append(files, more...) {
		doc, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		rng := rand.New(rand.NewPCG(9, uint64(i)))
		for range 4 {
			p, err := plan.Decode(doc)
			if err != nil {
				t.Fatal(err)
			}
			disturb(rng, p)
			digs := trench.Of(p, pipework.Of(p))
			w := Of(p, digs)
			Check(p, digs, w)
			for _, r := range w.Runs {
				for _, v := range []float64{float64(r.Length), r.Drop, r.Volts, float64(r.Most), float64(r.Detour)} {
					if math.IsNaN(v) || math.IsInf(v, 0) || r.Known && r.New && r.Length < r.Ground {
						t.Errorf("%s: %+v", file, r)
					}
				}
				if r.Known {
					known++
				} else if r.Missing == "" {
					t.Errorf("%s: %s has no way, and nothing says why", file, r.To)
				}
			}
			for _, s := range w.Stretches {
				if s.Segment >= len(digs.Segments) || s.Conductors+s.Sensors < 2 {
					t.Errorf("%s: %+v", file, s)
				}
			}
			if w.Says == "" {
				t.Errorf("%s: nothing is said", file)
			}
		}
	}
	if known < 20 {
		t.Errorf("only %d valves were wired", known)
	}
}

// disturb changes what wiring is reckoned from.
func disturb(rng *rand.Rand, p *plan.Plan) {
	p.Options.Figures = map[plan.ID]plan.Figure{}
	for _, row := range plan.FigureRows() {
		if row.Group == "wire" && rng.IntN(4) == 0 {
			p.Options.Figures[row.ID] = plan.Figure{Value: []float64{0, row.Usual, row.Most}[rng.IntN(3)]}
		}
	}
	p.Wiring = plan.Wiring{Cable: []string{"", Single, Multi}[rng.IntN(3)], HotAWG: []int{0, 18, 8}[rng.IntN(3)], CommonAWG: []int{0, 18, 12}[rng.IntN(3)]}
	for _, id := range plan.SortedIDs(p.Zones) {
		z := p.Zones[id]
		if rng.IntN(6) == 0 {
			z.Status = []plan.Status{plan.Existing, plan.Remove}[rng.IntN(2)]
		}
		if z.ValveAt != nil && rng.IntN(3) == 0 {
			z.ValveAt = &plan.Spot{X: z.ValveAt.X + units.Feet(rng.Float64()*8-4), Y: z.ValveAt.Y}
		}
		if rng.IntN(4) == 0 {
			z.Station = rng.IntN(4)
		}
		p.Zones[id] = z
	}
	if rng.IntN(8) == 0 {
		p.Controller.At = nil
	}
}
