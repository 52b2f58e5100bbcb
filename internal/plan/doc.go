// Package plan describes a property and its sprinkler system exactly as the
// user drew it: the document, its strict reading and canonical writing, its
// patches, and the findings that other packages raise about it. It computes
// nothing about water.
//
// Lengths are feet on a local plane, x east and y north; angles are degrees
// anticlockwise from east. A member's name carries its unit.
//
// # The document
//
// A document is one JSON object whose first member is its format. Collections
// are objects keyed by id, so that the JSON Pointer to a thing never moves, and
// every nozzle and body in use is copied into it, so that it means the same on
// another machine. There are no nulls: what is not said is left out. What goes
// without saying (see the defaults) is filled in when read and left out when
// written, so Encode gives one text for one meaning.
//
// Decode refuses what could not be worked with, in sentences for the user: see
// Problem. It takes a plan that is only unfinished or unwise, a head in the
// middle of paving or a zone without a station; those are findings.
//
// # Changes
//
// A change is a JSON Merge Patch (RFC 7396) on the document. Apply gives with
// the changed document the patch that takes the change back, byte for byte, so
// that undo needs nothing else. Diff makes a patch of two documents and Compose
// one of two patches.
package plan
