package watering

import "math"

// allowed is the programs a zone may be in. A zone whose areas are to rest between
// waterings is in one alone: that of the fewest days whose gaps its soil lasts.
func (q *question) allowed(zone int) (may [classes]bool) {
	rest, lasts := 0, math.MaxInt
	for _, a := range q.in.Zones[zone].Own {
		if n := q.in.Areas[a].Interval(q.month); n > 0 {
			wants := restOf(q.in.Areas[a].Rest, n, len(q.p.class))
			if rest == 0 || wants < rest {
				rest = wants
			}
			lasts = min(lasts, n)
		}
	}
	best := -1
	for c, n := range q.p.count {
		if n == 0 {
			continue
		}
		if rest <= 1 {
			may[c] = true
			continue
		}
		if q.p.shortest[c] < rest {
			continue
		}
		if best < 0 || q.better(c, best, lasts) {
			best = c
		}
	}
	if best >= 0 {
		may[best] = true
	}
	return may
}

// restOf is how many days an area can rest where its soil lasts so many: waterings that
// far apart at least, and no further than it lasts, have to come out in a cycle of days.
func restOf(wants, lasts, days int) int {
	for rest := min(wants, lasts); rest > 1; rest-- {
		if times := days / rest; times*lasts >= days || times == 0 {
			return rest
		}
	}
	return 1
}

func (q *question) better(c, than, lasts int) bool {
	fit, other := q.p.longest[c] <= lasts, q.p.longest[than] <= lasts
	switch {
	case fit != other:
		return fit
	case fit:
		return q.p.count[c] < q.p.count[than]
	}
	return q.p.longest[c] < q.p.longest[than]
}
