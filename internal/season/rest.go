package season

import (
	"math"

	"evenfall/internal/plan"
)

// restDays is how many days lie between waterings of established turf at least: deep and
// seldom makes roots (common practice). What is young or shallow is watered as its soil
// asks for.
const restDays = 2

// rest lets established turf rest between waterings where the days allowed leave gaps
// that its soil lasts.
func (q *Question) rest(p *plan.Plan) {
	days, some := q.Input.Calendar.Days, false
	for i := range q.Input.Areas {
		a := &q.Input.Areas[i]
		of := chain{p: p, a: p.Areas[plan.ID(a.ID)]}
		if of.a.Cover() != plan.Turf || of.young() {
			continue
		}
		lasts := math.MaxInt
		for m, need := range a.Need {
			if need > 0 {
				lasts = min(lasts, a.Interval(m))
			}
		}
		if spaced(days, restDays, lasts) {
			a.Rest, some = restDays, true
		}
	}
	if some && neighbours(days) {
		q.note("Established turf is watered every other day at most, deep and seldom, as is common practice: its roots go deeper for it.")
	}
}

// spaced reports whether some of the days allowed of a cycle lie least days apart at
// least and most at most, all round.
func spaced(days []bool, least, most int) bool {
	n := len(days)
	for from, allowed := range days {
		if !allowed {
			continue
		}
		reached := make([]bool, n+1)
		reached[0] = true
		for on := least; on <= n; on++ {
			for gap := least; gap <= min(on, most); gap++ {
				reached[on] = reached[on] || reached[on-gap] && days[(from+on)%n]
			}
		}
		if reached[n] {
			return true
		}
	}
	return false
}

// neighbours reports whether two days allowed follow one another.
func neighbours(days []bool) bool {
	for d, allowed := range days {
		if allowed && days[(d+1)%len(days)] {
			return true
		}
	}
	return false
}
