package arrange

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func gpm(v float64) units.GPM { return units.GPM(v) }

func abs(v float64) float64 { return math.Abs(v) }

func shareOf(of, whole float64) units.Ratio {
	if !(whole > 0) {
		return 0
	}
	return units.Ratio(of / whole)
}

// middleOf is the middle of the heads after a mend, or before where none is left.
func middleOf(to, from []Placed) orb.Point {
	if len(to) == 0 {
		to = from
	}
	var sum orb.Point
	for _, h := range to {
		sum[0] += h.At[0]
		sum[1] += h.At[1]
	}
	n := max(float64(len(to)), 1)
	return orb.Point{sum[0] / n, sum[1] / n}
}

// telling puts a mend into words.
type telling struct {
	m             *mender
	r             *remedy
	p, next       *plan.Plan
	before, after *trouble
	mend          *Mend
}

func (t *telling) names() string {
	if t.r.kind == MendAdd {
		return t.next.HeadNames(t.r.heads())
	}
	return t.p.HeadNames(t.r.heads())
}

// label is the name of the step.
func (t *telling) label() string {
	verb := map[string]string{
		MendArc: "Turn the arc of ", MendThrow: "Change the throw of ", MendNozzle: "Change ", MendMove: "Move ", MendAdd: "Add ", MendRemove: "Remove ",
	}[t.r.kind]
	return verb + t.names()
}

// says is the change in a sentence.
func (t *telling) says() string {
	switch t.r.kind {
	case MendMove:
		return t.moveWords()
	case MendArc:
		return t.arcWords()
	case MendThrow:
		return t.throwWords()
	case MendNozzle:
		return t.nozzleWords()
	case MendAdd:
		h := t.mend.To[0]
		return fmt.Sprintf("Add %s %s: %s%s%s.", t.names(), t.p.Whereabouts(h.At), t.next.NozzleName(h.Nozzle), t.setWords(h), t.arcName(h))
	default:
		return fmt.Sprintf("Remove %s.", t.names())
	}
}

// arcName is the arc of a head that is added, and where it faces.
func (t *telling) arcName(h Placed) string {
	switch {
	case t.next.Nozzles[h.Nozzle].Family == catalog.Strip:
		return ""
	case h.Sweep >= 360:
		return ", a full circle"
	case t.next.Nozzles[h.Nozzle].Fixed():
		return ", facing " + t.facing(h)
	}
	return fmt.Sprintf(", an arc of %s facing %s", t.p.Show.Angle(h.Sweep), t.facing(h))
}

// setWords says to what a throw is set: ", set to 22'"; "" when it is the table's.
func (t *telling) setWords(h Placed) string {
	if !h.Turned {
		return ""
	}
	return ", set to " + t.feet(h.Throw)
}

// feet prints a throw as it is set: whole feet plainly.
func (t *telling) feet(v units.Feet) string {
	if t.p.Show != units.Metric && abs(float64(v-whole(v))) < 0.02 {
		return fmt.Sprintf("%.0f ft", float64(v))
	}
	return t.p.Show.Length(v)
}

func (t *telling) moveWords() string {
	from, to := t.mend.From[0].At, t.mend.To[0].At
	far := apart(from, to)
	length := "about " + t.p.About(units.Feet(far))
	if far < 2 {
		length = t.p.Show.Length(units.Feet(far))
	}
	way := " " + t.p.Compass(from, to)
	for i := range t.mend.To {
		a, b := t.mend.From[i].At, t.mend.To[i].At
		if abs(math.Remainder(geom.Bearing(a, b)-geom.Bearing(from, to), 360)) > 20 || abs(apart(a, b)-far) > 0.5 {
			return fmt.Sprintf("Move %s %s to where they keep their distance.", t.names(), t.lengths())
		}
	}
	text := fmt.Sprintf("Move %s %s%s", t.names(), length, way)
	if len(t.mend.To) == 1 {
		text += t.halfway(t.r.of[0].id, to)
	}
	if t.r.of[0].arc != nil && len(t.mend.To) == 1 {
		text += fmt.Sprintf(", its arc turned with the edge to face %s", t.facing(t.mend.To[0]))
	}
	return text + "."
}

// lengths are the least and the greatest distance of moves that differ.
func (t *telling) lengths() string {
	least, most := math.Inf(1), 0.0
	for i := range t.mend.To {
		d := apart(t.mend.From[i].At, t.mend.To[i].At)
		least, most = min(least, d), max(most, d)
	}
	a, b := t.p.Show.Length(units.Feet(least)), t.p.Show.Length(units.Feet(most))
	if a == b {
		return a
	}
	return a + " to " + b
}

// halfway says between which two heads a place lies halfway, give or take two
// feet; "" between none. Those ahead and behind on the way there come first, of
// these the nearest.
func (t *telling) halfway(id plan.ID, p orb.Point) string {
	var a, b plan.ID
	least := math.Inf(1)
	way := geom.Bearing(t.mend.From[0].At, p)
	heads := slices.DeleteFunc(plan.SortedIDs(t.next.Heads), func(k plan.ID) bool {
		h := t.after.head(k)
		return k == id || h == nil || h.Area != t.mend.Area || apart(spotOf(t.next.Heads[k]), p) > 1.5*float64(t.mend.To[0].Throw)
	})
	for i, x := range heads {
		for _, y := range heads[:i] {
			u, v := spotOf(t.next.Heads[x]), spotOf(t.next.Heads[y])
			du, dv := apart(u, p), apart(v, p)
			beside := abs(math.Remainder(geom.Bearing(p, u)-geom.Bearing(p, v)-180, 360))
			aside := abs(math.Remainder(2*(geom.Bearing(u, v)-way), 360)) / 2
			if abs(du-dv) > min(4, 0.2*(du+dv)) || beside > 15 {
				continue
			}
			if far := du + dv + 100*math.Floor(aside/30); far < least {
				a, b, least = y, x, far
			}
		}
	}
	if a == "" {
		return ""
	}
	return ", about halfway between " + t.next.HeadNames([]plan.ID{a, b})
}

// facing is the middle of an arc in words.
func (t *telling) facing(h Placed) string {
	sin, cos := math.Sincos(float64(h.Start+h.Sweep/2) * math.Pi / 180)
	return t.p.Compass(h.At, orb.Point{h.At[0] + cos, h.At[1] + sin})
}

// arcWords tells how an arc is turned, as seen from the head: its right edge is
// where it starts, since arcs run anticlockwise.
func (t *telling) arcWords() string {
	was, is := t.mend.From[0], t.mend.To[0]
	right := math.Remainder(float64(is.Start-was.Start), 360) // anticlockwise: in
	left := math.Remainder(float64(was.Start+was.Sweep-is.Start-is.Sweep), 360)
	nozzle := ""
	if is.Nozzle != was.Nozzle {
		nozzle = fmt.Sprintf(", with another nozzle in the same body, %s%s", t.next.NozzleName(is.Nozzle), t.setWords(is))
	}
	angle := func(v float64) string { return t.p.Show.Angle(units.Degrees(abs(v))) }
	inOut := func(v float64) string { return plan.Choose(boolInt(v > 0), "in", "out") }
	name := t.names()
	switch {
	case len(t.mend.To) > 1:
		return fmt.Sprintf("Set the arcs of %s to %s%s.", name, t.p.Show.Angle(is.Sweep), nozzle)
	case is.Sweep >= 360:
		return fmt.Sprintf("Open the arc of %s from %s to a full circle%s.", name, t.p.Show.Angle(was.Sweep), nozzle)
	case was.Sweep >= 360:
		return fmt.Sprintf("Set the arc of %s from a full circle to %s, facing %s%s.", name, t.p.Show.Angle(is.Sweep), t.facing(is), nozzle)
	case abs(right+left) < 0.5 && abs(right) >= 0.5:
		return fmt.Sprintf("Turn the arc of %s by %s to the %s, to face %s%s.", name, angle(right), plan.Choose(boolInt(right > 0), "left", "right"), t.facing(is), nozzle)
	case abs(left) < 0.5:
		return fmt.Sprintf("Turn the right edge of the arc of %s %s by %s, to an arc of %s%s.", name, inOut(right), angle(right), t.p.Show.Angle(is.Sweep), nozzle)
	case abs(right) < 0.5:
		return fmt.Sprintf("Turn the left edge of the arc of %s %s by %s, to an arc of %s%s.", name, inOut(left), angle(left), t.p.Show.Angle(is.Sweep), nozzle)
	}
	return fmt.Sprintf("Set the arc of %s to %s facing %s: its right edge %s by %s, its left edge %s by %s%s.",
		name, t.p.Show.Angle(is.Sweep), t.facing(is), inOut(right), angle(right), inOut(left), angle(left), nozzle)
}
