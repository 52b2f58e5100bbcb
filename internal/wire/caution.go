package wire

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// What stands wherever wiring is shown. All of it is common practice, from memory.
const (
	MainsCaution  = "Mains wiring and a controller wired to the mains are a licensed electrician's work; plug-in controllers want an outlet of their own, outdoors a covered one with ground-fault protection."
	SurgeCaution  = "Where lightning is common, put a surge arrester at the controller and ground it as its maker and local code ask; an electrician sets the rod and measures it."
	SpliceCaution = "Use wire listed for direct burial, and splice it only in boxes, with waterproof connectors listed for wet ground and for the number and size of the wires in each."
	DepthCaution  = "Local code decides how deep wire lies, where it takes conduit, and whether a permit is needed. Lay it beside or under the main, not over it, taped together every {10 ft}."
)

// Caution is all of it where there is room for little.
const Caution = "Splice direct-burial wire only in boxes, with listed waterproof connectors. Mains wiring, grounding and protection from lightning are a licensed electrician's; local code decides depth and conduit."

// Cautions are all of them, in the units of the plan.
func Cautions(sys units.System) []string {
	var out []string
	for _, c := range []string{MainsCaution, SurgeCaution, SpliceCaution, DepthCaution} {
		out = append(out, plan.FixedWords(sys, c))
	}
	return out
}
