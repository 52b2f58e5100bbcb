package drawing

import "github.com/paulmach/orb"

// Limits of a repair: chosen, so that hundreds of labels are placed in a few tens of
// milliseconds.
const (
	chainLong  = 3   // labels that move for one another
	moversMost = 2   // that move at once for one place
	workMost   = 900 // places looked at for one label
	lostMost   = 300 // labels that found no place, after which no leader is sought: the sheet is full
)

// find places a label: where it is free by what it names, there with others moved for
// it, with a short leader, and at last with more moved or with a long leader.
func (s *settling) find(i int) bool {
	l := &s.labels[i]
	if p := s.free(l.near, i); p != nil {
		s.put(i, p)
		return true
	}
	s.work = 0
	if s.push(i, l.near, 1, nil) {
		return true
	}
	if s.lost > lostMost {
		return false
	}
	short := cheaper(s.led(i), costFarLed)
	if p := s.free(short, i); p != nil {
		s.put(i, p)
		return true
	}
	s.work = 0
	if s.push(i, l.near, chainLong, nil) || s.push(i, short, chainLong, nil) {
		return true
	}
	p := s.free(l.off, i)
	if p == nil {
		s.lost++
		return false
	}
	s.put(i, p)
	return true
}

// better moves labels to cheaper places that became free, those that stand off and
// those that found none first.
func (s *settling) better(order []int) {
	for range 2 {
		for _, i := range order {
			l := &s.labels[i]
			if l.now == nil {
				s.find(i)
				continue
			}
			if l.now.cost < 0.5 {
				continue
			}
			was := l.now
			s.take(i)
			if p := s.free(cheaper(l.near, was.cost), i); p != nil {
				s.put(i, p)
				continue
			}
			s.work = workMost / 2
			if was.led && s.push(i, l.near, 1, nil) {
				continue
			}
			if p := s.free(cheaper(l.off, was.cost), i); p != nil {
				s.put(i, p)
				continue
			}
			s.put(i, was)
		}
	}
}

func cheaper(all []spot, cost float64) []spot {
	for k := range all {
		if all[k].cost >= cost-1e-9 {
			return all[:k]
		}
	}
	return all
}

// led are the places of a label with a leader.
func (s *settling) led(i int) []spot {
	l := &s.labels[i]
	if !l.offMade {
		l.offMade, l.off = true, s.offSpots(l)
	}
	return l.off
}

// free is the first place that touches no label which stands.
func (s *settling) free(all []spot, i int) *spot {
	for k := range all {
		if n, _ := s.blockers(&all[k], i, 0); n == 0 {
			return &all[k]
		}
	}
	return nil
}

// blockers are the labels that stand in the way of a place, no more than one over most.
func (s *settling) blockers(p *spot, i, most int) (n int, who [moversMost + 1]int) {
	s.work++
	add := func(of int) bool {
		if of != i && !has(who[:n], of) {
			who[n] = of
			n++
		}
		return n > most
	}
	r := s.placed
	for _, b := range p.boxes {
		wide := orb.Bound{Min: orb.Point{b.Min[0] - sideGap, b.Min[1] - textGap}, Max: orb.Point{b.Max[0] + sideGap, b.Max[1] + textGap}}
		c0, r0, c1, r1 := r.span(wide)
		for row := r0; row <= r1; row++ {
			for col := c0; col <= c1; col++ {
				k := row*r.cols + col
				for _, x := range r.boxes[k] {
					if overlap(x.Bound, wide) && add(x.of) {
						return n, who
					}
				}
				for _, x := range r.legs[k] {
					if crosses(x.ends, wide) && add(x.of) {
						return n, who
					}
				}
			}
		}
	}
	if p.led {
		c0, r0, c1, r1 := r.span(hull(p.leader).Pad(legGap))
		for row := r0; row <= r1; row++ {
			for col := c0; col <= c1; col++ {
				k := row*r.cols + col
				for _, x := range r.boxes[k] {
					if crosses(p.leader, x.Bound) && add(x.of) {
						return n, who
					}
				}
				for _, x := range r.legs[k] {
					if tooNear(x.ends, p.leader) && add(x.of) {
						return n, who
					}
				}
			}
		}
	}
	return n, who
}

// push takes a place for a label though others stand there, who find other places,
// pushing others in turn. held are the labels that may not move.
func (s *settling) push(i int, all []spot, deep int, held []int) bool {
	held = append(held[:len(held):len(held)], i)
next:
	for k := range all {
		if s.work > workMost {
			return false
		}
		n, who := s.blockers(&all[k], i, moversMost)
		if n > moversMost {
			continue
		}
		for _, o := range who[:n] {
			if has(held, o) {
				continue next
			}
		}
		var was [moversMost]*spot
		for j, o := range who[:n] {
			was[j] = s.labels[o].now
			s.take(o)
		}
		s.put(i, &all[k])
		if s.moved(who[:n], deep, held) {
			return true
		}
		s.take(i)
		for j, o := range who[:n] {
			s.put(o, was[j])
		}
	}
	return false
}

// moved finds places for labels that made room; none has moved when it cannot.
func (s *settling) moved(who []int, deep int, held []int) bool {
	if len(who) == 0 {
		return true
	}
	o := who[0]
	rest := append(held[:len(held):len(held)], who[1:]...)
	for _, all := range [2][]spot{s.labels[o].near, s.led(o)} {
		for k := range all {
			if s.work > workMost {
				return false
			}
			if n, _ := s.blockers(&all[k], o, 0); n > 0 {
				continue
			}
			s.put(o, &all[k])
			if s.moved(who[1:], deep, append(held[:len(held):len(held)], o)) {
				return true
			}
			s.take(o)
		}
	}
	if deep > 1 && len(who) == 1 && s.push(o, s.labels[o].near, deep-1, rest) {
		return true
	}
	return false
}

func (s *settling) put(i int, p *spot) {
	s.labels[i].now = p
	for _, b := range p.boxes {
		s.placed.addBox(b, i)
	}
	if p.led {
		s.placed.addLeg(p.leader, i)
	}
}

func (s *settling) take(i int) {
	p := s.labels[i].now
	if p == nil {
		return
	}
	for _, b := range p.boxes {
		s.placed.dropBox(b, i)
	}
	if p.led {
		s.placed.dropLeg(p.leader, i)
	}
	s.labels[i].now = nil
}
