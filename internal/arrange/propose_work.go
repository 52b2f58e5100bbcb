package arrange

import (
	"context"
	"fmt"
	"slices"
)

const (
	// mostKits is how many kits are tried on one area: the best one in full, the
	// next ones briefly, and one more where they offer few. Chosen.
	mostKits = 2
	// briefly is what part of the effort another kit than the first gets. Chosen.
	briefly = 3
	// usualNumbers is how many numbers of heads a search usually tries, for the
	// progress it shows; when it tries fewer or more the bar moves on at its end.
	usualNumbers = 7
	// wholeAreas is how many areas get the whole effort each; of more each gets its
	// share, and never less than a leastPart of it. Chosen so that a park of 20
	// areas is done in about the time of 5.
	wholeAreas = 4
	leastPart  = 5
)

// shared is the effort that each of some areas gets.
func shared(effort, areas int) int {
	if areas <= wholeAreas {
		return effort
	}
	return max(effort*wholeAreas/areas, effort/leastPart, 1)
}

// budget is how many evaluations the search of an area is planned to take.
func (j *job) budget() int {
	n := usualNumbers * j.o.Effort
	brief := len(j.kits) - 1
	if j.more != nil {
		brief++
	}
	return n + brief*usualNumbers*j.o.Effort/briefly
}

// tried are the kits to try on an area, and the one to try if those offer few: of a
// family that none of them is, if there is one.
func tried(kits []*kit) ([]*kit, *kit) {
	if len(kits) <= mostKits {
		return kits, nil
	}
	kits, rest := kits[:mostKits:mostKits], kits[mostKits:]
	i := slices.IndexFunc(rest, func(k *kit) bool {
		return !slices.ContainsFunc(kits, func(was *kit) bool { return was.family == k.family })
	})
	return kits, rest[max(i, 0)]
}

// oneMore takes up the kit left for where the others offer few. The
// gauge is made anew: the kit may throw farther.
func (j *job) oneMore() {
	j.kits, j.searches, j.seeds = append(j.kits, j.more), append(j.searches, nil), append(j.seeds, nil)
	j.more, j.gauge = nil, nil
}

// work betters the layouts of one area by search.
func (pr *proposer) work(ctx context.Context, j *job) {
	from := pr.done
	if j.why == "" {
		for k := 0; k < len(j.kits) && ctx.Err() == nil; k++ {
			pr.workKit(ctx, j, k, from+j.share)
			if k+1 == len(j.kits) && j.more != nil && ctx.Err() == nil && len(j.choose().list) < fewOffers {
				j.oneMore()
			}
		}
		if ctx.Err() == nil {
			pr.done = from + j.share
		}
	}
}

// workKit betters them by one kit. The progress it shows ends at until.
func (pr *proposer) workKit(ctx context.Context, j *job, k, until int) {
	j.sow(ctx, k, fineFew)
	if j.searches[k] == nil {
		return
	}
	s := j.searches[k]
	if k > 0 && j.good() {
		s.o.Effort = max(1, j.o.Effort/briefly)
	}
	part, numbers, changed := s.o.Effort, 0, false
	words := fmt.Sprintf("%s: %s", j.ground.name, familyWord(j.kits[k].family))
	if ctx.Err() == nil {
		pr.tellBest(words)
	}
	for _, c := range s.anneal(ctx, j.seeds[k], func(c candidate) {
		if numbers++; numbers <= usualNumbers {
			pr.done = min(pr.done+part, until)
		}
		better := j.take(k, c)
		if better && len(pr.jobs) <= fewAreas {
			pr.tellBest(words)
			return
		}
		changed = changed || better
		pr.say(words, nil)
	}) {
		changed = j.take(k, c) || changed
	}
	if changed && ctx.Err() == nil { // of many areas each is told once: a proposal of all is long
		pr.tellBest(words)
	}
}
