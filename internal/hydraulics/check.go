package hydraulics

import (
	"fmt"
	"math"
)

// What a network may hold; more is a slip of the pen.
const (
	mostFlow      = 20000.0 // gpm
	mostPressure  = 5000.0  // psi
	mostElevation = 30000.0 // ft

	// apart is how far apart the points of a curve must be, gpm or psi.
	apart = 0.01

	rounding = 1e-12 // share by which a sum of floats may miss
)

func within(v, least, most float64) bool { return v >= least && v <= most } // false for NaN

// Fault is what keeps a network from being solved, and where: the node or the
// link, whichever is not -1.
type Fault struct {
	Node, Link int
	Sentence   string
	Says       string // the sentence after its subject, for whoever has a better name for it; "" where it is about no node or link
}

func (f *Fault) Error() string { return f.Sentence }

func nodeFault(i int, format string, a ...any) error {
	says := fmt.Sprintf(format, a...)
	return &Fault{i, -1, fmt.Sprintf("Node %d %s", i, says), says}
}

func linkFault(i int, format string, a ...any) error {
	says := fmt.Sprintf(format, a...)
	return &Fault{-1, i, fmt.Sprintf("Link %d %s", i, says), says}
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
		if wrong := lawTrouble(l.Law); wrong != "" {
			return linkFault(i, "%s", wrong)
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
		if wrong := outletTrouble(node.Outlet); wrong != "" {
			return nodeFault(i, "has an outlet that %s", wrong)
		}
	}
	if node.Source != nil {
		if wrong := sourceTrouble(node.Source); wrong != "" {
			return nodeFault(i, "has a source that %s", wrong)
		}
	}
	return nil
}

// joined asks for a way from every node to a source.
func (n *Network) joined() error {
	if len(n.Nodes) == 0 {
		return &Fault{Node: -1, Link: -1, Sentence: "There are no nodes: draw pipe from the point of connection to a head."}
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
		return &Fault{Node: -1, Link: -1, Sentence: "There is no source: say at which node the water comes in."}
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
	if l := n.Links[link]; l.From != node {
		return l.From
	}
	return n.Links[link].To
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
