package plan

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/units"
)

func TestDecodeTakesBackWhatEncodeWrote(t *testing.T) {
	for _, test := range []struct {
		name string
		plan *Plan
	}{
		{"every member", fullPlan()},
		{"nothing", Empty("New yard", units.US)},
	} {
		t.Run(test.name, func(t *testing.T) {
			doc := test.plan.Encode()
			got, err := Decode(doc)
			if err != nil {
				t.Fatalf("Decode: %v\n%s", err, doc)
			}
			want := test.plan
			want.fill()
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("decoded plan differs (-want +got):\n%s", d)
			}
			if d := cmp.Diff(string(doc), string(got.Encode())); d != "" {
				t.Errorf("encoded again differs (-want +got):\n%s", d)
			}
		})
	}
}

func TestValidateIsForPlansMadeInMemory(t *testing.T) {
	p := Empty("New\x00yard", "imperial")
	err := p.Validate()
	checkProblem(t, err, "/name", []string{"U+0000"})
	if got := len(err.(*Problems).List); got != 2 {
		t.Errorf("%d problems, want the name and the units: %v", got, err)
	}
	if err := Empty("New yard", units.US).Validate(); err != nil {
		t.Error(err)
	}
}
