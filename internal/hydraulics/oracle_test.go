package hydraulics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/units"
)

// plainPipe is a pipe's loss written out from the manual, apart from Pipe.
func plainPipe(l drawnLink, q float64) float64 {
	cfs, d := math.Abs(q)/448.831, l.Inside/12
	feet := 4.727*l.Length*math.Pow(cfs, 1.852)/(math.Pow(l.C, 1.852)*math.Pow(d, 4.871)) + 0.02517*l.Fittings*cfs*cfs/(d*d*d*d)
	return math.Copysign(0.4333*feet, q)
}

// plainBody is a head with a regulated body, written out apart from Table and
// Regulated: rows by the root, the setting, a hundredth of the rest.
func plainBody(rows []OutletPoint, setting, inlet float64) float64 {
	p := inlet
	if inlet > setting {
		p = setting + 0.01*(inlet-setting)
	}
	if p <= 0 {
		return 0
	}
	root := func(i int) float64 { return math.Sqrt(float64(rows[i].Pressure)) }
	last := len(rows) - 1
	switch {
	case p < 0.5:
		return float64(rows[0].Flow) / root(0) * math.Sqrt(0.5) * p / 0.5
	case math.Sqrt(p) <= root(0):
		return float64(rows[0].Flow) * math.Sqrt(p) / root(0)
	case math.Sqrt(p) >= root(last):
		return float64(rows[last].Flow) * math.Sqrt(p) / root(last)
	}
	for i := 1; ; i++ {
		if s := math.Sqrt(p); s <= root(i) {
			share := (s - root(i-1)) / (root(i) - root(i-1))
			return float64(rows[i-1].Flow) + share*float64(rows[i].Flow-rows[i-1].Flow)
		}
	}
}

// bisect is where a rising function is 0.
func bisect(lo, hi float64, f func(float64) float64) float64 {
	for range 200 {
		mid := (lo + hi) / 2
		if mid == lo || mid == hi {
			break
		}
		if f(mid) > 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	return (lo + hi) / 2
}

var sprayRows = []OutletPoint{{15, 1.2}, {20, 1.4}, {25, 1.57}, {30, 1.75}}

// body is one head of a made-up line or tree.
type body struct {
	rows    []OutletPoint
	setting float64
	rise    float64 // psi above the source
	pipe    drawnLink
}

func drawBody(r *rand.Rand) body {
	b := body{setting: 20 + 20*r.Float64(), rise: 4 * (2*r.Float64() - 1)}
	share := 0.3 + 2*r.Float64()
	for _, row := range sprayRows {
		b.rows = append(b.rows, OutletPoint{row.Pressure, units.GPM(share) * row.Flow})
	}
	b.pipe = drawnLink{Length: 5 + 60*r.Float64(), Inside: []float64{0.622, 0.824, 1.049}[r.IntN(3)], C: 150, Fittings: 3 * r.Float64()}
	return b
}

func (b body) node() Node {
	return Node{Elevation: feet(b.rise / 0.4333), Outlet: Regulated{Nozzle: must(NewTable(b.rows)), Setting: psi(b.setting)}}
}

func (b body) law() Law {
	return NewPipe(feet(b.pipe.Length), inches(b.pipe.Inside), b.pipe.C, b.pipe.Fittings)
}

// A line of regulated heads has one unknown, the pressure at its end: from there
// flows and pressures follow pipe by pipe back to the source, whose curve the
// bisection meets.
func TestRegulatedHeadsOnALineMatchBisection(t *testing.T) {
	above, under := 0, 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 1))
		source := HydrantTest{Static: psi(45 + 40*r.Float64()), Residual: 40, Flow: gpm(10 + 30*r.Float64())}
		n := &Network{Nodes: []Node{{Source: source}}}
		var heads []body
		for i := range 2 + r.IntN(14) {
			b := drawBody(r)
			heads = append(heads, b)
			n.Nodes = append(n.Nodes, b.node())
			n.Links = append(n.Links, Link{i, i + 1, b.law()})
		}
		march := func(end float64) (pressures []float64, over float64) {
			pressures = make([]float64, len(heads)+1)
			p, q := end, 0.0
			for i := len(heads) - 1; i >= 0; i-- {
				pressures[i+1] = p
				q += plainBody(heads[i].rows, heads[i].setting, p)
				below := 0.0
				if i > 0 {
					below = heads[i-1].rise
				}
				p += plainPipe(heads[i].pipe, q) + heads[i].rise - below
			}
			pressures[0] = p
			left := float64(source.Static) - float64(source.Static-source.Residual)*math.Pow(q/float64(source.Flow), 1/0.54)
			return pressures, p - left
		}
		want, _ := march(bisect(-100, 100, func(end float64) float64 { _, over := march(end); return over }))
		st, err := Solve(n, nil)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		for i, p := range want {
			if off := math.Abs(p - float64(st.Pressure[i])); !(off <= 1e-5) {
				t.Errorf("seed %d: node %d has %.7f psi, by bisection %.7f", seed, i, float64(st.Pressure[i]), p)
			}
			if i > 0 && p > heads[i-1].setting {
				above++
			} else {
				under++
			}
		}
	}
	if above < 100 || under < 100 {
		t.Errorf("%d heads above their setting and %d under it: want 100 of each", above, under)
	}
}

// On a bushy tree the flow into each branch is bisected inside that of its parent.
func TestRegulatedHeadsOnATreeMatchBisection(t *testing.T) {
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 2))
		static := 30 + 40*r.Float64()
		type branch struct {
			body
			node int
			kids []branch
		}
		n := &Network{Nodes: []Node{{Source: Fixed(static)}}}
		var grow func(parent, depth int) branch
		grow = func(parent, depth int) branch {
			b := branch{body: drawBody(r), node: len(n.Nodes)}
			n.Nodes = append(n.Nodes, b.body.node())
			n.Links = append(n.Links, Link{b.node, parent, b.law()}) // drawn against the flow
			for range min(depth, 1+r.IntN(2)) {
				b.kids = append(b.kids, grow(b.node, depth-1))
			}
			return b
		}
		root := grow(0, 2)
		var takes func(b branch, head float64) float64
		pressures := map[int]float64{}
		takes = func(b branch, head float64) float64 {
			q := bisect(0, 60, func(q float64) float64 {
				p := head - plainPipe(b.pipe, q)
				sum := plainBody(b.rows, b.setting, p-b.rise)
				for _, k := range b.kids {
					sum += takes(k, p)
				}
				return q - sum
			})
			pressures[b.node] = head - plainPipe(b.pipe, q) - b.rise
			return q
		}
		want := takes(root, static)
		var note func(b branch, head float64)
		note = func(b branch, head float64) { // the pressures at the solution, from the root on
			q := takes(b, head)
			p := head - plainPipe(b.pipe, q)
			for _, k := range b.kids {
				note(k, p)
			}
			pressures[b.node] = p - b.rise
		}
		note(root, static)
		st, err := Solve(n, nil)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		if off := math.Abs(want + float64(st.Flow[0])); !(off <= 1e-5) {
			t.Errorf("seed %d: %.7f gpm go in, by bisection %.7f", seed, -float64(st.Flow[0]), want)
		}
		for i, p := range pressures {
			if off := math.Abs(p - float64(st.Pressure[i])); !(off <= 1e-5) {
				t.Errorf("seed %d: node %d has %.7f psi, by bisection %.7f", seed, i, float64(st.Pressure[i]), p)
			}
		}
	}
}

// yard is a drawn network with everything a zone may have: regulated bodies,
// devices known by points, a regulator or devices at the source, starved heads.
func yard(seed uint64) *Network {
	n := draw(seed, 5+int(seed%50), int(seed%4), seed%2 == 0).network()
	r := rand.New(rand.NewPCG(seed, 3))
	for i := range n.Nodes {
		node := &n.Nodes[i]
		switch {
		case node.Outlet != nil && r.IntN(2) == 0:
			node.Outlet = drawBody(r).node().Outlet
		case node.Source != nil && r.IntN(2) == 0:
			node.Source = Capped{Supply: node.Source, Setting: psi(30 + 40*r.Float64()), Falloff: 0.1 * float64(r.IntN(2))}
		case node.Source != nil:
			meter := must(NewCurve([]LossPoint{{10, 1.6}, {30, 15}}))
			node.Source = After{Supply: node.Source, Laws: []Law{meter, NewPipe(45, 1.025, 130, 2)}, Up: 3}
		case r.IntN(10) == 0:
			node.Elevation += 120 // dry
		}
	}
	for i := range n.Links {
		if r.IntN(8) == 0 {
			n.Links[i].Law = must(NewCurve([]LossPoint{{2, 1}, {10, 3}, {20, 3}, {40, 9}}))
		}
	}
	return n
}

// holds asks whether a state is the solution: every law met, every node in
// balance, nothing taken from the solver's word.
func holds(n *Network, st State) error {
	sum := make([]float64, len(n.Nodes))
	far, most := 1.0, 0.0
	for i, node := range n.Nodes {
		far = max(far, math.Abs(float64(st.Pressure[i]))+math.Abs(float64(Rise(node.Elevation))))
		sum[i] = float64(st.Out[i])
	}
	for i, l := range n.Links {
		q := st.Flow[i]
		loss, _ := l.Law.Loss(q)
		gap := float64(st.Pressure[l.From] + Rise(n.Nodes[l.From].Elevation) - st.Pressure[l.To] - Rise(n.Nodes[l.To].Elevation))
		if !(math.Abs(gap-float64(loss)) <= 1e-10*(1+far)) {
			return fmt.Errorf("link %d loses %g psi at %g gpm, its ends are %g apart", i, float64(loss), float64(q), gap)
		}
		sum[l.From] += float64(q)
		sum[l.To] -= float64(q)
		most = max(most, math.Abs(float64(q)))
	}
	// A fuzzed link without friction carries 1e8 gpm, whose last digits are as good.
	for i, v := range sum {
		if !(math.Abs(v) <= 1e-6*(1+far/100)+1e-9*math.Abs(float64(st.Out[i]))+2e-11*most) {
			return fmt.Errorf("node %d is out of balance by %g gpm", i, v)
		}
	}
	for i, node := range n.Nodes {
		want := float64(node.Demand)
		if node.Outlet != nil {
			q, _ := node.Outlet.Flow(st.Pressure[i])
			want += float64(q)
		}
		if node.Source == nil {
			if float64(st.Out[i]) != want {
				return fmt.Errorf("node %d lets out %g gpm, its outlet says %g", i, float64(st.Out[i]), want)
			}
			continue
		}
		give := want - float64(st.Out[i])
		left, _ := node.Source.Pressure(gpm(give))
		if off := math.Abs(float64(left - st.Pressure[i])); !(off <= 1e-9*(1+far)+2e-7*math.Abs(give)+1e-12*math.Abs(float64(left))) {
			if give < 0 && off <= 1e-5*back {
				continue
			}
			return fmt.Errorf("node %d has %g psi, its source %g at %g gpm", i, float64(st.Pressure[i]), float64(left), give)
		}
	}
	return nil
}

// The function has one least point, so the way there must not matter: quick steps
// from the guess, quick steps from pressures at random, and watched steps from
// pressures at random.
func TestTheSameSolutionFromAnywhere(t *testing.T) {
	watched, most := 0, 0
	for seed := range uint64(150) {
		n := yard(seed)
		want, err := Solve(n, nil)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		if err := holds(n, want); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		if want.Steps > quickSteps {
			watched++
		}
		r := rand.New(rand.NewPCG(seed, 5))
		s := must(NewSolver(n))
		for try := range 6 {
			start := make([]units.PSI, len(n.Nodes))
			for i := range start {
				start[i] = psi(400*r.Float64() - 150)
			}
			var got State
			if try%2 == 0 {
				got, err = s.Solve(start)
			} else if err = s.begin(start); err == nil {
				got, err = s.careful()
				most = max(most, s.watched)
			}
			if err != nil {
				t.Errorf("seed %d, start %d: %v", seed, try, err)
				continue
			}
			if err := holds(n, got); err != nil {
				t.Errorf("seed %d, start %d: %v", seed, try, err)
			}
			for i, p := range want.Pressure {
				if off := math.Abs(float64(p - got.Pressure[i])); !(off <= 1e-6) {
					t.Errorf("seed %d, start %d: node %d has %.8f psi, from the guess %.8f", seed, try, i, float64(got.Pressure[i]), float64(p))
				}
			}
		}
	}
	t.Logf("%d of 150 needed watched steps from the guess; at most %d watched steps from random pressures", watched, most)
}
