package packs

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// sizedRun is pipe of one water, class, size and status that hangs together: it is
// labelled once, and again along every longer branch.
type sizedRun struct {
	key   runKey
	pipes []plan.ID
}

type runKey struct {
	zone, class plan.ID
	words       string // of a pipe without class
	size        float64
	status      plan.Status
}

func keyOf(v plan.Pipe) runKey {
	return runKey{v.Zone, v.Class, v.Material, float64(v.NominalIn), v.Status}
}

// sizedRuns joins pipes that differ in nothing where they meet.
func sizedRuns(p *plan.Plan) []sizedRun {
	ids := plan.SortedIDs(p.Pipes)
	parent := map[plan.ID]plan.ID{}
	root := func(id plan.ID) plan.ID {
		for parent[id] != id {
			parent[id] = parent[parent[id]]
			id = parent[id]
		}
		return id
	}
	type end struct {
		node plan.ID
		key  runKey
	}
	first := map[end]plan.ID{}
	for _, id := range ids {
		parent[id] = id
		v := p.Pipes[id]
		for _, n := range []plan.ID{v.From, v.To} {
			e := end{n, keyOf(v)}
			if other, ok := first[e]; ok {
				parent[root(id)] = root(other)
			} else {
				first[e] = id
			}
		}
	}
	at := map[plan.ID]int{}
	var out []sizedRun
	for _, id := range ids {
		r := root(id)
		k, ok := at[r]
		if !ok {
			k = len(out)
			at[r] = k
			out = append(out, sizedRun{key: keyOf(p.Pipes[id])})
		}
		out[k].pipes = append(out[k].pipes, id)
	}
	return out
}

// usualOf is the class that most pipe of the main, or of the laterals, has by number
// of pipes; "" when there is no pipe of a class.
func (c *chart) usualOf(main bool) plan.ID {
	count := map[plan.ID]int{}
	for _, v := range c.p.Pipes {
		if (v.Zone == "") == main && v.Class != "" && v.Status.Stands() {
			count[v.Class]++
		}
	}
	best := plan.ID("")
	for _, id := range plan.SortedIDs(count) {
		if best == "" || count[id] > count[best] {
			best = id
		}
	}
	return best
}

// usualClass says of which class pipe is where nothing else is written at it.
func (c *chart) usualClass(main bool) string {
	if id := c.usualOf(main); id != "" {
		return ": " + c.p.PipeClassName(id) + " where nothing else is said"
	}
	return ""
}

// notSized is written along pipe without a size.
const notSized = "not sized"

// runWords is the label of a run: its size, and its class where it is not the usual.
func (c *chart) runWords(k runKey) string {
	size := notSized
	if k.size > 0 {
		size = c.p.Show.PipeSize(units.Inches(k.size))
	}
	parts := []string{size}
	switch {
	case k.class == "" && k.words != "":
		parts = append(parts, k.words)
	case k.class != "" && k.class != c.usualOf(k.zone == ""):
		parts = append(parts, cmp.Or(c.p.PipeClassName(k.class), string(k.class)))
	}
	if k.status == plan.Remove {
		parts = append(parts, "goes")
	}
	return strings.Join(parts, ", ")
}

// sizes wants a label with its size along every run of pipe: one that must find a
// place or stand in the list, and more along its longer pieces.
func (c *chart) sizes() {
	l := c.lanesOf(true)
	for _, r := range sizedRuns(c.p) {
		type piece struct {
			id     plan.ID
			a, b   orb.Point
			length float64
			many   int // lines of its trench
		}
		var pieces []piece
		for _, id := range r.pipes {
			if a, b, length := longest(c.pipePath(id, l)); length > 0 {
				pieces = append(pieces, piece{id, a, b, length, l.most(id)})
			}
		}
		slices.SortStableFunc(pieces, func(a, b piece) int { return cmp.Compare(b.length, a.length) })
		words := c.runWords(r.key)
		var said []orb.Point
		for i, p := range pieces {
			text := drawing.Text{S: words, Size: 5.8 * c.k, Halo: true, Ink: c.runInk(r.key)}
			if p.many > 1 {
				text.S = c.waterTag(r.key.zone) + " " + words
			}
			mid := orb.Point{(p.a[0] + p.b[0]) / 2, (p.a[1] + p.b[1]) / 2}
			if i > 0 && (p.length*c.perFoot < 2*text.Width() || c.nearAny(mid, said)) {
				continue
			}
			said = append(said, mid)
			c.labels = append(c.labels, label{
				about: mid, along: []orb.Point{p.a, p.b}, of: plan.RefTo("pipes", p.id),
				without: i > 0, want: drawing.Want{Text: text, Clear: (1.5 + laneWide/2*float64(p.many-1)) * c.k, Leader: c.leaderIf(i == 0 || p.many > 1 && i < 3), Priority: 6 - min(i, 4)},
			})
		}
	}
}

// sizeAgain is how far apart on Letter labels of one run of pipe are at least, points.
// Chosen.
const sizeAgain = 80.0

// nearAny reports whether a place is nearer to one of others than labels of one run are.
func (c *chart) nearAny(at orb.Point, others []orb.Point) bool {
	for _, o := range others {
		if math.Hypot(o[0]-at[0], o[1]-at[1])*c.perFoot < sizeAgain*c.k {
			return true
		}
	}
	return false
}

// waterTag says whose water is in a pipe, where several lie side by side: the valve's
// tag, or the main's.
func (c *chart) waterTag(zone plan.ID) string {
	if zone == "" {
		return "main"
	}
	return c.valveTag(zone)
}

func (c *chart) leaderIf(yes bool) drawing.Pen {
	if yes {
		return c.leader()
	}
	return drawing.Pen{}
}

func (c *chart) runInk(k runKey) drawing.Ink {
	if m, ok := c.zones[k.zone]; ok {
		return m.ink()
	}
	return drawing.Black
}
