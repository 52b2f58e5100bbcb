package hydraulics

import (
	"fmt"
	"math"

	"evenfall/internal/units"
)

// Solve finds the flows and pressures of a network. start gives pressures at the
// nodes to begin from; nil begins from the source's. The solution does not depend
// on it. An error is a *Fault or an *UnsettledError, either a sentence.
func Solve(n *Network, start []units.PSI) (State, error) {
	s, err := NewSolver(n)
	if err != nil {
		return State{}, err
	}
	return s.Solve(start)
}

// UnsettledError says that no solution was found. Every network that passes Check
// has one, so this is a fault of the solver or of a law that does not keep to its
// word.
type UnsettledError struct{ Residual units.GPM }

func (e *UnsettledError) Error() string {
	return fmt.Sprintf("The flows did not settle: %.3g gpm are left over at some node. Please tell us, with the plan; until then, check the pipe nearest to the source for an odd length or size.", float64(e.Residual))
}

// Solver solves one network again and again. Laws, outlets, sources, demands and
// elevations may be changed between two solutions, by what passes Check; nodes
// and links may not.
//
// The equations are the gradient of a strictly convex function of the heads
// (pressure plus elevation): the sum over links of ∫q dh, over outlets of ∫q dp,
// less what sources put in. It has one least point, and Newton's method with a
// step kept to where the function still falls reaches it from anywhere. Most
// networks need no such care: first the links' flows are carried along by their
// tangents, as water networks are usually solved (Todini & Pilati 1988), which
// takes one look at each law a step; only what has not settled soon is done with
// the links' laws solved for their flow and with the step watched.
type Solver struct {
	n *Network
	f *factor

	fixed []bool    // of nodes: head is given by a Fixed source
	rise  []float64 // of nodes: elevation, psi
	head  []float64 // of nodes: pressure plus elevation, psi
	give  []float64 // of nodes: from the source
	flow  []float64 // of links

	// What settled leaves for the next step.
	balance   []float64 // of nodes: what leaves less what comes
	outSlope  []float64 // of outlets, gpm per psi
	giveSlope []float64 // of sources, psi per gpm
	lift      []float64 // of sources: what they have above the node's head
	slope     []float64 // of links, psi per gpm
	short     []float64 // of links: what the heads have above the law's loss

	step, base []float64 // of nodes: change of head; heads to step from
	b          []float64 // of places in the factor
	watched    int       // steps made with care, for tests
}

// NewSolver checks a network and finds the order of elimination.
func NewSolver(n *Network) (*Solver, error) {
	if err := n.Check(); err != nil {
		return nil, err
	}
	nodes, links := len(n.Nodes), len(n.Links)
	room := make([]float64, 10*nodes+3*links)
	take := func(k int) []float64 {
		part := room[:k:k]
		room = room[k:]
		return part
	}
	return &Solver{
		n: n, f: newFactor(n), fixed: make([]bool, nodes),
		rise: take(nodes), head: take(nodes), give: take(nodes), flow: take(links),
		balance: take(nodes), outSlope: take(nodes), giveSlope: take(nodes), lift: take(nodes), slope: take(links), short: take(links),
		step: take(nodes), base: take(nodes), b: take(nodes),
	}, nil
}

const (
	quickSteps   = 15
	watchedSteps = 300
	finishSteps  = 6

	// nearlySettled is the residual from which quick steps may finish, gpm; more
	// where heads are past 1e5 psi, in step with their last digit.
	nearlySettled = 1e-3

	// pinned is the conductance that holds a node at a fixed head.
	pinned = 1e12
)

// Solve finds the flows and pressures.
func (s *Solver) Solve(start []units.PSI) (State, error) {
	s.watched = 0
	clear(s.outSlope)
	if err := s.begin(start); err != nil {
		return State{}, err
	}
	for steps := range quickSteps {
		if s.settled() {
			return s.state(steps), nil
		}
		if !s.quick() {
			break
		}
	}
	return s.careful()
}

// careful goes on from the heads there are with every step watched. Close to the
// end the flows that heads ask for are no better than the last digit of the heads
// through the stiffest link, so the tangents finish.
func (s *Solver) careful() (State, error) {
	top := s.top()
	for i, h := range s.head {
		if !(math.Abs(h) <= 1e7) { // also NaN
			s.head[i] = top
		}
	}
	s.solveLaws()
	done := s.settled()
	for !done && s.watched < watchedSteps {
		if s.residual() < nearlySettled*(1+s.far()/1e5) && s.finish() {
			done = true
			break
		}
		var moved bool
		if moved, done = s.descend(); !moved {
			break
		}
		s.watched++
	}
	if !done && !s.finish() {
		return State{}, &UnsettledError{units.GPM(s.residual())}
	}
	return s.state(quickSteps + s.watched), nil
}

// finish tries a few quick steps; where they do not settle, all is as before.
func (s *Solver) finish() bool {
	copy(s.base, s.head)
	for range finishSteps {
		if !s.quick() {
			break
		}
		if s.settled() {
			return true
		}
	}
	copy(s.head, s.base)
	s.solveLaws()
	return s.settled()
}

// far is the greatest head, whichever way.
func (s *Solver) far() float64 {
	far := 0.0
	for _, h := range s.head {
		far = max(far, math.Abs(h))
	}
	return far
}

// top is the greatest head of a source at rest.
func (s *Solver) top() float64 {
	top := math.Inf(-1)
	for i, node := range s.n.Nodes {
		if node.Source != nil {
			p, _ := node.Source.Pressure(0)
			top = max(top, float64(p)+s.rise[i])
		}
	}
	return top
}

// begin sets heads and flows to start from.
func (s *Solver) begin(start []units.PSI) error {
	if start != nil && len(start) != len(s.n.Nodes) {
		return &Fault{Node: -1, Link: -1, Sentence: fmt.Sprintf("There are %d pressures to start from and %d nodes: give one for each.", len(start), len(s.n.Nodes))}
	}
	for i, node := range s.n.Nodes {
		s.rise[i] = float64(Rise(node.Elevation))
		_, s.fixed[i] = node.Source.(Fixed)
	}
	top := s.top()
	for i, node := range s.n.Nodes {
		s.head[i], s.give[i] = top, 0
		if start != nil {
			if !within(math.Abs(float64(start[i])), 0, 1e6) {
				return nodeFault(i, "is to start from %g psi: give a number of psi.", float64(start[i]))
			}
			s.head[i] = float64(start[i]) + s.rise[i]
		}
		if s.fixed[i] {
			p, _ := node.Source.Pressure(0)
			s.head[i] = float64(p) + s.rise[i]
		}
	}
	if start != nil {
		s.solveLaws()
	} else {
		s.guess()
	}
	return nil
}

// guess finds flows to start from: those of a network of the same pipes in which
// loss goes by the first power of the flow, alike where a pipe loses about guessLoss.
func (s *Solver) guess() {
	clear(s.flow)
	s.settled()
	for i, l := range s.n.Links {
		near := math.Sqrt(guessLoss / lossAt(l.Law, 1))
		s.slope[i] = lossAt(l.Law, near) / near
	}
	s.quick()
}

// guessLoss is what a pipe may lose as a rule, psi. Chosen.
const guessLoss = 0.3

func lossAt(law Law, q float64) float64 {
	p, _ := law.Loss(units.GPM(q))
	return float64(p)
}

// settled says whether flows and heads fit each other and every node is in
// balance. It leaves losses, slopes and the balance for the next step.
func (s *Solver) settled() bool {
	fitting := 1e-11 + 1e-14*s.far() // psi
	fits, most := true, 0.0
	clear(s.balance)
	for i := range s.n.Links {
		l, q := &s.n.Links[i], s.flow[i]
		p, slope := l.Law.Loss(units.GPM(q))
		s.slope[i] = slope
		s.short[i] = s.head[l.From] - s.head[l.To] - float64(p)
		if !(math.Abs(s.short[i]) <= fitting+1e-12*math.Abs(float64(p))) {
			fits = false
		}
		s.balance[l.From] += q
		s.balance[l.To] -= q
		most = max(most, math.Abs(q))
	}
	for i := range s.n.Nodes {
		node := &s.n.Nodes[i]
		s.balance[i] += float64(node.Demand)
		if node.Outlet != nil {
			q, slope := node.Outlet.Flow(units.PSI(s.head[i] - s.rise[i]))
			s.balance[i] += float64(q)
			s.outSlope[i] = slope
		}
		switch {
		case node.Source == nil:
		case s.fixed[i]:
			s.give[i], s.balance[i] = s.balance[i], 0
		default:
			left, slope := pressureLeft(node.Source, s.give[i])
			s.giveSlope[i] = slope
			s.lift[i] = left + s.rise[i] - s.head[i]
			if !(math.Abs(s.lift[i]) <= fitting+1e-12*math.Abs(left)) {
				fits = false
			}
			s.balance[i] -= s.give[i]
			most = max(most, math.Abs(s.give[i]))
		}
	}
	return fits && s.residual() <= 1e-9+1e-11*most
}

// pressureLeft is what a source has at a flow, and its slope turned to be above 0:
// the source's, and a trace more, so that no source is level.
func pressureLeft(src Source, q float64) (left, fall float64) {
	p, dpdq := src.Pressure(units.GPM(q))
	return float64(p) - leastSlope*q, leastSlope - dpdq
}

func (s *Solver) residual() float64 {
	worst := 0.0
	for _, v := range s.balance {
		if v = math.Abs(v); v > worst || math.IsNaN(v) {
			worst = v
		}
	}
	return worst
}

// state hands out what was found.
func (s *Solver) state(steps int) State {
	n := s.n
	st := State{
		Pressure: make([]units.PSI, len(n.Nodes)), Out: make([]units.GPM, len(n.Nodes)), Flow: make([]units.GPM, len(n.Links)),
		Steps: steps, Residual: units.GPM(s.residual()),
	}
	for i, node := range n.Nodes {
		p := units.PSI(s.head[i] - s.rise[i])
		st.Pressure[i] = p
		st.Out[i] = node.Demand
		if node.Outlet != nil {
			q, _ := node.Outlet.Flow(p)
			st.Out[i] += q
		}
		if node.Source != nil {
			st.Out[i] -= units.GPM(s.give[i])
			if units.GPM(s.give[i]) > KnownTo(node.Source) {
				st.PastSources = append(st.PastSources, i)
			}
		}
	}
	for i, l := range n.Links {
		st.Flow[i] = units.GPM(s.flow[i])
		if units.GPM(math.Abs(s.flow[i])) > KnownTo(l.Law) {
			st.PastLinks = append(st.PastLinks, i)
		}
	}
	return st
}
