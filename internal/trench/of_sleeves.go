package trench

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// serve tells what sleeves each crossing takes and which drawn ones serve it.
func (w *work) serve(d *Digs) {
	walk, _ := w.p.Figure(plan.DepthWalk)
	drive, _ := w.p.Figure(plan.DepthDrive)
	main, _ := w.p.Figure(plan.DepthMain)
	lateral, _ := w.p.Figure(plan.DepthLateral)
	longest, _ := w.p.Figure(plan.BoreLongest)
	held := w.held(d)
	for i := range d.Crossings {
		c := &d.Crossings[i]
		a := w.p.Areas[c.Area]
		cover := walk
		if driven(a, c.Length) {
			cover = drive
		}
		for _, id := range c.Pipes {
			if cover = max(cover, lateral); !w.net.Pipes[id].Valved {
				cover = max(cover, main)
			}
		}
		c.Cover = inches(cover)
		c.Sleeves = held[i]
		c.Needs = w.needs(d, i)
		c.Method = "water_bore"
		switch {
		case a.Status.IsNew():
			c.Method = "before_paving"
		case float64(c.Length) > longest:
			c.Method = "other_bore"
		}
		for _, id := range c.Sleeves {
			if m := w.p.Sleeves[id].Method; m != "" {
				c.Method = m
				break
			}
		}
		there := len(c.Sleeves) > 0 && !slices.ContainsFunc(c.Needs, func(n Need) bool {
			return n.Sleeve == "" || w.p.Sleeves[n.Sleeve].Status.IsNew()
		})
		c.New = c.New && !there
	}
}

// sleeveOff is how far off a way through paving a sleeve may be drawn that is there
// for it, in feet. Chosen: a trench bends a little towards its sleeve.
const sleeveOff = 1.5

// held finds for each crossing the drawn sleeves that lie along it, by id: each
// sleeve at the nearest of every paving it goes through.
func (w *work) held(d *Digs) [][]plan.ID {
	out := make([][]plan.ID, len(d.Crossings))
	for _, id := range plan.SortedIDs(w.p.Sleeves) {
		v := w.p.Sleeves[id]
		if !v.Status.Stands() {
			continue
		}
		type nearest struct {
			off      float64
			crossing int
		}
		best := map[plan.ID]nearest{}
		for i, c := range d.Crossings {
			for _, x := range w.passes[i] {
				if off, ok := offSleeve(v, x); ok {
					if b, some := best[c.Area]; !some || off < b.off {
						best[c.Area] = nearest{off, i}
					}
				}
			}
		}
		for _, b := range best { // each adds to a list of its own
			out[b.crossing] = append(out[b.crossing], id)
		}
	}
	return out
}

// offSleeve is how far a way through paving runs beside a sleeve; not at all unless
// the sleeve lies along half of it.
func offSleeve(v plan.Sleeve, x pass) (float64, bool) {
	a, b := SleeveEnds(v)
	l := line{a: a, b: b, length: math.Hypot(b[0]-a[0], b[1]-a[1])}
	if l.length < tiny {
		return 0, false
	}
	ux, uy := (b[0]-a[0])/l.length, (b[1]-a[1])/l.length
	at := func(p orb.Point) (float64, float64) {
		return (p[0]-a[0])*ux + (p[1]-a[1])*uy, math.Abs((p[1]-a[1])*ux - (p[0]-a[0])*uy)
	}
	t0, off0 := at(x.from)
	t1, off1 := at(x.to)
	off := max(off0, off1)
	chord := math.Hypot(x.to[0]-x.from[0], x.to[1]-x.from[1])
	along := min(max(t0, t1), l.length) - max(min(t0, t1), 0)
	return off, off <= sleeveOff && chord > 0 && along >= chord/2
}

// sleeveSizes are the sizes sleeves are made in, in inches (common practice: pipe
// of Schedule 40 or Class 200).
var sleeveSizes = []units.Inches{0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4, 6, 8, 10, 12}

// made rounds a size up to one that is made.
func made(size float64) units.Inches {
	for _, s := range sleeveSizes {
		if float64(s) >= size-1e-9 {
			return s
		}
	}
	return inches(math.Ceil(size))
}

// SleeveFor is the size of a sleeve for pipes side by side, by their sizes: times
// the size of one pipe that has the section of all of them, as large as it is made.
// Of one pipe it is the trade's two times its size. 0 where a size is not known.
func SleeveFor(times float64, pipes ...units.Inches) units.Inches {
	sum := 0.0
	for _, s := range pipes {
		if s == 0 {
			return 0
		}
		sum += float64(s) * float64(s)
	}
	return made(times * math.Sqrt(sum))
}

// WireSleeve is the size of a sleeve for so many single conductors: 1 in to 12, 1-1/2
// in to 30, 2 in beyond. From a conductor of about 0.16 in over its insulation and
// two fifths of the section filled (18 to 14 AWG; from memory), less some to pull by.
func WireSleeve(conductors int) units.Inches {
	switch {
	case conductors <= 12:
		return 1
	case conductors <= 30:
		return 1.5
	}
	return 2
}

// needs are the sleeves a crossing takes: for its pipes one, or as many as are drawn
// for them; one for wire; and a spare where the paving is still to be laid.
func (w *work) needs(d *Digs, i int) []Need {
	c := &d.Crossings[i]
	times, _ := w.p.Figure(plan.SleeveTimes)
	var forPipes, forWire, spare, any []plan.ID
	for _, id := range c.Sleeves {
		switch w.p.Sleeves[id].Carries {
		case "pipe":
			forPipes = append(forPipes, id)
		case "wire":
			forWire = append(forWire, id)
		case "spare":
			spare = append(spare, id)
		default:
			any = append(any, id)
		}
	}
	take := func(list *[]plan.ID) plan.ID {
		if len(*list) == 0 {
			list = &any
		}
		if len(*list) == 0 {
			return ""
		}
		id := (*list)[0]
		*list = (*list)[1:]
		return id
	}
	// What carries whatever crosses goes to the pipes first, the largest.
	slices.SortStableFunc(any, func(a, b plan.ID) int {
		return cmp.Compare(w.p.Sleeves[b].NominalIn, w.p.Sleeves[a].NominalIn)
	})
	var out []Need
	if len(c.Pipes) > 0 {
		if len(forPipes) == 0 {
			if id := take(&forPipes); id != "" {
				forPipes = []plan.ID{id}
			}
		}
		for _, share := range w.shares(i, forPipes) {
			sizes := make([]units.Inches, len(share.pipes))
			for k, id := range share.pipes {
				sizes[k] = w.p.Pipes[id].NominalIn
			}
			n := Need{Carries: "pipe", Nominal: SleeveFor(times, sizes...), Sleeve: share.sleeve}
			n.Why = w.whySize(times, share.pipes, n.Nominal)
			out = append(out, n)
		}
	}
	if len(c.Ways) > 0 || w.hasWire(i) {
		n := w.conductors(d, c)
		out = append(out, Need{Carries: "wire", Nominal: WireSleeve(n), Sleeve: take(&forWire), Why: whyWire(n, WireSleeve(n), w.p.Show)})
	}
	if w.p.Areas[c.Area].Status.IsNew() && len(out) > 0 {
		out = append(out, Need{Carries: "spare", Nominal: max(out[0].Nominal, 1), Sleeve: take(&spare), Why: "a spare costs little before the paving is laid, and much after"})
	}
	return out
}

func (w *work) hasWire(i int) bool {
	return slices.ContainsFunc(w.passes[i], func(x pass) bool { return w.strands[x.strand].wire != "" })
}

// conductors counts those of the ways through a crossing: one hot each, two of a
// sensor, the common and the spares.
func (w *work) conductors(d *Digs, c *Crossing) int {
	spares, _ := w.p.Figure(plan.WireSpares)
	n := 0
	for _, i := range c.Ways {
		if collection, _ := d.Ways[i].To.Split(); collection == "sensors" {
			n += 2
		} else {
			n++
		}
	}
	return n + 1 + int(spares)
}

// share is the pipes that go through one sleeve.
type share struct {
	sleeve plan.ID // "" none is drawn
	pipes  []plan.ID
}

// shares gives each pipe of a crossing the nearest of the sleeves drawn for pipe, and
// one that would stay empty what lies nearest to it of those that hold several.
func (w *work) shares(i int, sleeves []plan.ID) []share {
	out := make([]share, max(len(sleeves), 1))
	off := make([]map[plan.ID]float64, len(out)) // of each pipe from each sleeve
	for k := range out {
		off[k] = map[plan.ID]float64{}
		if k < len(sleeves) {
			out[k].sleeve = sleeves[k]
		}
	}
	for _, x := range w.passes[i] {
		id := w.strands[x.strand].pipe
		if id == "" {
			continue
		}
		best, at := math.Inf(1), 0
		for k, sleeve := range sleeves {
			if d, ok := offSleeve(w.p.Sleeves[sleeve], x); ok {
				off[k][id] = d
				if d < best {
					best, at = d, k
				}
			}
		}
		if !slices.Contains(out[at].pipes, id) {
			out[at].pipes = append(out[at].pipes, id)
		}
	}
	for k := range out {
		if len(out[k].pipes) > 0 {
			continue
		}
		best, from, pipe := math.Inf(1), -1, plan.ID("")
		for m := range out {
			for _, id := range out[m].pipes {
				if d, ok := off[k][id]; ok && d < best && len(out[m].pipes) > 1 {
					best, from, pipe = d, m, id
				}
			}
		}
		if from >= 0 {
			out[from].pipes = slices.DeleteFunc(out[from].pipes, func(id plan.ID) bool { return id == pipe })
			out[k].pipes = append(out[k].pipes, pipe)
		}
	}
	return slices.DeleteFunc(out, func(s share) bool { return len(s.pipes) == 0 })
}
