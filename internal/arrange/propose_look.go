package arrange

import (
	"context"
	"runtime"
)

// look lays every area out from equal intervals, by its first kit. Of many areas it
// tells as each is done, so that the first are seen at once.
func (pr *proposer) look(ctx context.Context) {
	next, ready := make(chan *job, len(pr.jobs)), make(chan *job, len(pr.jobs))
	for _, j := range pr.jobs {
		next <- j
	}
	close(next)
	for range max(1, min(runtime.GOMAXPROCS(0), len(pr.jobs))) {
		go func() {
			for j := range next {
				if ctx.Err() == nil && j.why == "" {
					j.sow(ctx, 0, firstFew)
				}
				ready <- j
			}
		}()
	}
	seen := 1
	for i := range pr.jobs {
		j := <-ready
		j.looked = true
		if i+1 >= seen && i+1 < len(pr.jobs) && len(pr.jobs) > fewAreas && j.why == "" && ctx.Err() == nil {
			pr.tellBest("First layouts, from equal intervals")
			seen = i + 2 + i/4 // the first alone, then more at a time: a proposal of all is long
		}
	}
}

// fewAreas is how many areas are all laid out before anything is told, and told of
// with every better layout. Chosen.
const fewAreas = 3

// firstFew is how many layouts of equal intervals are measured for the first
// offers, fineFew for the last. Chosen: a measure costs a field estimate.
const (
	firstFew = 4
	fineFew  = 8
)

// sow makes the layouts of equal intervals of a kit and measures the best few.
func (j *job) sow(ctx context.Context, k, few int) {
	j.made = nil
	if j.searches[k] == nil {
		seed := uint64(j.names.area[j.ground.id])<<8 | uint64(k) | j.o.Seed<<32
		s, err := newSearch(j.p, j.ground, j.kits[k], j.o, seed, j.stays)
		if err != nil {
			j.why = err.Error()
			return
		}
		j.searches[k] = s
		j.seeds[k] = s.constructive(ctx)
	}
	for _, c := range outstanding(j.seeds[k], few) {
		if ctx.Err() != nil {
			return
		}
		j.take(k, c)
	}
}
