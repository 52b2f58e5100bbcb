package units

import "strconv"

// ParseBetween reads a plain decimal number that lies between two others, both
// allowed; what it is of begins the sentence of a refusal: "The step of arcs".
func ParseBetween(what, s string, least, most float64) (float64, error) {
	v, err := ParseNumber(s)
	if err != nil {
		return 0, err
	}
	if v < least || v > most {
		return 0, refuse(s, "%s is a number from %s to %s, and %s is not.", what, plain(least), plain(most), quote(s))
	}
	return v, nil
}

// ParseCount is ParseBetween for whole numbers.
func ParseCount(what, s string, least, most float64) (uint64, error) {
	v, err := ParseBetween(what, s, least, most)
	if err != nil {
		return 0, err
	}
	if v < 0 || v != float64(uint64(v)) {
		return 0, refuse(s, "%s is a whole number, and %s is not.", what, quote(s))
	}
	return uint64(v), nil
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
