package pipesize

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/units"
)

// inside are the inside diameters of Class 200 pipe, 1/2 in to 3 in: hydraulics.md, pipe dimensions.
var (
	nominal = []float64{0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3}
	inside  = []float64{0.696, 0.910, 1.169, 1.482, 1.700, 2.129, 2.581, 3.146}
)

// randomTree is a tree with flows that add up, sizes under 5 ft/s where there
// are any, and limits near to what binds.
func randomTree(r *rand.Rand, pipes, sizes int) *Tree {
	t := &Tree{Inlet: units.PSI(35 + 10*r.Float64()), Pipes: make([]Branch, pipes)}
	zones := 1 + r.IntN(2)
	for range zones {
		s := Spread{Most: units.PSI(math.Inf(1))}
		if r.IntN(3) > 0 {
			s.Most = units.PSI(1 + 6*r.Float64())
		}
		t.Zones = append(t.Zones, s)
	}
	kids, rooted := make([]int, pipes), 0
	for i := range t.Pipes {
		b := &t.Pipes[i]
		b.Up = r.IntN(i+1) - 1
		if r.IntN(3) > 0 && i > 0 {
			b.Up = i - 1
		}
		if b.Zone = rooted; b.Zone == zones || r.IntN(2) == 0 {
			b.Zone = -1
		}
		if b.Up >= 0 {
			kids[b.Up]++
			if z := t.Pipes[b.Up].Zone; z >= 0 {
				b.Zone = z
			}
		}
		if b.Zone == rooted {
			rooted++
		}
	}
	flow := make([]float64, pipes)
	for i := pipes - 1; i >= 0; i-- {
		b := &t.Pipes[i]
		if kids[i] == 0 || r.IntN(2) == 0 {
			flow[i] += 1 + 3*r.Float64()
			b.Out = &Out{Least: 30, Most: units.PSI(math.Inf(1)), After: units.PSI(r.Float64()), Spread: r.IntN(4) > 0}
			if r.IntN(4) == 0 {
				b.Out.Least = units.PSI(25 + 10*r.Float64())
			}
			if r.IntN(6) == 0 {
				b.Out.Most = b.Out.Least + units.PSI(8*r.Float64())
			}
		}
		if b.Up >= 0 {
			flow[b.Up] += flow[i]
		}
		b.Sizes = sized(flow[i], 10+50*r.Float64(), 2*r.Float64()-1, r.IntN(len(nominal)-sizes+1), sizes)
		if r.IntN(8) == 0 { // locked
			k := r.IntN(len(b.Sizes))
			b.Sizes = b.Sizes[k : k+1]
		}
	}
	return t
}

// sized are sizes of a pipe with the loss by hydraulics.md a2 and a cost by plastic.
func sized(gpm, ft, rise float64, from, n int) []Size {
	var all []Size
	for k := from; k < from+n; k++ {
		d := inside[k]
		loss := 4.52 * math.Pow(gpm, 1.85) / math.Pow(150, 1.85) / math.Pow(d, 4.87) * ft
		if v := 0.4085 * gpm / d / d; v > 5 && k < from+n-1 {
			continue
		}
		all = append(all, Size{Rank: nominal[k], Cost: ft * (0.1 + 0.3*d*d), Loss: units.PSI(loss + 0.433*rise)})
	}
	return all
}

// The search against trying every choice, on trees up to 8 pipes and 4 sizes
// (65,536 choices): an oracle that shares no code with it.
func TestLeastCostIsThatOfTryingEveryChoice(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 60))
	held, none, spread := 0, 0, 0
	for n := range 600 {
		pipes, sizes := 1+r.IntN(6), 2+r.IntN(3)
		if n%20 == 0 {
			pipes, sizes = 8, 4
		}
		tree := randomTree(r, pipes, sizes)
		tree.Free = r.IntN(6) == 0
		want := exhaustive(tree)
		a, ok, err := Cheapest(context.Background(), tree)
		switch {
		case err != nil:
			t.Fatal(err)
		case ok != !math.IsInf(want, 1):
			t.Fatalf("tree %d: found %v, every choice gives %g", n, ok, want)
		case !ok:
			none++
		default:
			held++
			if math.Abs(a.Cost-want) > 1e-9*want || !holds(tree, a.Sizes) || a.Above != 0 {
				t.Fatalf("tree %d: cost %g above %g, want %g, holds %v", n, a.Cost, a.Above, want, holds(tree, a.Sizes))
			}
			if !math.IsInf(float64(tree.Zones[0].Most), 1) {
				spread++
			}
		}
	}
	if held < 150 || none < 50 || spread < 50 {
		t.Errorf("the trees are not varied enough: %d hold, %d do not, %d with a spread", held, none, spread)
	}
}

// A search that has to stop short still answers with a choice that holds, and
// says how far from the least it may be.
func TestAShortSearchHoldsAndSaysHowFarItMayBe(t *testing.T) {
	short := 0
	for _, inlet := range []float64{33.8, 34, 35, 37} {
		tree := benchTree(inlet)
		exact, found, err := Cheapest(context.Background(), tree)
		if err != nil || !found {
			t.Fatal(found, err)
		}
		for looks := 500; looks < 1<<18; looks *= 3 {
			a, ok, err := cheapest(context.Background(), tree, looks, func(float64) {})
			if errors.Is(err, ErrLarge) {
				continue
			}
			if err != nil || !ok {
				t.Fatalf("at %g psi with %d looks: found %v, %v", inlet, looks, ok, err)
			}
			if !holds(tree, a.Sizes) || a.Cost < exact.Cost-1e-9 || a.Cost-a.Above > exact.Cost+1e-9 {
				t.Fatalf("holds %v, cost %g, said to be at most %g above the least, which is %g", holds(tree, a.Sizes), a.Cost, a.Above, exact.Cost)
			}
			if a.Above > 0 {
				short++
			}
		}
	}
	if short == 0 {
		t.Error("no search was short")
	}
}

func TestASearchThatIsCalledOffEnds(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	tree := benchTree(40)
	if _, _, err := Cheapest(ctx, tree); !errors.Is(err, context.Canceled) {
		t.Errorf("it ended with %v", err)
	}
}

func FuzzCheapest(f *testing.F) {
	f.Add(uint64(1), uint8(5), uint8(3))
	f.Add(uint64(9), uint8(8), uint8(4))
	f.Fuzz(func(t *testing.T, seed uint64, pipes, sizes uint8) {
		tree := randomTree(rand.New(rand.NewPCG(seed, 0)), 1+int(pipes%6), 1+int(sizes%4))
		want := exhaustive(tree)
		a, ok, err := Cheapest(context.Background(), tree)
		if err != nil || ok == math.IsInf(want, 1) || ok && (math.Abs(a.Cost-want) > 1e-9*want || !holds(tree, a.Sizes)) {
			t.Fatalf("%v, found %v at %g; every choice gives %g", err, ok, a.Cost, want)
		}
	})
}
