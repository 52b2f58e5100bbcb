// Package handover packs a plan with its photographs and papers into one file for the next
// person, and opens such a file.
package handover
