// Package store keeps plans and their history in one SQLite file in the user's
// data folder.
//
// What a call here has returned is on the disk: the file runs in WAL mode with
// synchronous=FULL, and both are read back at the start. Every step is one
// immediate transaction that stores the patch, its exact inverse, the label and
// the checksum of the document after it, and writes the document whole. A step
// names the revision it was made on; when the plan has moved on it is refused
// (plan.Stale) and nothing is overwritten.
//
// The history is one line. Undo takes back the last step in force, whoever made
// it, and is itself a new revision; redo brings it again until a new step drops
// it. Both survive a restart. What belongs to one gesture comes as one step: the
// store merges nothing.
//
// Beside the steps whole documents are kept ("points"): what the user names,
// what a new step drops of several undone ones, the last state of an hour of
// work, and one every 200 steps. At rebuilds the document of any step from the
// nearest by its patches and checks it against the checksum of the step; so a
// plan whose own document rots is rebuilt too (Recover), as a new plan.
//
// One program has a data folder at a time (a lock the system frees even when the
// program is killed). A data file that is empty, foreign, damaged or of a newer
// version is refused without being written to.
//
// Backups are made once a day, on demand while the program runs, and before a
// change of schema. Each is a copy by SQLite itself, never of the file alone; it
// is sealed with a digest of its rows, read back and checked before it gets its
// name. A restore brings a checked copy in beside the data file and renames it
// into place, so that whenever it is cut short one of the two is there, whole.
//
// The store looks inside a plan only for its name and the counts its list
// shows; what the water does is not its business.
package store
