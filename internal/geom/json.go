package geom

import (
	"errors"
	"math"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

var errCorner = errors.New("a corner must be two numbers, [x, y], or three, [x, y, bulge]")

// MarshalJSONTo writes [x, y], or [x, y, bulge] when the edge that leaves the
// vertex is an arc. Numbers are written as ECMAScript does, so that the page and
// the server write the same bytes.
func (v Vertex) MarshalJSONTo(e *jsontext.Encoder) error {
	numbers := []float64{v.X, v.Y, v.Bulge}
	if v.Bulge == 0 {
		numbers = numbers[:2]
	}
	if err := e.WriteToken(jsontext.BeginArray); err != nil {
		return err
	}
	for _, n := range numbers {
		if math.IsNaN(n - n) {
			return errors.New("geom: a corner is not a finite number")
		}
		if err := e.WriteToken(jsontext.Float(n + 0)); err != nil { // + 0: no negative zero
			return err
		}
	}
	return e.WriteToken(jsontext.EndArray)
}

// UnmarshalJSONFrom reads an array of two or three finite numbers and nothing
// else.
func (v *Vertex) UnmarshalJSONFrom(d *jsontext.Decoder) error {
	if err := expect(d, '['); err != nil {
		return err
	}
	var n [3]float64
	i := 0
	for ; d.PeekKind() != ']'; i++ {
		if i == len(n) {
			return errCorner
		}
		if d.PeekKind() != '0' {
			return expect(d, '0')
		}
		tok, err := d.ReadToken()
		if err != nil {
			return err
		}
		if n[i], err = tok.Float(); err != nil {
			return errors.New("a corner has a number that is too large")
		}
	}
	if i < 2 {
		return errCorner
	}
	*v = Vertex{X: n[0] + 0, Y: n[1] + 0, Bulge: n[2] + 0} // no negative zero
	return expect(d, ']')
}

// expect reads one token of a kind. A fault of the text itself comes back as it
// is, any other kind of value as errCorner.
func expect(d *jsontext.Decoder, kind jsontext.Kind) error {
	tok, err := d.ReadToken()
	if err != nil {
		return err
	}
	if tok.Kind() != kind {
		return errCorner
	}
	return nil
}

// MarshalJSON does for encoding/json what MarshalJSONTo does.
func (v Vertex) MarshalJSON() ([]byte, error) { return json.Marshal(v) }

// UnmarshalJSON does for encoding/json what UnmarshalJSONFrom does.
func (v *Vertex) UnmarshalJSON(data []byte) error { return json.Unmarshal(data, v) }
