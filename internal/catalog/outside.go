package catalog

import (
	"errors"
	"fmt"
	"strconv"

	"evenfall/internal/units"
)

// ErrOutside is what every *OutsideError is, for errors.Is.
var ErrOutside = errors.New("catalog: outside the nozzle's table")

// OutsideError says that a nozzle was asked for something its table does not
// hold. Nothing is ever extrapolated.
type OutsideError struct {
	Nozzle   string  // the nozzle's name
	Quantity string  // pressure | arc | throw
	Asked    float64 // psi, degrees or feet
	Nearest  float64 // the nearest value the table holds, in the same unit
	Sentence string  // what is wrong and what to do, in the user's words
}

// Error returns the sentence.
func (e *OutsideError) Error() string { return e.Sentence }

// Is reports that e is an ErrOutside.
func (e *OutsideError) Is(target error) bool { return target == ErrOutside }

func (n Nozzle) outside(quantity string, asked, nearest float64, sentence string) error {
	return &OutsideError{Nozzle: n.Name, Quantity: quantity, Asked: asked, Nearest: nearest, Sentence: sentence}
}

// outsidePressure names the band of the rows and its nearer end.
func (n Nozzle) outsidePressure(p, least, most units.PSI) error {
	nearest := most
	if p < least {
		nearest = least
	}
	return n.outside("pressure", float64(p), float64(nearest), fmt.Sprintf(
		"%s is listed from %s to %s psi, and this is %s psi; the nearest it is listed for is %s psi.",
		n.Name, plain(float64(least)), plain(float64(most)), plain(float64(p)), plain(float64(nearest))))
}

// outsideArc names the arcs the nozzle can be set to.
func (n Nozzle) outsideArc(sweep units.Degrees) error {
	nearest := n.ArcMost
	if sweep < n.ArcLeast {
		nearest = n.ArcLeast
	}
	can := fmt.Sprintf("can be set from %s° to %s°", plain(float64(n.ArcLeast)), plain(float64(n.ArcMost)))
	if n.Fixed() {
		can = fmt.Sprintf("has a fixed arc of %s°", plain(float64(n.ArcMost)))
	}
	return n.outside("arc", float64(sweep), float64(nearest), fmt.Sprintf(
		"%s %s, and this is %s°; set %s° or choose another nozzle.",
		n.Name, can, plain(float64(sweep)), plain(float64(nearest))))
}

// outsideThrow names the throws the nozzle can be set to at pressure p.
func (n Nozzle) outsideThrow(throw, least, most units.Feet, p units.PSI) error {
	nearest := most
	if throw < least {
		nearest = least
	}
	return n.outside("throw", float64(throw), float64(nearest), fmt.Sprintf(
		"%s throws %s to %s ft at %s psi, and this is %s ft; set %s ft or choose another nozzle.",
		n.Name, plain(float64(least)), plain(float64(most)), plain(float64(p)),
		plain(float64(throw)), plain(float64(nearest))))
}

// plain writes a number with at most two decimals and no trailing zeros.
func plain(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	for s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	if s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	return s
}
