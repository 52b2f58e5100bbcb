// Package season works out from a plan what its planting needs through the year, and the
// program that gives it.
package season
