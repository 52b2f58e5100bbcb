package hydraulics

import (
	"math"
	"math/rand/v2"
)

// drawn is a network in the reference solver's words.
type drawn struct {
	Nodes    []drawnNode `json:"nodes"`
	Links    []drawnLink `json:"links"`
	Exponent float64     `json:"exponent"`
}

type drawnNode struct {
	Elevation float64    `json:"elevation"`
	Demand    float64    `json:"demand"`
	K         float64    `json:"k"`               // outlet: gpm at 1 psi
	Fixed     *float64   `json:"fixed,omitempty"` // psi in a reservoir at the far end of Entry
	Entry     *drawnLink `json:"entry,omitempty"`
	Supply    []drawnPSI `json:"supply,omitempty"` // a pump's curve
	hydrant   *HydrantTest
}

type drawnPSI struct {
	Flow float64 `json:"flow"`
	PSI  float64 `json:"psi"`
}

type drawnLink struct {
	From     int     `json:"from"`
	To       int     `json:"to"`
	Length   float64 `json:"length"`
	Inside   float64 `json:"inside"`
	C        float64 `json:"c"`
	Fittings float64 `json:"fittings"`
}

// entry is the pipe between a reservoir and its node: in the reference solver a
// reservoir stands alone.
var entry = drawnLink{Length: 20, Inside: 2.067, C: 150}

// network is the same in our words; a reservoir's node comes after all others.
func (d drawn) network() *Network {
	n := &Network{}
	for _, v := range d.Nodes {
		node := Node{Elevation: feet(v.Elevation), Demand: gpm(v.Demand)}
		if v.K > 0 {
			node.Outlet = Orifice{v.K, d.Exponent}
		}
		switch {
		case v.hydrant != nil:
			node.Source = *v.hydrant
		case v.Supply != nil:
			var points []SupplyPoint
			for _, p := range v.Supply {
				points = append(points, SupplyPoint{gpm(p.Flow), psi(p.PSI)})
			}
			node.Source = must(NewSupply(points))
		}
		n.Nodes = append(n.Nodes, node)
	}
	for _, l := range d.Links {
		n.Links = append(n.Links, Link{l.From, l.To, NewPipe(feet(l.Length), inches(l.Inside), l.C, l.Fittings)})
	}
	for i, v := range d.Nodes {
		if v.Fixed != nil {
			n.Links = append(n.Links, Link{len(n.Nodes), i, NewPipe(feet(v.Entry.Length), inches(v.Entry.Inside), v.Entry.C, 0)})
			n.Nodes = append(n.Nodes, Node{Elevation: feet(v.Elevation), Source: Fixed(*v.Fixed)})
		}
	}
	return n
}

// draw makes up a network of a yard: a tree, some with loops closed, on sloping
// ground, with sprinklers at every end (or at most, which leaves pipes that carry
// nothing), and pipes sized to what they feed.
func draw(seed uint64, size, loops int, deadEnds bool) drawn {
	r := rand.New(rand.NewPCG(seed, 4))
	d := drawn{Exponent: 0.4 + 0.3*r.Float64(), Nodes: make([]drawnNode, size)}
	if seed%2 == 0 {
		d.Exponent = 0.5
	}
	up := make([]int, size)
	need := make([]float64, size)
	slope := 0.05 * (2*r.Float64() - 1)
	ends := make([]bool, size)
	for i := size - 1; i > 0; i-- {
		ends[i] = true
	}
	for i := 1; i < size; i++ {
		up[i] = max(0, i-1-r.IntN(min(i, 6)))
		ends[up[i]] = false
	}
	for i := range d.Nodes {
		d.Nodes[i].Elevation = slope*float64(i%40)*10 + 3*r.Float64()
		if i == 0 {
			continue
		}
		if ends[i] && !deadEnds || r.IntN(3) > 0 {
			q := 0.5 + 3*r.Float64()
			need[i] = q
			if r.IntN(12) == 0 {
				d.Nodes[i].Demand = q
			} else {
				d.Nodes[i].K = q / math.Pow(35, d.Exponent)
			}
		}
	}
	for i := size - 1; i > 0; i-- {
		need[up[i]] += need[i]
	}
	sizes := []float64{0.622, 0.824, 1.049, 1.38, 1.61, 2.067, 3.068, 4.026, 6.065, 7.981}
	pipe := func(a, b int, q float64) drawnLink {
		if r.IntN(2) == 0 {
			a, b = b, a
		}
		l := drawnLink{From: a, To: b, Length: 2 + 38*r.Float64(), C: 130 + 20*float64(r.IntN(2)), Fittings: 3 * r.Float64() * float64(r.IntN(2))}
		for _, s := range sizes {
			if l.Inside = s; float64(Velocity(gpm(q), inches(s))) < 2.5+3*r.Float64() {
				break
			}
		}
		return l
	}
	for i := 1; i < size; i++ {
		d.Links = append(d.Links, pipe(up[i], i, need[i]))
	}
	for range loops {
		a := r.IntN(size)
		b := (a + 2 + r.IntN(size-2)) % size
		d.Links = append(d.Links, pipe(a, b, min(need[a], need[b])))
	}
	static := 65 + 40*r.Float64()
	switch total := max(need[0], 1); seed % 4 {
	case 0:
		// Three points make the reference fit p0 − r·q^n; on the hydrant form that
		// fit is the form.
		h := HydrantTest{Static: psi(static), Residual: psi(static - 4 - 6*r.Float64()), Flow: gpm(total * (0.7 + r.Float64()))}
		d.Nodes[0].hydrant = &h
		for _, at := range []float64{0, 1, 2} {
			p, _ := h.Pressure(gpm(at) * h.Flow)
			d.Nodes[0].Supply = append(d.Nodes[0].Supply, drawnPSI{at * float64(h.Flow), float64(p)})
		}
	case 1:
		for i, share := range []float64{1, 0.97, 0.92, 0.84, 0.5, 0.1} {
			d.Nodes[0].Supply = append(d.Nodes[0].Supply, drawnPSI{total * 0.5 * float64(i), static * share})
		}
	default:
		in := entry
		if total > 60 {
			in.Inside = 7.981
		}
		d.Nodes[0].Fixed, d.Nodes[0].Entry = &static, &in
		if seed%4 == 3 {
			other := static - 2 + 4*r.Float64()
			d.Nodes[size-1].Fixed, d.Nodes[size-1].Entry = &other, &in
		}
	}
	return d
}
