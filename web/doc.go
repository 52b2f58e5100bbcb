// Package web serves the board, its JSON interface and the exports over HTTP on
// this machine only.
//
// Handlers decode, call and encode; they calculate nothing. Every figure leaves
// here as a string made by the units package in the plan's own system (see
// Board), so the page prints and never reckons.
//
// What the package needs of a store is the interface Plans. One design.Engine is
// kept for each plan that is open (see opened), so that a dragged head redoes one
// head; previews come over a WebSocket (see viewer) and touch nothing stored.
//
// The whole site stands behind one gate (see guard.go): an exact list of Host
// values, refusal of other sites' requests, limits on every size and time, and
// the headers that keep a page from loading or running anything but our own.
package web
