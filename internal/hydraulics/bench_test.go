package hydraulics

import (
	"testing"
	"time"
)

// The same networks of 300 nodes by us and by the reference solver in one run,
// the best time of each network, summed; "reference" is its engine alone:
// opening, solving and closing, without making the network. It is asked for 1e-8
// of the flow, the accuracy it is compared at; "loose" is its usual 1e-3. Ours
// stops at 1e-9 gpm. "again" solves with the order of elimination kept.
func BenchmarkNetworkAgainstReference(b *testing.B) {
	for _, kind := range []struct {
		name  string
		loops int
	}{{"tree", 0}, {"loops", 30}} {
		b.Run(kind.name, func(b *testing.B) {
			var all []drawn
			for seed := range uint64(8) {
				all = append(all, draw(300+seed, 300, kind.loops, false))
			}
			const rounds = 30
			var tight, loose, whole, again float64
			for _, r := range reference(b, all, rounds, 1e-8) {
				tight += r.NS
			}
			for _, r := range reference(b, all, rounds, 1e-3) {
				loose += r.NS
			}
			var steps int
			for b.Loop() {
				whole, again, steps = 0, 0, 0
				for _, d := range all {
					n := d.network()
					s := must(NewSolver(n))
					steps += must(s.Solve(nil)).Steps
					whole += best(rounds, func() { must(Solve(n, nil)) })
					again += best(rounds, func() { must(s.Solve(nil)) })
				}
			}
			count := float64(len(all))
			b.ReportMetric(whole/count/1e3, "µs/network")
			b.ReportMetric(again/count/1e3, "µs/again")
			b.ReportMetric(tight/count/1e3, "µs/reference")
			b.ReportMetric(float64(steps)/count, "steps")
			b.ReportMetric(whole/tight, "ours/reference")
			b.ReportMetric(whole/loose, "ours/loose")
		})
	}
}

// best is the shortest of some runs, ns.
func best(rounds int, f func()) float64 {
	shortest := time.Duration(1 << 62)
	for range rounds {
		start := time.Now()
		f()
		shortest = min(shortest, time.Since(start))
	}
	return float64(shortest)
}
