package units

import "strings"

// MaxLength is the longest length and the farthest coordinate the program
// takes: 10 km.
const MaxLength Feet = 32808

// leastLength is what counts as zero, so that 0.1 + 0.2 - 0.3 does. Chosen: far
// below any tape.
const leastLength Feet = 1e-6

// ParseLength reads a length as people write one and returns it in feet, above
// zero and at most MaxLength. A number without a unit is in the system's: feet
// or metres. It reads
//
//	15   15.5   15'   15'6"   15' 6 1/2"   15 ft 6 in   6"   1/2"
//	4.7 m   470 cm   5000 mm   4 m 70 cm
//	12+3.5   10' - 6"     (a minus needs a space on each side,
//	                       because 15'-6" is how drawings write 15' 6")
//
// Anything else is refused with a *Refusal whose sentence says what to write.
func ParseLength(s string, sys System) (Feet, error) {
	v, err := parseSum(s, sys)
	switch {
	case err != nil:
		return 0, err
	case v < leastLength:
		return 0, refuse(s, "A length must be more than zero.")
	case v > MaxLength:
		return 0, refuse(s, "%s is longer than 10 km (32,808 ft). Check the unit.", quote(strings.TrimSpace(s)))
	}
	return v, nil
}

// ParseCoordinate reads a position as ParseLength reads a length, but it may be
// zero or negative: a leading minus turns the first term round. It lies within
// MaxLength of 0.
func ParseCoordinate(s string, sys System) (Feet, error) {
	v, err := parseSum(s, sys)
	if err != nil {
		return 0, err
	}
	if v > MaxLength || v < -MaxLength {
		return 0, refuse(s, "%s is farther than 10 km (32,808 ft). Check the unit.", quote(strings.TrimSpace(s)))
	}
	return v + 0, nil
}
