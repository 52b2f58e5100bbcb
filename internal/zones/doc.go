// Package zones proposes which heads share a valve: the fewest valves that the
// supply can feed, each with one planting, exposure, soil, slope, rate and
// pressure class. It is a proposer: seeded, with a budget counted in
// evaluations; it answers with an offer, and nothing is changed until that is
// applied.
package zones
