// Package arrange proposes where heads stand: layouts for planting areas, each
// with its nozzles, arcs and throws, and the fewest changes that mend a layout
// there is. It is a proposer: a search on request, seeded, with a budget counted
// in evaluations, so that the same question has the same answer on any machine.
// What it answers are offers; nothing is changed until one is applied.
package arrange
