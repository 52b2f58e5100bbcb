// Package pipesize chooses the size of every pipe of a plan at least cost, under
// limits of velocity, pressure at the heads and spread within a zone. It is a
// proposer: it answers with a patch and a sentence, and decides nothing itself.
package pipesize
