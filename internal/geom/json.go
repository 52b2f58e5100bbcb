package geom

import (
	"encoding/json"
	"errors"
	"math"
	"strconv"
)

// MarshalJSON writes [x, y], or [x, y, bulge] when the edge that leaves the
// vertex is an arc.
func (v Vertex) MarshalJSON() ([]byte, error) {
	if !finite(v) || math.IsNaN(v.Bulge-v.Bulge) {
		return nil, errors.New("geom: a corner is not a finite number")
	}
	b := append(make([]byte, 0, 32), '[')
	b = appendNumber(b, v.X)
	b = append(b, ',')
	b = appendNumber(b, v.Y)
	if v.Bulge != 0 {
		b = append(b, ',')
		b = appendNumber(b, v.Bulge)
	}
	return append(b, ']'), nil
}

// appendNumber writes a number as ECMAScript does, so that the page and the
// server write the same bytes.
func appendNumber(b []byte, f float64) []byte {
	if f == 0 {
		return append(b, '0') // no negative zero
	}
	if a := math.Abs(f); a >= 1e-6 && a < 1e21 {
		return strconv.AppendFloat(b, f, 'f', -1, 64)
	}
	b = strconv.AppendFloat(b, f, 'e', -1, 64)
	if n := len(b); n >= 4 && b[n-4] == 'e' && b[n-3] == '-' && b[n-2] == '0' {
		b[n-2] = b[n-1] // e-09 is e-9
		b = b[:n-1]
	}
	return b
}

// UnmarshalJSON reads an array of two or three numbers and nothing else.
func (v *Vertex) UnmarshalJSON(data []byte) error {
	var n []*float64
	if err := json.Unmarshal(data, &n); err != nil {
		return errors.New("a corner must be [x, y] or [x, y, bulge] in numbers")
	}
	if len(n) != 2 && len(n) != 3 {
		return errors.New("a corner must have two numbers, x and y, or three: x, y and bulge")
	}
	var out Vertex
	for i, to := range []*float64{&out.X, &out.Y, &out.Bulge}[:len(n)] {
		if n[i] == nil {
			return errors.New("a corner must be [x, y] or [x, y, bulge] in numbers, not null")
		}
		*to = *n[i]
	}
	*v = out
	return nil
}
