package pipesize

import (
	"fmt"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// says is an offer in a sentence or two.
func (j *job) says(o *Offer) string {
	var b strings.Builder
	switch n := len(o.Changes); {
	case n == 0 && o.Sized == 0:
		return "No pipe may be sized: all are locked or there already."
	case n == 0:
		b.WriteString("Every pipe already has the size of least cost.")
	default:
		fmt.Fprintf(&b, "Of %s, %s another size or class.", plan.Plural(o.Sized, "pipe that may change", "pipes that may change"), plan.Plural(n, "gets", "get"))
	}
	if o.Above > 0 {
		b.WriteString(" There are too many pipes to be sure that nothing cheaper satisfies the limits.")
	}
	if !o.Holds {
		b.WriteString(" The check does not hold: see below.")
	}
	return b.String()
}

// Words is a cost: "$ 214.50" of the user's own prices, else material.
func (c Cost) Words(sys units.System) string {
	switch {
	case !c.Known:
		return "not known: not every pipe has a size"
	case c.Money:
		return fmt.Sprintf("%.2f by your prices", c.Sum)
	case sys == units.Metric:
		return fmt.Sprintf("%.1f L of pipe material", c.Sum*0.016387064)
	}
	return fmt.Sprintf("%.0f in³ of pipe material", c.Sum)
}

// Caution stands under every offer.
const Caution = "Sizes follow from the drawing and the supply as given. Local code and licensed practice decide on pipe before the backflow device."

// little is the part of a limit below which what is left is told: common practice
// keeps some in hand, for what is built is never quite what was drawn.
const little = 0.05

// closeTo says what is left of a limit where that is little, given as a part of the
// limit and in words; "" where there is enough.
func closeTo(left float64, words string) string {
	switch {
	case left > little:
		return ""
	case !strings.ContainsAny(words, "123456789"): // as it is printed, nothing
		return " That is at the limit: nothing is left."
	}
	return fmt.Sprintf(" That is close to the limit: %s left.", words)
}

// pipeName names a pipe within a sentence, as lists and findings do: "the pipe of
// zone 3 to head 3-2".
func (j *job) pipeName(id plan.ID) string { return "the " + j.p.PipeName(id) }

// sizeName is a size of a class, as it is asked for: "1-1/4 in Class 200 PVC".
func sizeName(sys units.System, in units.Inches, row catalog.PipeClass) string {
	return sys.PipeSize(in) + " " + catalog.NameIn(sys, row.Name)
}
