package hydraulics

import (
	"errors"
	"math"
	"strings"
	"testing"

	"evenfall/internal/units"
)

// ringing is an outlet that lets out more at less pressure.
type ringing struct{}

func (ringing) Flow(p units.PSI) (units.GPM, float64) {
	if p <= 0 {
		return 0, 0
	}
	return units.GPM(1 / p), 0
}

// rising is a source with more pressure at more flow.
type rising struct{}

func (rising) Pressure(q units.GPM) (units.PSI, float64) { return 50 + units.PSI(q), 1 }

// oneWay is a law that loses nothing backwards.
type oneWay struct{}

func (oneWay) Loss(q units.GPM) (units.PSI, float64) { return units.PSI(max(q, 0)), 1 }

// plain is a network that is good: a source, a joint, a head.
func plain() *Network {
	return &Network{
		Nodes: []Node{{Source: Fixed(60)}, {}, {Outlet: OrificeThrough(3, 30)}},
		Links: []Link{{0, 1, NewPipe(10, 1, 150, 0)}, {1, 2, NewPipe(10, 1, 150, 0)}},
	}
}

// Every network that has no one solution is refused by a sentence that names the
// place, says what is wrong and what to do.
func TestWhatCannotBeSolvedIsRefusedInASentence(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	cases := []struct {
		name       string
		spoil      func(n *Network)
		node, link int
		says       string
	}{
		{"no nodes", func(n *Network) { *n = Network{} }, -1, -1, "no nodes"},
		{"no source", func(n *Network) { n.Nodes[0].Source = nil }, -1, -1, "no source"},
		{"loose node", func(n *Network) { n.Links = n.Links[:1] }, 2, -1, "no way to a source"},
		{"link to nowhere", func(n *Network) { n.Links[1].To = 3 }, -1, 1, "nodes go from 0 to 2"},
		{"link before the first", func(n *Network) { n.Links[1].From = -1 }, -1, 1, "nodes go from 0 to 2"},
		{"link to itself", func(n *Network) { n.Links[1].To = 1 }, -1, 1, "to itself"},
		{"no law", func(n *Network) { n.Links[0].Law = nil }, -1, 0, "no pipe"},
		{"pipe without diameter", func(n *Network) { n.Links[0].Law = NewPipe(10, 0, 150, 0) }, -1, 0, "inside diameter"},
		{"pipe of negative diameter", func(n *Network) { n.Links[0].Law = NewPipe(10, -1, 150, 0) }, -1, 0, "inside diameter"},
		{"pipe of negative length", func(n *Network) { n.Links[0].Law = NewPipe(-10, 1, 150, 0) }, -1, 0, "length"},
		{"pipe without roughness", func(n *Network) { n.Links[0].Law = NewPipe(10, 1, 0, 0) }, -1, 0, "roughness"},
		{"negative fittings", func(n *Network) { n.Links[0].Law = NewPipe(10, 1, 150, -2) }, -1, 0, "fittings"},
		{"pipe of no number", func(n *Network) { n.Links[0].Law = NewPipe(feet(nan), 1, 150, 0) }, -1, 0, "length"},
		{"pipe made by hand", func(n *Network) { n.Links[0].Law = Pipe{} }, -1, 0, "length"},
		{"hair of a pipe", func(n *Network) { n.Links[0].Law = NewPipe(20000, 0.02, 150, 0) }, -1, 0, "inside diameter"},
		{"device made by hand", func(n *Network) { n.Links[0].Law = Curve{} }, -1, 0, "without points"},
		{"one-way law", func(n *Network) { n.Links[0].Law = oneWay{} }, -1, 0, "alike both ways"},
		{"elevation of no number", func(n *Network) { n.Nodes[1].Elevation = feet(nan) }, 1, -1, "elevation"},
		{"elevation without end", func(n *Network) { n.Nodes[1].Elevation = feet(-inf) }, 1, -1, "elevation"},
		{"demand of no number", func(n *Network) { n.Nodes[1].Demand = gpm(nan) }, 1, -1, "draws"},
		{"demand of a river", func(n *Network) { n.Nodes[1].Demand = 1e9 }, 1, -1, "draws"},
		{"orifice of no number", func(n *Network) { n.Nodes[2].Outlet = OrificeThrough(3, 0) }, 2, -1, "lets out"},
		{"orifice that sucks", func(n *Network) { n.Nodes[2].Outlet = Orifice{-1, .5} }, 2, -1, "lets out"},
		{"orifice without power", func(n *Network) { n.Nodes[2].Outlet = Orifice{1, 0} }, 2, -1, "power"},
		{"table made by hand", func(n *Network) { n.Nodes[2].Outlet = Table{} }, 2, -1, "without rows"},
		{"regulator of nothing", func(n *Network) { n.Nodes[2].Outlet = Regulated{Setting: 30} }, 2, -1, "not said"},
		{"regulator at nothing", func(n *Network) { n.Nodes[2].Outlet = Regulated{Nozzle: Orifice{1, .5}} }, 2, -1, "setting"},
		{"nothing among outlets", func(n *Network) { n.Nodes[2].Outlet = Outlets{Orifice{1, .5}, nil} }, 2, -1, "not said"},
		{"outlet that falls", func(n *Network) { n.Nodes[2].Outlet = ringing{} }, 2, -1, "never fall"},
		{"source that rises", func(n *Network) { n.Nodes[0].Source = rising{} }, 0, -1, "never rise"},
		{"source of no number", func(n *Network) { n.Nodes[0].Source = Fixed(nan) }, 0, -1, "must be a number"},
		{"source of a volcano", func(n *Network) { n.Nodes[0].Source = Fixed(1e6) }, 0, -1, "at most"},
		{"supply made by hand", func(n *Network) { n.Nodes[0].Source = Supply{} }, 0, -1, "must be a number"},
		{"test without flow", func(n *Network) { n.Nodes[0].Source = HydrantTest{60, 50, 0} }, 0, -1, "measured"},
		{"test that rises", func(n *Network) { n.Nodes[0].Source = HydrantTest{50, 60, 10} }, 0, -1, "measured"},
		{"regulator without supply", func(n *Network) { n.Nodes[0].Source = Capped{Setting: 50} }, 0, -1, "not said"},
		{"regulator of no number", func(n *Network) { n.Nodes[0].Source = Capped{Fixed(60), psi(nan), 0} }, 0, -1, "regulated"},
		{"devices without supply", func(n *Network) { n.Nodes[0].Source = After{} }, 0, -1, "not said"},
		{"a device that is none", func(n *Network) { n.Nodes[0].Source = After{Supply: Fixed(60), Laws: []Law{nil}} }, 0, -1, "no pipe"},
	}
	if _, err := Solve(plain(), nil); err != nil {
		t.Fatalf("the plain network is good: %v", err)
	}
	for _, c := range cases {
		n := plain()
		c.spoil(n)
		_, err := Solve(n, nil)
		var fault *Fault
		if !errors.As(err, &fault) {
			t.Errorf("%s: got %v, want a fault", c.name, err)
			continue
		}
		if fault.Node != c.node || fault.Link != c.link || !strings.Contains(fault.Sentence, c.says) {
			t.Errorf("%s: node %d, link %d: %q; want node %d, link %d and %q", c.name, fault.Node, fault.Link, fault.Sentence, c.node, c.link, c.says)
		}
		isSentence(t, fault.Sentence)
	}
	for _, start := range [][]units.PSI{{1}, {1, 2, psi(nan)}, {1, 2, psi(inf)}} {
		_, err := Solve(plain(), start)
		var fault *Fault
		if !errors.As(err, &fault) {
			t.Errorf("starting from %v: got %v, want a fault", start, err)
		}
	}
}

func isSentence(t *testing.T, s string) {
	t.Helper()
	if s == "" || !strings.HasSuffix(s, ".") || strings.ToUpper(s[:1]) != s[:1] {
		t.Errorf("%q is no sentence", s)
	}
	for _, word := range []string{"invalid", "illegal", "failed to parse", "oops"} {
		if strings.Contains(strings.ToLower(s), word) {
			t.Errorf("%q blames", s)
		}
	}
}

// Points that make no curve are refused by what is wrong with which.
func TestPointsThatMakeNoCurveAreRefused(t *testing.T) {
	nan := math.NaN()
	_, noLoss := NewCurve(nil)
	_, onlyRest := NewCurve([]LossPoint{{0, 0}})
	_, atRest := NewCurve([]LossPoint{{0, 3}, {10, 5}})
	_, backwards := NewCurve([]LossPoint{{10, 3}, {5, 5}})
	_, noNumber := NewCurve([]LossPoint{{psiFlow(nan), 3}})
	_, noRows := NewTable(nil)
	_, rowsBack := NewTable([]OutletPoint{{30, 1}, {20, 2}})
	_, rowAtNothing := NewTable([]OutletPoint{{0, 1}})
	_, noSupply := NewSupply(nil)
	_, supplyBack := NewSupply([]SupplyPoint{{10, 50}, {10, 40}})
	_, supplyRises := NewSupply([]SupplyPoint{{0, 50}, {10, 60}})
	_, supplyNoNumber := NewSupply([]SupplyPoint{{0, psi(nan)}})
	for name, c := range map[string]struct {
		err  error
		says string
	}{
		"no points": {noLoss, "no points"}, "rest alone": {onlyRest, "no flow"}, "loss at rest": {atRest, "first above 0"}, "backwards": {backwards, "point 2"}, "no number": {noNumber, "point 1"},
		"no rows": {noRows, "no rows"}, "rows backwards": {rowsBack, "row 2"}, "row at nothing": {rowAtNothing, "row 1"},
		"no supply": {noSupply, "no points"}, "supply backwards": {supplyBack, "point 2"}, "supply rises": {supplyRises, "has less left"}, "supply of no number": {supplyNoNumber, "point 1"},
	} {
		if c.err == nil || !strings.Contains(c.err.Error(), c.says) {
			t.Errorf("%s: got %v, want %q", name, c.err, c.says)
		}
	}
}

func psiFlow(v float64) units.GPM { return units.GPM(v) }

// A loss that falls before it rises, as of devices with springs, would fit two
// flows: it is raised, and says so.
func TestFallingLossesAreRaised(t *testing.T) {
	c := must(NewCurve([]LossPoint{{2, 11}, {8, 9}, {15, 12}}))
	loss, slope := c.Loss(8)
	if !c.Raised() || math.Abs(float64(loss)-11) > 1e-5 || slope <= 0 {
		t.Errorf("raised %v, %g psi at 8 gpm, slope %g", c.Raised(), float64(loss), slope)
	}
	if must(NewCurve([]LossPoint{{0, 0}, {2, 1}})).Raised() {
		t.Error("a curve that rises is not raised")
	}
	nozzle := must(NewTable([]OutletPoint{{20, 2}, {30, 1.9}}))
	if q, _ := nozzle.Flow(30); !nozzle.Raised() || q != 2 {
		t.Errorf("raised %v, %g gpm at 30 psi", nozzle.Raised(), float64(q))
	}
}

// What is drawn past the last flow known is said; see trade notes E29.
func TestFlowsPastWhatIsKnownAreSaid(t *testing.T) {
	for _, c := range []struct {
		demand      units.GPM
		link, under bool
	}{{4, false, false}, {6, true, false}, {14, true, true}} {
		n := &Network{
			Nodes: []Node{{Source: HydrantTest{60, 50, 10}}, {Demand: c.demand}},
			Links: []Link{{1, 0, must(NewCurve([]LossPoint{{5, 2}}))}},
		}
		st := must(Solve(n, nil))
		if (len(st.PastLinks) == 1) != c.link || (len(st.PastSources) == 1) != c.under {
			t.Errorf("%g gpm: past links %v, past sources %v", float64(c.demand), st.PastLinks, st.PastSources)
		}
	}
	behind := After{Supply: Supply{points: []SupplyPoint{{20, 40}}}, Laws: []Law{must(NewCurve([]LossPoint{{5, 2}})), NewPipe(1, 1, 150, 0)}}
	if KnownTo(behind) != 5 || KnownTo(Capped{Supply: behind}) != 5 || !math.IsInf(float64(KnownTo(Fixed(5))), 1) {
		t.Error("a chain is known to the least of its members")
	}
}

// Laws, outlets and sources keep to what the solver is promised, at every flow.
func TestLawsKeepTheirWord(t *testing.T) {
	laws := map[string]Law{
		"pipe": NewPipe(30, 1.049, 150, 3), "nothing": NewPipe(0, 1, 150, 0), "fittings": Fittings(1, 2), "wide": NewPipe(1, 12, 150, 0),
		"device": must(NewCurve([]LossPoint{{2, 1}, {10, 3}, {20, 3}, {40, 9}})),
	}
	for name, law := range laws {
		before, first := 0.0, true
		for q := 1e-9; q < 1e4; q *= 1.07 {
			p, slope := law.Loss(gpm(q))
			if back, sameSlope := law.Loss(gpm(-q)); back != -p || sameSlope != slope {
				t.Errorf("%s is not alike both ways at %g gpm", name, q)
			}
			if !(float64(p) > before) || slope < leastSlope {
				t.Errorf("%s: %g psi at %g gpm, slope %g, after %g psi", name, float64(p), q, slope, before)
			}
			step := q * 1e-6
			above, _ := law.Loss(gpm(q + step))
			if rise := float64(above-p) / step; !first && math.Abs(rise-slope) > 1e-3*slope+1e-9 && !kink(law, q) {
				t.Errorf("%s rises by %g at %g gpm, and says %g", name, rise, q, slope)
			}
			before, first = float64(p), false
		}
	}
	outlets := map[string]Outlet{
		"orifice": Orifice{.5, .5}, "emitter": Orifice{.5, .3}, "table": must(NewTable(sprayRows)),
		"regulated": Regulated{Nozzle: must(NewTable(sprayRows)), Setting: 30}, "two": Outlets{Orifice{.5, .5}, Orifice{.1, 1}},
	}
	for name, o := range outlets {
		before := 0.0
		if q, slope := o.Flow(-5); q != 0 || slope != 0 {
			t.Errorf("%s lets out %g at −5 psi", name, float64(q))
		}
		for p := 1e-4; p < 1000; p *= 1.03 {
			q, slope := o.Flow(psi(p))
			if !(float64(q) > before) {
				t.Errorf("%s: %g gpm at %g psi, after %g", name, float64(q), p, before)
			}
			step := p * 1e-6
			above, _ := o.Flow(psi(p + step))
			if rise := float64(above-q) / step; math.Abs(rise-slope) > 2e-3*slope+1e-9 && p > 1 && !near1(p, 15, 20, 25, 30, 1500) {
				t.Errorf("%s rises by %g at %g psi, and says %g", name, rise, p, slope)
			}
			before = float64(q)
		}
	}
	meter := must(NewCurve([]LossPoint{{10, 1.6}, {30, 15}}))
	sources := map[string]Source{
		"hydrant": HydrantTest{62, 55, 13}, "pump": must(NewSupply([]SupplyPoint{{0, 60}, {10, 55}, {20, 30}})), "one point": must(NewSupply([]SupplyPoint{{5, 60}})),
		"regulated": Capped{HydrantTest{80, 55, 13}, 50, 0.1}, "behind a meter": After{Supply: Fixed(62), Laws: []Law{meter}, Up: 3},
	}
	for name, s := range sources {
		before := math.Inf(1)
		for q := -2.0; q < 60; q += 0.037 {
			p, slope := s.Pressure(gpm(q))
			if !(float64(p) <= before) || slope > 0 {
				t.Errorf("%s: %g psi at %g gpm, slope %g, after %g", name, float64(p), q, slope, before)
			}
			before = float64(p)
		}
		for _, p := range []float64{20, 45} {
			q := FlowAt(s, psi(p))
			left, _ := s.Pressure(q)
			if math.Abs(float64(left)-p) > 1e-6 {
				t.Errorf("%s has %g psi at the %g gpm it is said to give at %g psi", name, float64(left), float64(q), p)
			}
		}
		if FlowAt(s, 200) != 0 {
			t.Errorf("%s gives nothing at 200 psi", name)
		}
	}
	if FlowAt(Fixed(60), 30) != mostFlow {
		t.Error("a fixed supply gives whatever is asked")
	}
}

// kink says that a law's slope jumps near a flow.
func kink(law Law, q float64) bool {
	switch l := law.(type) {
	case Pipe:
		return q < 2*l.creep && q > l.creep/2
	case Curve:
		for _, p := range l.points {
			if near1(q, float64(p.Flow)) {
				return true
			}
		}
	}
	return false
}

func near1(v float64, marks ...float64) bool {
	for _, m := range marks {
		if math.Abs(v-m) < 1e-4*m {
			return true
		}
	}
	return false
}

// At rest every node has the source's pressure, less its height.
func TestAtRest(t *testing.T) {
	for seed := range uint64(20) {
		n := draw(seed, 30, int(seed%4), true).network()
		for i := range n.Nodes {
			n.Nodes[i].Outlet, n.Nodes[i].Demand = nil, 0
			if n.Nodes[i].Source != nil {
				n.Nodes[i].Source = nil
			}
		}
		n.Nodes[0].Source = HydrantTest{62, 55, 13}
		st := must(Solve(n, nil))
		for i, node := range n.Nodes {
			want := 62 - Rise(node.Elevation-n.Nodes[0].Elevation)
			if math.Abs(float64(st.Pressure[i]-want)) > 1e-6 {
				t.Errorf("seed %d: node %d has %g psi, want %g", seed, i, float64(st.Pressure[i]), float64(want))
			}
		}
		for i, q := range st.Flow {
			if math.Abs(float64(q)) > 1e-6 {
				t.Errorf("seed %d: link %d carries %g gpm at rest", seed, i, float64(q))
			}
		}
	}
}

// Two pipes side by side share the flow as one pipe would have it.
func TestTwoPipesBetweenTheSameNodes(t *testing.T) {
	n := plain()
	n.Links = append(n.Links, Link{1, 0, NewPipe(10, 1, 150, 0)})
	st := must(Solve(n, nil))
	if math.Abs(float64(st.Flow[0]+st.Flow[2])) > 1e-9 || math.Abs(float64(st.Flow[0]-st.Flow[1]/2)) > 1e-9 {
		t.Errorf("flows %v", st.Flow)
	}
}

// A solver may be used again after laws and outlets have changed.
func TestSolvingAgain(t *testing.T) {
	n := plain()
	s := must(NewSolver(n))
	first := must(s.Solve(nil))
	n.Links[0].Law, n.Nodes[2].Outlet, n.Nodes[1].Elevation = NewPipe(200, .622, 150, 2), nil, 12
	n.Nodes[1].Demand = 2
	again, fresh := must(s.Solve(first.Pressure)), must(Solve(n, nil))
	for i := range n.Nodes {
		if math.Abs(float64(again.Pressure[i]-fresh.Pressure[i])) > 1e-9 {
			t.Errorf("node %d has %g psi again and %g afresh", i, float64(again.Pressure[i]), float64(fresh.Pressure[i]))
		}
	}
}

// In a tree elimination adds no entry: there is one under the diagonal a link.
func TestTreesFillInNothing(t *testing.T) {
	for seed := range uint64(10) {
		n := draw(seed, 200, 0, true).network()
		if f := newFactor(n); len(f.below) != len(n.Links) || len(f.spread) != 0 {
			t.Errorf("seed %d: %d entries and %d pairs for %d links", seed, len(f.below), len(f.spread), len(n.Links))
		}
	}
}
