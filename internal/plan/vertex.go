package plan

import (
	"errors"

	"github.com/go-json-experiment/json/jsontext"

	"evenfall/internal/geom"
)

// errCorner says that an array is not a corner.
var errCorner = errors.New("a corner is [x, y] or [x, y, bulge]")

// errRange says that a number is too large for a float64.
var errRange = errors.New("the number is too large")

// readVertex reads a corner: [x, y] or [x, y, bulge].
func readVertex(dec *jsontext.Decoder, v *geom.Vertex) error {
	if dec.PeekKind() != '[' {
		if err := dec.SkipValue(); err != nil {
			return err
		}
		return errCorner
	}
	if _, err := dec.ReadToken(); err != nil {
		return err
	}
	n, into := 0, [3]*float64{&v.X, &v.Y, &v.Bulge}
	for ; dec.PeekKind() == '0'; n++ {
		tok, err := dec.ReadToken()
		if err != nil {
			return err
		}
		if n == len(into) {
			return errCorner
		}
		f, err := tok.Float()
		if err != nil {
			return errRange
		}
		*into[n] = unsigned(f)
	}
	if n < 2 || dec.PeekKind() != ']' {
		return errCorner
	}
	_, err := dec.ReadToken()
	return err
}

// writeVertex writes a corner without the bulge when its edge is straight.
func writeVertex(enc *jsontext.Encoder, v *geom.Vertex) error {
	tokens := [...]jsontext.Token{jsontext.BeginArray, jsontext.Float(unsigned(v.X)), jsontext.Float(unsigned(v.Y)), jsontext.Float(v.Bulge), jsontext.EndArray}
	for i, tok := range tokens {
		if i == 3 && v.Bulge == 0 {
			continue
		}
		if err := enc.WriteToken(tok); err != nil {
			return err
		}
	}
	return nil
}

// unsigned takes the sign off a negative zero, which would be written -0.
func unsigned(f float64) float64 {
	if f == 0 {
		return 0
	}
	return f
}
