package sheets

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// cellOf is the square of a grid that a place lies in.
func cellOf(at orb.Point, size float64) [2]int {
	return [2]int{int(math.Floor(at[0] / size)), int(math.Floor(at[1] / size))}
}

func spanned(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// things says which thing stands at which spot. A node stands where its own pipes end,
// though they lie in the trench of another a little beside it.
func (w *walk) things() {
	const reach = 1.0 // feet: as far as trench joins wire to what stands beside it
	ending := map[plan.ID][]plan.ID{}
	for _, id := range plan.SortedIDs(w.p.Pipes) {
		v := w.p.Pipes[id]
		ending[v.From] = append(ending[v.From], id)
		ending[v.To] = append(ending[v.To], id)
	}
	for _, id := range plan.SortedIDs(w.p.Nodes) {
		n := w.p.Nodes[id]
		s, ok := w.nodeStands(n)
		if !ok || !n.Status.Stands() {
			continue
		}
		var among []int
		for _, v := range ending[id] {
			for _, k := range w.pipes[v] {
				among = append(among, w.pieces[k].ends[0], w.pieces[k].ends[1])
			}
		}
		w.stand(orb.Point{float64(n.X), float64(n.Y)}, among, reach, s)
	}
	all := make([]int, len(w.spots))
	for k := range all {
		all[k] = k
	}
	if c := w.p.Controller; c.At != nil && c.Status.Stands() {
		w.stand(orb.Point{float64(c.At.X), float64(c.At.Y)}, all, reach, standing{4, "", "controller"})
	}
	for _, id := range plan.SortedIDs(w.p.Boxes) {
		if b := w.p.Boxes[id]; b.Status.Stands() {
			says := b.Name
			if says == "" {
				says = "splice box"
			}
			w.stand(orb.Point{float64(b.X), float64(b.Y)}, all, reach, standing{5, "", says})
		}
	}
	for _, id := range plan.SortedIDs(w.p.Sensors) {
		if v := w.p.Sensors[id]; v.Status.Stands() && !v.Wireless {
			w.stand(orb.Point{float64(v.X), float64(v.Y)}, all, reach, standing{6, "", v.Kind + " sensor"})
		}
	}
}

// nodeStands names what a node of pipe is the joint of.
func (w *walk) nodeStands(n plan.Node) (standing, bool) {
	switch n.Kind {
	case "connection":
		return standing{0, "", "point of connection"}, true
	case "backflow":
		return standing{1, "", "backflow device"}, true
	case "valve":
		s := standing{2, "", "valve of " + w.p.ZoneName(n.Zone)}
		if station := w.p.Zones[n.Zone].Station; station > 0 {
			s.name = fmt.Sprintf("V%d", station)
		}
		return s, true
	case "head":
		h, there := w.p.Heads[n.Head]
		return standing{3, w.p.HeadName(n.Head), w.p.HeadName(n.Head)}, there && h.Status.Stands()
	case "drain":
		return standing{4, "", "drain"}, true
	}
	return standing{}, false
}

// stand sets a thing at the nearest of some spots within reach.
func (w *walk) stand(at orb.Point, among []int, reach float64, s standing) {
	if best := w.nearest(at, among, reach); best >= 0 {
		w.spots[among[best]].stands = append(w.spots[among[best]].stands, s)
	}
}

// joinAll joins pieces end to end, as long as they hold the same and are made the same
// way; where several go on, the straightest does.
func (w *walk) joinAll() {
	type end struct {
		spot int
		key  string
	}
	at := map[end][]int{}
	taken := make([]bool, len(w.pieces))
	for k := range w.pieces {
		e := &w.pieces[k]
		if e.short {
			taken[k] = true
			continue
		}
		a, b := w.of(e.ends[0]), w.of(e.ends[1])
		if length := w.d.Segments[e.segment].Length; a == b && length < 2*Spade {
			w.leave(k)
			taken[k] = true
			continue
		}
		at[end{a, e.key}] = append(at[end{a, e.key}], k)
		if a != b {
			at[end{b, e.key}] = append(at[end{b, e.key}], k)
		}
	}
	// onward is the piece to go on by from where one ends, -1 for none.
	onward := func(k int, spot int) int {
		best, least := -1, math.Inf(1)
		back := w.heading(k, spot)
		for _, o := range at[end{w.of(spot), w.pieces[k].key}] {
			if taken[o] {
				continue
			}
			out := w.heading(o, w.endAt(o, w.of(spot)))
			if turn := math.Pi - turned(back, out); turn < least-1e-9 {
				best, least = o, turn
			}
		}
		return best
	}
	for k := range w.pieces {
		if taken[k] {
			continue
		}
		taken[k] = true
		s := joined{pieces: []int{k}, spots: []int{w.pieces[k].ends[0], w.pieces[k].ends[1]}}
		for way := range 2 {
			for {
				last := len(s.pieces) - 1
				o := onward(s.pieces[last], s.spots[last+1])
				if o < 0 {
					break
				}
				taken[o] = true
				s.pieces = append(s.pieces, o)
				s.spots = append(s.spots, w.farEnd(o, w.of(s.spots[last+1])))
			}
			slices.Reverse(s.pieces)
			slices.Reverse(s.spots)
			if way == 0 && w.of(s.spots[0]) == w.of(s.spots[len(s.spots)-1]) && len(s.pieces) > 1 {
				slices.Reverse(s.pieces)
				slices.Reverse(s.spots)
				break // a ring
			}
		}
		for _, o := range s.pieces {
			s.Length += w.d.Segments[w.pieces[o].segment].Length
		}
		w.stretches = append(w.stretches, s)
	}
}

// endAt is the end of a piece that lies at a spot; farEnd the other one.
func (w *walk) endAt(k, spot int) int {
	if w.of(w.pieces[k].ends[0]) == spot {
		return w.pieces[k].ends[0]
	}
	return w.pieces[k].ends[1]
}

func (w *walk) farEnd(k, spot int) int {
	if w.of(w.pieces[k].ends[0]) == spot {
		return w.pieces[k].ends[1]
	}
	return w.pieces[k].ends[0]
}

// heading is the direction, in radians, in which a piece leaves one of its ends.
func (w *walk) heading(k, end int) float64 {
	a, b := w.spots[w.pieces[k].ends[0]].at, w.spots[w.pieces[k].ends[1]].at
	if end == w.pieces[k].ends[1] && end != w.pieces[k].ends[0] {
		a, b = b, a
	}
	return math.Atan2(b[1]-a[1], b[0]-a[0])
}

// turned is the angle between two directions, from 0 to π.
func turned(a, b float64) float64 {
	t := math.Mod(math.Abs(a-b), 2*math.Pi)
	return min(t, 2*math.Pi-t)
}
