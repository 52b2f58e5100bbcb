package stakeout

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/quadtree"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// Of works out the stake-out of a plan: flags for what is new, in walking order. d may be
// nil; more are the caller's own targets. p must be valid. Its cost goes with the number
// of flags, but for a search among neighbours that goes with its logarithm.
func Of(p *plan.Plan, d *trench.Digs, more ...Target) *Plan {
	w := &work{p: p, g: groundOf(p), s: &Plan{Tape: Reach}, lettered: map[int]int{}}
	targets := slices.DeleteFunc(targetsOf(p, d, more), func(t Target) bool {
		return t.What == "controller" && hidden(t.At, w.g.buildings) // no flag stands indoors
	})
	w.s.Out = w.outOf()
	if len(targets) == 0 {
		return w.s
	}
	w.own(targets)
	w.plant()
	order := w.walk(targets)
	var later []Target
	for _, i := range order {
		if t := targets[i]; !w.place(t) {
			later = append(later, t)
		}
	}
	w.fromFlags(later)
	w.name()
	w.say()
	return w.s
}

// work is one stake-out in the making.
type work struct {
	p        *plan.Plan
	g        *ground
	s        *Plan
	tree     *quadtree.Quadtree // of the spots
	lettered map[int]int        // of Plan.Points, by spot
	letters  int                // given so far
	set      *quadtree.Quadtree // of the flags set so far, for checks
	last     [2]int             // the spots the tapes are hooked to; -1: none
}

// planted is a spot or a flag in a tree.
type planted struct {
	at orb.Point
	i  int
}

func (q planted) Point() orb.Point { return q.at }

// plant puts the fixed points into a tree and makes one for flags.
func (w *work) plant() {
	box := orb.Bound{Min: orb.Point{-2 * float64(units.MaxLength), -2 * float64(units.MaxLength)}, Max: orb.Point{2 * float64(units.MaxLength), 2 * float64(units.MaxLength)}}
	w.tree, w.set = quadtree.New(box), quadtree.New(box)
	for i, s := range w.g.spots {
		_ = w.tree.Add(planted{s.at, i}) // inside: no plan reaches farther
	}
	w.last = [2]int{-1, -1}
}

// nearest are the neighbours of a place in a tree, by distance, those as near by number.
func nearest(tree *quadtree.Quadtree, at orb.Point, k int, within float64) []planted {
	found := tree.KNearest(nil, at, k, within)
	out := make([]planted, len(found))
	for i, f := range found {
		out[i] = f.(planted)
	}
	sortPlanted(out, at)
	return out
}

const (
	lookAt = 48 // fixed points that are looked at for a flag
	keep   = 16 // of them in sight that are weighed. Both chosen.
)

// sight is a fixed point in sight of a place.
type sight struct {
	spot int
	d    float64
	u    orb.Point // direction from the point to the place
}

// inSight are the fixed points in sight of a place within the tape's reach, nearest first.
func (w *work) inSight(at orb.Point) []sight {
	var out []sight
	for _, q := range nearest(w.tree, at, lookAt, float64(Reach)) {
		d := apart(q.at, at)
		if d < leastTape || !w.g.walls.sees(q.at, at) {
			continue
		}
		out = append(out, sight{q.i, d, orb.Point{(at[0] - q.at[0]) / d, (at[1] - q.at[1]) / d}})
		if len(out) == keep {
			break
		}
	}
	return out
}

// leastTape is the shortest tape that tells a direction, in feet. Chosen.
const leastTape = 0.5

// place sets the flag of a target, and reports whether there is a way to.
func (w *work) place(t Target) bool {
	if hidden(t.At, w.g.buildings) {
		return false
	}
	seen := w.inSight(t.At)
	f := Flag{Of: t.Of, Tag: t.Tag, What: t.What, At: t.At, Check: -1, Near: -1}
	along, ok := w.along(t.At)
	if !ok || w.g.edges[along.edge].rank == ofLot {
		if pair, two := w.tapes(seen); two {
			w.byTapes(&f, pair)
			w.check(&f, seen)
			w.flag(f)
			return true
		}
	}
	if !ok {
		return false
	}
	w.byEdge(&f, along)
	w.check(&f, seen)
	w.flag(f)
	return true
}

func (w *work) flag(f Flag) {
	_ = w.set.Add(planted{f.At, len(w.s.Flags)})
	w.s.Flags = append(w.s.Flags, f)
}

// point gives a spot its letter when it is first used.
func (w *work) point(spot int) int {
	if i, ok := w.lettered[spot]; ok {
		return i
	}
	s := w.g.spots[spot]
	i := len(w.s.Points)
	w.lettered[spot] = i
	q := Point{At: s.at, Name: s.name, Of: s.of, Post: s.rank == ofLot, Own: s.rank == ofStake, Flag: s.rank == ofFlag, Letter: s.tag}
	if !q.Flag {
		q.Letter = letter(w.letters)
		w.letters++
	}
	w.s.Points = append(w.s.Points, q)
	return i
}

// letter is A … Z, AA, AB … by number from 0.
func letter(n int) string {
	out := string(rune('A' + n%26))
	for n = n/26 - 1; n >= 0; n = n/26 - 1 {
		out = string(rune('A'+n%26)) + out
	}
	return out
}

// printed is a distance as it is printed: to half an inch, or 1 cm.
func (w *work) printed(d float64) units.Feet {
	if w.p.Show == units.Metric {
		return units.FeetFromMetres(math.Round(units.Feet(d).Metres()*100) / 100)
	}
	return units.Feet(math.Round(d*24) / 24)
}

func lengthOf(d float64) units.Feet { return units.Feet(d) }

// why says what keeps a tape from a target.
func (w *work) why(t Target) string {
	for _, s := range w.g.buildings {
		if s.holds(t.At) {
			return "It stands inside " + w.p.AreaName(s.id) + ": set it out from the walls there."
		}
	}
	seen := w.inSight(t.At)
	switch len(seen) {
	case 0:
		return fmt.Sprintf("No fixed point is in sight within %s.", w.p.Show.Length(Reach))
	case 1:
		return fmt.Sprintf("Only one fixed point is in sight within %s: %s.", w.p.Show.Length(Reach), w.g.spots[seen[0].spot].called())
	}
	return "The fixed points in sight lie in one direction, so that tapes from them do not cross well."
}
