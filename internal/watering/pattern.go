package watering

import "slices"

// classes is how many programs are thought of at most: what common controllers hold.
const classes = 3

// pattern parts the days of a cycle into programs that never run on the same day.
// Programs that share days are covered: the days they share are a class of their own.
type pattern struct {
	class             []int8 // by day: its program, or -1 when nothing runs
	count             [classes]int
	shortest, longest [classes]int // days from one of its days to the next
	runs              []run
}

// run is a number of consecutive days, begun with a watering that filled the soil, and
// the waterings on its later days by program. Of runs with the same waterings only the
// longest is kept: need is the same on all days, so it is the hardest.
type run struct {
	days      int
	waterings [classes]int
}

func newPattern(class []int8) *pattern {
	p := &pattern{class: class}
	n := len(class)
	for c := range p.count {
		p.shortest[c] = n
		last, first := -1, -1
		for d, of := range class {
			if int(of) != c {
				continue
			}
			p.count[c]++
			if last >= 0 {
				p.shortest[c] = min(p.shortest[c], d-last)
				p.longest[c] = max(p.longest[c], d-last)
			} else {
				first = d
			}
			last = d
		}
		if first >= 0 {
			p.shortest[c] = min(p.shortest[c], first+n-last)
			p.longest[c] = max(p.longest[c], first+n-last)
		}
	}
	for from := range class {
		if class[from] < 0 {
			continue
		}
		var waterings [classes]int
		for days := 1; days <= n; days++ {
			next := class[(from+days)%n]
			if next < 0 {
				continue
			}
			p.keep(run{days, waterings})
			waterings[next]++
		}
	}
	p.runs = slices.DeleteFunc(slices.Clone(p.runs), p.implied)
	return p
}

// implied reports whether another run is as long with no more waterings.
func (p *pattern) implied(r run) bool {
	for _, o := range p.runs {
		if o != r && o.days >= r.days && o.waterings[0] <= r.waterings[0] && o.waterings[1] <= r.waterings[1] && o.waterings[2] <= r.waterings[2] {
			return true
		}
	}
	return false
}

func (p *pattern) keep(r run) {
	for i := range p.runs {
		if p.runs[i].waterings == r.waterings {
			p.runs[i].days = max(p.runs[i].days, r.days)
			return
		}
	}
	p.runs = append(p.runs, r)
}

// patterns lists the ways to part the allowed days into at most so many programs, days
// off being free. For cycles to a week that is all of them, those left out that are one
// of the others begun on another day or run backwards: need is the same every day, so
// they cost the same. For longer cycles it is days evenly spread, with the rest, or
// days evenly spread of the rest, as the other programs.
func patterns(allowed []bool, most int) []*pattern {
	var days []int
	for d, may := range allowed {
		if may {
			days = append(days, d)
		}
	}
	l := lister{length: len(allowed), seen: map[string]bool{}}
	if len(days) <= 7 {
		l.all(days, make([]int8, len(days)), 0, 0, int8(min(max(most, 1), classes)))
		return l.list
	}
	for k := 1; k <= len(days); k++ {
		first, rest := spread(days, k)
		l.add(first, nil, nil)
		if most < 2 || len(rest) == 0 {
			continue
		}
		l.add(first, rest, nil)
		for m := 1; most > 2 && m <= len(rest)/2; m++ {
			second, third := spread(rest, m)
			l.add(first, second, third)
		}
	}
	return l.list
}

type lister struct {
	length int
	seen   map[string]bool
	list   []*pattern
}

// all goes through the classes of each day: none, one that is used, or the next new one.
func (l *lister) all(days []int, class []int8, at int, used, most int8) {
	if at == len(days) {
		if used > 0 {
			var sets [classes][]int
			for i, c := range class {
				if c >= 0 {
					sets[c] = append(sets[c], days[i])
				}
			}
			l.add(sets[0], sets[1], sets[2])
		}
		return
	}
	for c := int8(-1); c <= used && c < most; c++ {
		class[at] = c
		l.all(days, class, at+1, max(used, c+1), most)
	}
}

func (l *lister) add(sets ...[]int) {
	class := make([]int8, l.length)
	for d := range class {
		class[d] = -1
	}
	for c, set := range sets {
		for _, d := range set {
			class[d] = int8(c)
		}
	}
	if key := canonical(class); !l.seen[key] {
		l.seen[key] = true
		l.list = append(l.list, newPattern(class))
	}
}

// canonical is the same for all patterns that are turns or mirror images of each other,
// whatever their programs are called.
func canonical(class []int8) string {
	n := len(class)
	best := ""
	turned := make([]byte, n)
	for _, step := range [2]int{1, n - 1} {
		for from := range n {
			names, next := [classes]byte{}, byte('a')
			for i := range n {
				c := class[(from+i*step)%n]
				switch {
				case c < 0:
					turned[i] = '.'
					continue
				case names[c] == 0:
					names[c] = next
					next++
				}
				turned[i] = names[c]
			}
			if s := string(turned); best == "" || s < best {
				best = s
			}
		}
	}
	return best
}

// spread takes k of days as evenly as they come, and the rest.
func spread(days []int, k int) (taken, rest []int) {
	for i, d := range days {
		if i == 0 || i*k/len(days) > (i-1)*k/len(days) {
			taken = append(taken, d)
		} else {
			rest = append(rest, d)
		}
	}
	return taken, rest
}
