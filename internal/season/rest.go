package season

import (
	"context"
	"math"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/watering"
)

// restDays is how many days lie between waterings of established turf at least: deep and
// seldom makes roots (common practice). What is young or shallow is watered as its soil
// asks for.
const restDays = 2

// restNote is said where that may tell.
const restNote = "Established turf is watered every other day at most, deep and seldom, as is common practice: its roots go deeper for it."

// rest lets established turf rest between waterings where days allowed follow one another
// and leave gaps that its soil lasts.
func (q *Question) rest(p *plan.Plan) {
	days, some := q.Input.Calendar.Days, false
	if !neighbours(days) {
		return // it rests as it is
	}
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
	if some {
		q.note(restNote)
	}
}

// year works out the programs of the year. Turf that rests waters on the same days; where
// their hours do not suffice and those of all days do, it does not rest.
func (q *Question) year(ctx context.Context, tell coverage.Progress) (*watering.Year, error) {
	noted := slices.Index(q.Notes, restNote)
	if noted < 0 {
		return watering.PlanYear(ctx, &q.Input, tell)
	}
	half := func(from int) func(done, total int) {
		return func(done, total int) { tell(from+steps/2*done/max(total, 1), steps) }
	}
	y, err := watering.PlanYear(ctx, &q.Input, half(0))
	if err != nil || y.Peak < 0 || y.Months[y.Peak].Fits {
		return y, err
	}
	rested := slices.Clone(q.Input.Areas)
	for i := range q.Input.Areas {
		q.Input.Areas[i].Rest = 0
	}
	fits, err := watering.FitsEveryDay(ctx, &q.Input, y.Peak)
	if err != nil {
		return nil, err
	}
	if fits {
		restless, err := watering.PlanYear(ctx, &q.Input, half(steps/2))
		if err != nil {
			return nil, err
		}
		if restless.Months[restless.Peak].Fits {
			q.Notes[noted] = "Turf is watered on days that follow one another: with a day of rest between, as is common practice, the hours would not suffice."
			return restless, nil
		}
	}
	copy(q.Input.Areas, rested)
	return y, nil
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
