// Package plan describes a property and its sprinkler system exactly as the
// user drew it: the document, its strict reading and canonical writing, its
// patches, and the findings that other packages raise about it. It computes
// nothing about water.
//
// Lengths are feet on a local plane, x east and y north; angles are degrees
// anticlockwise from east. A member's name carries its unit.
package plan
