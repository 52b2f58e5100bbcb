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

// outletTrouble says what keeps an outlet from keeping to its word; "" for nothing.
// One of our own is judged by its members, another by trying it.
func outletTrouble(o Outlet) string {
	switch o := o.(type) {
	case nil:
		return "is not said: leave it out, or say what lets the water out."
	case Orifice:
		if !within(o.K, 0, mostFlow) || !within(o.X, leastExponent, mostExponent) {
			return fmt.Sprintf("lets out %g gpm at 1 psi, by the power %g of the pressure: give 0 to %g gpm and a power from %g to %g.", o.K, o.X, mostFlow, leastExponent, mostExponent)
		}
		return ""
	case Table:
		if len(o.points) == 0 {
			return "has a table without rows: give it at least one pressure with its flow."
		}
		return ""
	case Regulated:
		if !within(float64(o.Setting), gentle, mostPressure) || !within(o.Droop, 0, 1) {
			return fmt.Sprintf("is regulated to %g psi with %g of the rest let through: give a setting from %g to %g psi and a share from 0 to 1.", float64(o.Setting), o.Droop, gentle, mostPressure)
		}
		return outletTrouble(o.Nozzle)
	case Outlets:
		for _, one := range o {
			if wrong := outletTrouble(one); wrong != "" {
				return wrong
			}
		}
		return ""
	}
	last := 0.0
	for _, p := range []units.PSI{-10, 0, 0.25, 1, 10, 30, 60, 100, 1000} {
		q, dqdp := o.Flow(p)
		if !within(float64(q), last*(1-rounding), math.MaxFloat64) || !within(dqdp, 0, math.MaxFloat64) {
			return fmt.Sprintf("lets out %g gpm at %g psi, changing by %g gpm a psi: its flow must be a number and never fall as the pressure rises.", float64(q), float64(p), dqdp)
		}
		if p <= 0 && q != 0 {
			return fmt.Sprintf("lets out %g gpm at %g psi: without pressure nothing may leave.", float64(q), float64(p))
		}
		last = float64(q)
	}
	return ""
}

// What an exponent of the pressure may be: emitters that compensate go down to
// nearly 0, laminar ones up to 1.
const leastExponent, mostExponent = 0.01, 1.5

// sourceTrouble is the same for a source.
func sourceTrouble(s Source) string {
	switch s := s.(type) {
	case nil:
		return "is not said: say where the water comes from."
	case Capped:
		if !within(float64(s.Setting), 0, mostPressure) || !within(s.Falloff, 0, mostPressure) {
			return fmt.Sprintf("is regulated to %g psi, falling by %g psi a gpm: give a setting from 0 to %g psi and a fall of 0 or more.", float64(s.Setting), s.Falloff, mostPressure)
		}
		return sourceTrouble(s.Supply)
	case After:
		for _, law := range s.Laws {
			if wrong := lawTrouble(law); wrong != "" {
				return "has a device that " + wrong
			}
		}
		if !within(math.Abs(float64(s.Up)), 0, mostElevation) {
			return fmt.Sprintf("has %g ft of rise behind it: give a rise within %g ft.", float64(s.Up), mostElevation)
		}
		return sourceTrouble(s.Supply)
	case HydrantTest:
		if !within(float64(s.Static), 0, mostPressure) || !within(float64(s.Flow), leastTest, mostFlow) || !within(float64(s.Residual), -mostPressure, float64(s.Static)) {
			return fmt.Sprintf("was measured with %g psi at rest and %g psi at %g gpm: give pressures up to %g psi, the second not above the first, and a flow from %g to %g gpm.", float64(s.Static), float64(s.Residual), float64(s.Flow), mostPressure, leastTest, mostFlow)
		}
		return ""
	}
	last := math.MaxFloat64 / 2
	for _, q := range []units.GPM{-1, 0, 1, 10, 100} {
		p, dpdq := s.Pressure(q)
		if !within(float64(p), -math.MaxFloat64, last+rounding*math.Abs(last)) || !within(dpdq, -math.MaxFloat64, 0) {
			return fmt.Sprintf("has %g psi at %g gpm, changing by %g psi a gpm: its pressure must be a number and never rise with the flow.", float64(p), float64(q), dpdq)
		}
		if q == 0 && !within(math.Abs(float64(p)), 0, mostPressure) {
			return fmt.Sprintf("has %g psi at rest: give at most %g psi.", float64(p), mostPressure)
		}
		last = float64(p)
	}
	return ""
}

// leastTest is the least flow a supply can be measured with, gpm.
const leastTest = 0.01

// mostAtOne is the most a link may take at 1 gpm, psi: a mile of the thinnest tube
// takes less.
const mostAtOne = 1e6

// lawTrouble is the same for a law.
func lawTrouble(law Law) string {
	switch l := law.(type) {
	case nil:
		return "has no pipe or device in it: say what it is."
	case Pipe:
		switch all := l.friction + l.minor; {
		case !within(l.friction, 0, math.MaxFloat64) || !within(l.minor, 0, math.MaxFloat64) || !(l.creep > 0):
			return fmt.Sprintf("is a pipe that loses %g psi to friction and %g to fittings at 1 gpm: give it a length and fittings of 0 or more, and an inside diameter and a roughness above 0.", l.friction, l.minor)
		case all > mostAtOne:
			return fmt.Sprintf("loses %.3g psi at 1 gpm, more than any pipe of a yard: check its length, inside diameter and fittings.", all)
		}
		return ""
	case Curve:
		if len(l.points) == 0 {
			return "is a device without points: give it at least one flow with its loss."
		}
		return ""
	}
	last := 0.0
	for _, q := range []units.GPM{1e-6, 1, 10, 100} {
		p, dpdq := law.Loss(q)
		back, _ := law.Loss(-q)
		if !(float64(p) > last && dpdq > 0) || math.IsInf(float64(p), 0) || math.IsInf(dpdq, 0) || back != -p {
			return fmt.Sprintf("loses %g psi at %g gpm and %g psi the other way: its loss must be a number, rise with the flow, and be alike both ways.", float64(p), float64(q), float64(back))
		}
		if q == 1 && float64(p) > mostAtOne {
			return fmt.Sprintf("loses %g psi at 1 gpm: give at most %g psi.", float64(p), mostAtOne)
		}
		last = float64(p)
	}
	return ""
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
