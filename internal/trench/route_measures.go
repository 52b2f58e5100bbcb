package trench

import (
	"github.com/paulmach/orb"

	"evenfall/internal/units"
)

// measures are what the routes of a job come to. The cost holds every trench once,
// what lies in it by the foot, and the boxes.
func (j *job) measures(l *lanes) Measures {
	m := Measures{By: map[Ground]units.Feet{}}
	m.Boxes, _ = j.boxes()
	m.Cost = j.cost() + j.boxCost()
	for _, e := range j.dug() {
		if j.isTube(e) || j.isLaid(e) || j.g.indoors[e] {
			continue
		}
		way, _ := j.f.walk(j.g.at[j.g.ends[e][0]], j.g.at[j.g.ends[e][1]])
		alone := j.used[e] == 1 && j.wireOnly(e)
		for _, s := range way {
			is, length := s.is, units.Feet(s.to-s.from)
			if is == Paved {
				continue
			}
			if s.rooted {
				is = Roots
			}
			m.Trench += length
			m.By[is] += length
			if alone {
				m.Wire += length
			}
		}
	}
	for _, n := range j.nets {
		for _, e := range n.tree {
			switch {
			case j.isLaid(e) || n.role == wireNet:
			case n.role == lateral:
				m.Lateral += units.Feet(j.g.length[e])
			default:
				m.Main += units.Feet(j.g.length[e])
			}
		}
	}
	for _, c := range j.crossings(l) {
		m.Crossings++
		m.Longest = max(m.Longest, units.Feet(c.length))
	}
	return m
}

// wireOnly reports whether an edge is only the wire's.
func (j *job) wireOnly(e int32) bool {
	n := j.nets[len(j.nets)-1]
	if n.role != wireNet {
		return false
	}
	for _, w := range n.tree {
		if w == e {
			return true
		}
	}
	return false
}

// boxCost is what the boxes come to; those in lawn are dearer.
func (j *job) boxCost() float64 {
	all, inLawn := j.boxes()
	return float64(j.f.rates.box*float64(all)) + float64(j.f.rates.boxLawn*float64(inLawn))
}

// boxes is how many boxes the valves take, and how many of them stand in lawn: valves
// that stand together share one.
func (j *job) boxes() (all, inLawn int) {
	type held struct {
		at    orb.Point
		count int
	}
	var boxes []held
	for _, id := range byStation(j.p) {
		at, ok := j.valves[id]
		if !ok {
			continue
		}
		found := false
		for i := range boxes {
			if b := &boxes[i]; b.count < mostInBox && apart(b.at, at) <= sameBox {
				b.count++
				found = true
				break
			}
		}
		if !found {
			boxes = append(boxes, held{at, 1})
			if is, _ := j.f.at(at); is == Lawn {
				inLawn++
			}
		}
	}
	return len(boxes), inLawn
}
