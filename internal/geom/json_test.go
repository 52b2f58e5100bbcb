package geom

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/google/go-cmp/cmp"

	strict "github.com/go-json-experiment/json"
)

func TestVertexJSON(t *testing.T) {
	for _, c := range []struct {
		v    Outline
		want string
	}{
		{Outline{{X: 1, Y: 2.5}}, `[[1,2.5]]`},
		{Outline{{X: -1, Y: 0.1, Bulge: 1}, {X: 0, Y: 0}}, `[[-1,0.1,1],[0,0]]`},
		{Outline{{X: math.Copysign(0, -1), Y: 1e-7, Bulge: 1e-9}}, `[[0,1e-7,1e-9]]`},
		{Outline{}, `[]`},
	} {
		for name, marshal := range map[string]func(any) ([]byte, error){
			"encoding/json": json.Marshal,
			"experiment":    func(v any) ([]byte, error) { return strict.Marshal(v) },
		} {
			got, err := marshal(c.v)
			if err != nil || string(got) != c.want {
				t.Errorf("%s: %v = %s, %v; want %s", name, c.v, got, err, c.want)
			}
		}
		var back Outline
		if err := strict.Unmarshal([]byte(c.want), &back); err != nil {
			t.Errorf("%s: %v", c.want, err)
		}
		if diff := cmp.Diff(c.v, back); diff != "" {
			t.Errorf("%s read back (-want +got):\n%s", c.want, diff)
		}
	}
}

func TestVertexJSONRefuses(t *testing.T) {
	for _, in := range []string{
		`[[1]]`, `[[]]`, `[[1,2,3,4]]`, `[["1",2]]`, `[[1,null]]`, `[null]`, `[{"x":1,"y":2}]`,
		`[[1,2,[3]]]`, `[1,2]`, `[[1e999,0]]`, `[[1,2,true]]`, `[[1,2],"x"]`, `[[1,2,]]`,
	} {
		var a, b Outline
		if err := json.Unmarshal([]byte(in), &a); err == nil && in != `[null]` { // v1 lets null be
			t.Errorf("encoding/json read %s as %v", in, a)
		}
		if err := strict.Unmarshal([]byte(in), &b); err == nil {
			t.Errorf("strict reader read %s as %v", in, b)
		}
	}
	for _, v := range []Vertex{{X: math.NaN()}, {Y: math.Inf(1)}, {Bulge: math.Inf(-1)}} {
		if got, err := strict.Marshal(v); err == nil {
			t.Errorf("%v written as %s", v, got)
		}
	}
}

// The pointer to a faulty corner reaches whoever reads a whole plan.
func TestVertexJSONErrorHasPointer(t *testing.T) {
	var doc struct {
		Lot Outline `json:"lot"`
	}
	err := strict.Unmarshal([]byte(`{"lot":[[0,0],[1,0],[1,"x"]]}`), &doc)
	var semantic *strict.SemanticError
	if !asSemantic(err, &semantic) || !hasPrefix(semantic.JSONPointer, "/lot/2") {
		t.Errorf("error = %v; want one at /lot/2", err)
	}
}

func asSemantic(err error, to **strict.SemanticError) bool {
	s, ok := err.(*strict.SemanticError)
	*to = s
	return ok
}

func hasPrefix(p jsontext.Pointer, want string) bool {
	return len(p) >= len(want) && string(p[:len(want)]) == want
}

func BenchmarkOutlineUnmarshal(b *testing.B) {
	big := make(Outline, 10_000)
	for i := range big {
		big[i] = Vertex{X: float64(i) * 1.25, Y: float64(i%97) / 3}
	}
	data, err := strict.Marshal(big)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		var back Outline
		if err := strict.Unmarshal(data, &back); err != nil {
			b.Fatal(err)
		}
	}
}
