package proof

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/stakeout"
	"evenfall/internal/units"
)

// HeadStep is one head on the walk of setting nozzles, in the plan's units.
type HeadStep struct {
	ID       plan.ID
	Tag      string
	Zone     plan.ID
	ZoneName string
	Where    string // how it is found from the one before
	Nozzle   string
	Arc      string // "180°"
	Edge     string // where the left edge of its arc looks
	Throw    string
	Turn     string // how far it is turned down; "" not
	SetOn    string // civil date; "" not set yet
	Faults   []string
	Note     string
	X, Y     units.Feet
	Status   plan.Status
}

// stepOf is what is set on one head, without the way to it.
func stepOf(p *plan.Plan, id plan.ID, aim stakeout.Aim) HeadStep {
	h := p.Heads[id]
	n := p.Nozzles[h.Nozzle]
	s := HeadStep{ID: id, Tag: p.HeadTag(id), Zone: h.Zone, Nozzle: p.NozzleName(h.Nozzle), X: h.X, Y: h.Y, Status: h.Status}
	if h.Zone != "" {
		s.ZoneName = plan.Capital(p.ZoneName(h.Zone))
	}
	switch {
	case n.Family == catalog.Strip:
		s.Arc, s.Edge = "strip", aim.Left
	case aim.Whole || h.SweepDeg >= 360:
		s.Arc, s.Edge = p.Show.Angle(360), "all round: no edge to turn"
	default:
		s.Arc, s.Edge = p.Show.Angle(h.SweepDeg), "left edge "+aim.Left
		if aim.Right != "" {
			s.Edge += ", right stop " + aim.Right
		}
	}
	if run, err := coverage.Running(p, id); err == nil {
		s.Throw = p.Show.Length(run.Throw)
		if run.Throw < run.TableThrow*(1-turnedFrom) {
			s.Turn = fmt.Sprintf("turned down %s from %s by its screw", p.Show.Percent(units.Ratio(1-run.Throw/run.TableThrow)), p.Show.Length(run.TableThrow))
		}
	} else {
		s.Throw = "outside its nozzle's table"
	}
	if st := h.State; st != nil {
		s.SetOn, s.Note = st.SetOn, st.Note
		for _, f := range st.Faults {
			s.Faults = append(s.Faults, faultWords(p, *st, f))
		}
	}
	return s
}

// turnedFrom is the share from which a throw is told of as turned down: less is not seen
// on the ground. Chosen.
const turnedFrom = 0.01

// faultWords is a fault of a head in words, with what was noted of it.
func faultWords(p *plan.Plan, st plan.HeadState, fault string) string {
	switch {
	case fault == plan.Tilted && st.TiltDeg > 0 && st.TiltToward != nil:
		return fmt.Sprintf("leans %s to the %s", p.Show.Angle(st.TiltDeg), p.Compass(orb.Point{}, ahead(*st.TiltToward)))
	case fault == plan.Tilted && st.TiltDeg > 0:
		return "leans " + p.Show.Angle(st.TiltDeg)
	case fault == plan.WrongNozzle && st.Nozzle != "":
		return "wrong nozzle: " + st.Nozzle
	}
	return plan.Words(fault)
}

func ahead(deg units.Degrees) orb.Point {
	sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
	return orb.Point{cos, sin}
}

// Walk is the walk of setting nozzles: every head that stands, in the walking order of
// the stake-out s; heads that have no flag in it, as those that are there already, come
// where they lengthen the way least. With s nil a stake-out of all heads is made. d must
// be of p.
func Walk(p *plan.Plan, d *design.Design, s *stakeout.Plan) []HeadStep {
	if s == nil {
		s = stakeout.Of(p, d.Digs, oldHeads(p)...)
	}
	order := headOrder(p, s)
	aims := stakeout.Aims(p, s)
	says := map[plan.ID]string{}
	for i := range s.Flags {
		if c, id := s.Flags[i].Of.Split(); c == "heads" {
			says[id] = s.Flags[i].Says
		}
	}
	out := make([]HeadStep, len(order))
	for i, id := range order {
		out[i] = stepOf(p, id, aims[id])
		out[i].Edge = spelled(s, out[i].Edge)
		at := headPlace(p, id)
		if i == 0 {
			out[i].Where = spelled(s, cmp.Or(says[id], "Begin here: find it on the layout plan."))
			continue
		}
		was := headPlace(p, order[i-1])
		away := math.Hypot(at[0]-was[0], at[1]-was[1])
		out[i].Where = fmt.Sprintf("%s %s of %s", p.About(units.Feet(away)), p.Compass(was, at), p.HeadName(order[i-1]))
		if away < 1 {
			out[i].Where = "beside " + p.HeadName(order[i-1])
		}
	}
	return out
}

// oldHeads are the heads that are there already, as targets of a stake-out.
func oldHeads(p *plan.Plan) []stakeout.Target {
	var out []stakeout.Target
	for _, id := range plan.SortedIDs(p.Heads) {
		if h := p.Heads[id]; h.Status == plan.Existing {
			out = append(out, stakeout.Target{Of: plan.RefTo("heads", id), Tag: p.HeadTag(id), What: "head", At: headPlace(p, id)})
		}
	}
	return out
}

// headOrder is the order in which heads are walked to.
func headOrder(p *plan.Plan, s *stakeout.Plan) []plan.ID {
	var order []plan.ID
	in := map[plan.ID]bool{}
	for i := range s.Flags {
		c, id := s.Flags[i].Of.Split()
		if h, ok := p.Heads[id]; c == "heads" && ok && h.Status.Stands() && !in[id] {
			order, in[id] = append(order, id), true
		}
	}
	places := make([]orb.Point, len(order))
	for i, id := range order {
		places[i] = headPlace(p, id)
	}
	for _, id := range plan.SortedIDs(p.Heads) {
		if p.Heads[id].Status.Stands() && !in[id] {
			at := headPlace(p, id)
			i := leastDetour(places, at)
			order, places = slices.Insert(order, i, id), slices.Insert(places, i, at)
		}
	}
	return order
}

// headPlace is where a head stands.
func headPlace(p *plan.Plan, head plan.ID) orb.Point {
	h := p.Heads[head]
	return orb.Point{float64(h.X), float64(h.Y)}
}

// leastDetour is where a place comes into a walk so that it grows least; never before its
// beginning, unless it is empty.
func leastDetour(walk []orb.Point, at orb.Point) int {
	d := func(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
	best, least := 0, math.Inf(1)
	for i := 1; i <= len(walk); i++ {
		more := d(walk[i-1], at)
		if i < len(walk) {
			more += d(at, walk[i]) - d(walk[i-1], walk[i])
		}
		if more < least {
			best, least = i, more
		}
	}
	return best
}

// spelled puts the name of each fixed point behind its letter, since no sheet with the
// letters is at hand on the walk.
func spelled(s *stakeout.Plan, words string) string {
	list := strings.Split(words, " ")
	for i, w := range list {
		letter := strings.TrimRight(w, ".,:;")
		for _, q := range s.Points {
			if !q.Flag && q.Letter == letter {
				list[i] = fmt.Sprintf("%s (%s)%s", letter, q.Name, w[len(letter):])
			}
		}
	}
	return strings.Join(list, " ")
}
