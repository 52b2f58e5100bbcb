package hydraulics

import (
	"fmt"
	"math"

	"evenfall/internal/units"
)

// What a network may hold; more is a slip of the pen.
const (
	mostFlow      = 20000.0 // gpm
	mostPressure  = 5000.0  // psi
	mostElevation = 30000.0 // ft
)

func within(v, least, most float64) bool { return v >= least && v <= most } // false for NaN

// Fault is what keeps a network from being solved, and where: the node or the
// link, whichever is not -1.
type Fault struct {
	Node, Link int
	Sentence   string
}

func (f *Fault) Error() string { return f.Sentence }

func nodeFault(i int, format string, a ...any) error {
	return &Fault{i, -1, fmt.Sprintf("Node %d ", i) + fmt.Sprintf(format, a...)}
}

func linkFault(i int, format string, a ...any) error {
	return &Fault{-1, i, fmt.Sprintf("Link %d ", i) + fmt.Sprintf(format, a...)}
}

// Check says in a sentence what keeps a network from being solved. What it lets
// through has exactly one solution.
func (n *Network) Check() error {
	for i, node := range n.Nodes {
		if err := node.check(i); err != nil {
			return err
		}
	}
	for i, l := range n.Links {
		if l.From < 0 || l.From >= len(n.Nodes) || l.To < 0 || l.To >= len(n.Nodes) {
			return linkFault(i, "joins nodes %d and %d, but nodes go from 0 to %d: join it to two of them.", l.From, l.To, len(n.Nodes)-1)
		}
		if l.From == l.To {
			return linkFault(i, "joins node %d to itself: leave it out, or join it to another node.", l.From)
		}
		if err := checkLaw(i, l.Law); err != nil {
			return err
		}
	}
	return n.joined()
}

func (node Node) check(i int) error {
	switch {
	case !within(math.Abs(float64(node.Elevation)), 0, mostElevation):
		return nodeFault(i, "stands at %g ft: give an elevation within %g ft of the datum.", float64(node.Elevation), mostElevation)
	case !within(math.Abs(float64(node.Demand)), 0, mostFlow):
		return nodeFault(i, "draws %g gpm: give a flow of at most %g gpm.", float64(node.Demand), mostFlow)
	}
	if node.Outlet != nil {
		for _, p := range []units.PSI{-10, 0, 0.25, 1, 10, 30, 60, 100, 1000} {
			q, dqdp := node.Outlet.Flow(p)
			switch {
			case !within(float64(q), 0, math.MaxFloat64) || !within(dqdp, 0, math.MaxFloat64):
				return nodeFault(i, "has an outlet that lets out %g gpm at %g psi, changing by %g gpm a psi: its flow must be a number and never fall as the pressure rises.", float64(q), float64(p), dqdp)
			case p <= 0 && q != 0:
				return nodeFault(i, "has an outlet that lets out %g gpm at %g psi: without pressure nothing may leave.", float64(q), float64(p))
			}
		}
	}
	if node.Source != nil {
		for _, q := range []units.GPM{-1, 0, 1, 10, 100} {
			p, dpdq := node.Source.Pressure(q)
			if !within(math.Abs(float64(p)), 0, math.MaxFloat64) || !within(dpdq, -math.MaxFloat64, 0) {
				return nodeFault(i, "has a source with %g psi at %g gpm, changing by %g psi a gpm: its pressure must be a number and never rise with the flow.", float64(p), float64(q), dpdq)
			}
			if q == 0 && !within(math.Abs(float64(p)), 0, 10*mostPressure) {
				return nodeFault(i, "has a source of %g psi: give at most %g psi.", float64(p), mostPressure)
			}
		}
	}
	return nil
}

// most a pipe may take at 1 gpm, psi. A mile of the thinnest tube takes less.
const mostAtOne = 1e6

func checkLaw(i int, law Law) error {
	if law == nil {
		return linkFault(i, "has no pipe or device in it: say what it is.")
	}
	last := 0.0
	for _, q := range []units.GPM{1e-6, 1, 10, 100} {
		p, dpdq := law.Loss(q)
		back, _ := law.Loss(-q)
		if !(p > 0 && float64(p) > last && dpdq > 0) || math.IsInf(float64(p), 0) || math.IsInf(dpdq, 0) || back != -p {
			return linkFault(i, "loses %g psi at %g gpm and %g psi the other way: its loss must rise with the flow, alike both ways. A pipe needs a length and fittings of 0 or more, an inside diameter and a roughness above 0.", float64(p), float64(q), float64(back))
		}
		if q == 1 && float64(p) > mostAtOne {
			return linkFault(i, "loses %g psi at 1 gpm, more than any pipe in a yard: check its length and inside diameter.", float64(p))
		}
		last = float64(p)
	}
	return nil
}

// joined asks for a way from every node to a source.
func (n *Network) joined() error {
	if len(n.Nodes) == 0 {
		return &Fault{-1, -1, "There are no nodes: draw pipe from the point of connection to a head."}
	}
	at := newNeighbours(n)
	reached := make([]bool, len(n.Nodes))
	var queue []int
	for i, node := range n.Nodes {
		if node.Source != nil {
			reached[i], queue = true, append(queue, i)
		}
	}
	if len(queue) == 0 {
		return &Fault{-1, -1, "There is no source: say at which node the water comes in."}
	}
	for len(queue) > 0 {
		i := queue[0]
		queue = queue[1:]
		for _, l := range at.of(i) {
			if j := n.other(l, i); !reached[j] {
				reached[j], queue = true, append(queue, j)
			}
		}
	}
	for i, ok := range reached {
		if !ok {
			return nodeFault(i, "has no way to a source: join it by pipe, or leave it out.")
		}
	}
	return nil
}

func (n *Network) other(link, node int) int {
	if l := n.Links[link]; l.From == node {
		return l.To
	} else {
		return l.From
	}
}

// neighbours are the links at every node, in one array.
type neighbours struct{ first, links []int }

func newNeighbours(n *Network) neighbours {
	at := neighbours{make([]int, len(n.Nodes)+1), make([]int, 2*len(n.Links))}
	for _, l := range n.Links {
		at.first[l.From]++
		at.first[l.To]++
	}
	sum := 0
	for i := range at.first {
		sum += at.first[i]
		at.first[i] = sum
	}
	for i := len(n.Links) - 1; i >= 0; i-- {
		for _, v := range [2]int{n.Links[i].To, n.Links[i].From} {
			at.first[v]--
			at.links[at.first[v]] = i
		}
	}
	return at
}

func (at neighbours) of(node int) []int { return at.links[at.first[node]:at.first[node+1]] }
