package packs

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/stakeout"
	"evenfall/internal/trench"
)

// onLine is how far off a main a point of the trench list may be for it to count as a
// place of the main, feet: lines that share a trench lie a few inches apart. Chosen.
const onLine = 0.5

// keyTargets are the places that get flags beside heads, valves and the backflow
// device: both ends of every new sleeve, and where the main bends or parts. Their names
// are those of the sleeve list and of the trench list.
func keyTargets(in Input, dig *sheets.Digging) []stakeout.Target {
	var out []stakeout.Target
	for _, s := range sheets.LaidSleeves(in.Plan, in.Design.Digs) {
		if !s.New {
			continue
		}
		of := plan.Ref("sleeves/" + string(s.ID))
		for end, at := range []orb.Point{s.From, s.To} {
			out = append(out, stakeout.Target{Of: of, Tag: fmt.Sprintf("S%d%c", s.Number, 'a'+end), What: "sleeve", At: at})
		}
	}
	var mains [][]orb.Point
	for _, id := range plan.SortedIDs(in.Plan.Pipes) {
		if v := in.Plan.Pipes[id]; v.Zone == "" && v.Status.IsNew() {
			mains = append(mains, pipework.LineOf(in.Plan, v).Points())
		}
	}
	for _, q := range dig.Points {
		if !q.Drawn || besideKey(in, out, q.At) {
			continue
		}
		for _, m := range mains {
			if d, _, _ := geom.DistanceToEdge(q.At, m); d <= onLine {
				out = append(out, stakeout.Target{Of: "pipes", Tag: q.Name, What: "main", At: q.At})
				break
			}
		}
	}
	return out
}

// besideKey reports whether a place is so near to one that has a flag already that it
// is found by that.
func besideKey(in Input, have []stakeout.Target, at orb.Point) bool {
	const close = 1.0 // feet, chosen
	near := func(q orb.Point) bool { return math.Hypot(q[0]-at[0], q[1]-at[1]) <= close }
	for _, t := range have {
		if near(t.At) {
			return true
		}
	}
	for i := range in.Design.Digs.Boxes {
		if near(in.Design.Digs.Boxes[i].At) {
			return true
		}
	}
	s := in.Plan.Supply.BackflowAt
	return s != nil && near(spotAt(*s))
}

// keyWords say what stands at a place of the list of key dimensions.
func (c *chart) keyWords(what string, at orb.Point) string {
	switch what {
	case "valve":
		for i := range c.d.Digs.Boxes {
			if x := &c.d.Digs.Boxes[i]; x.At == at {
				return boxWords(x.Kind)
			}
		}
		return "valve box"
	case "box":
		return "splice box"
	case "sleeve", "main", "backflow":
		return "" // their tags say it
	}
	return what
}

// boxWords names a valve box by its size (common practice: see trench.BoxKind).
func boxWords(k trench.BoxKind) string {
	switch k {
	case trench.RoundBox:
		return "valve box, round"
	case trench.StandardBox:
		return "valve box, standard"
	case trench.JumboBox:
		return "valve box, jumbo"
	}
	return "valve box"
}

// keyDimensions are how the places that matter are found from fixed points: valve
// boxes, sleeve ends, corners of the main, the backflow device.
func (c *chart) keyDimensions(wide float64, s *stakeout.Plan) part {
	p := part{title: c.title("Key dimensions", wide)}
	for i := range s.Flags {
		f := &s.Flags[i]
		if f.What == "head" {
			continue
		}
		p.blocks = append(p.blocks, c.tagged(f.Tag, said(c.keyWords(f.What, f.At), f.Says), wide))
	}
	for _, l := range s.Left {
		if l.What == "head" {
			continue
		}
		p.blocks = append(p.blocks, c.tagged(l.Tag, said(c.keyWords(l.What, l.At), l.Why), wide))
	}
	if len(p.blocks) > 0 {
		note := c.block("T is a place of the main in its trench, S1a an end of sleeve 1, V a valve box, BF the backflow device. Tape along the ground, to the middle of each. Letters are those of the stake-out, C5. Mark only after the utilities have marked theirs.", wide, nil)
		p.blocks = append([]block{note}, p.blocks...)
	}
	return p
}

// said is what stands somewhere, if anything is to be said of it, and how it is found.
func said(what, found string) string {
	if what == "" {
		return found
	}
	return plan.Capital(what) + ". " + found
}

// fixedPoints lists the letters that are measured from.
func (c *chart) fixedPoints(wide float64, s *stakeout.Plan) part {
	p := part{title: c.title("Fixed points", wide)}
	used := keyPoints(s)
	for i, q := range s.Points {
		if q.Flag || !used[i] {
			continue
		}
		letter := q.Letter
		p.blocks = append(p.blocks, c.block(q.Name, wide, c.letterSample(letter)))
	}
	return p
}

// keyPoints are the fixed points that key dimensions are measured from, by index: those
// of heads alone are on the stake-out.
func keyPoints(s *stakeout.Plan) map[int]bool {
	out := map[int]bool{}
	for i := range s.Flags {
		if f := &s.Flags[i]; f.What != "head" {
			out[f.From], out[f.To], out[f.Check] = true, true, true
		}
	}
	return out
}
