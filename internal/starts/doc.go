// Package starts holds typical yards to begin a plan from. They are invented,
// drawn in feet, and say so: nobody's ground is like them, and every one is to
// be changed to what was measured.
package starts
