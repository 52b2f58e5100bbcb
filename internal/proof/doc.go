// Package proof holds what was tested, found and measured on the system in the ground
// against what the plan predicts: the start-up of each zone, the wires at the controller,
// heads set one by one, catch-can audits, and what an old system would gain by mending.
// It changes no plan: what should follow is answered as a patch.
package proof
