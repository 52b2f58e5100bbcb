package plan

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestAreasAreAskedForByIDOrName(t *testing.T) {
	t.Parallel()
	p := Empty("Asked", "us")
	p.Areas = map[ID]Area{
		"a1": {Name: "Front lawn", Kind: Planting}, "a2": {Name: "Bed", Kind: Planting}, "a3": {Name: "bed", Kind: Planting},
		"a4": {Name: "Walk", Kind: Paving}, "a5": {Kind: Planting}, "bed2": {Name: "a1", Kind: Planting},
	}
	for list, want := range map[string][]ID{
		"": nil, " , ": nil, "a1": {"a1"}, "front LAWN": {"a1"}, "Bed": {"a2", "a3"}, "a5, Front lawn,a5": {"a5", "a1"},
	} {
		if got, err := p.AreasAsked(list); err != nil || !slices.Equal(got, want) {
			t.Errorf("%q: %v, %v", list, got, err)
		}
	}
	for list, says := range map[string]string{"a4": "Walk is not a planting area", "a1,Pool": `called "Pool". Its planting areas are Front lawn (a1)`} {
		var no *Problem
		if _, err := p.AreasAsked(list); !errors.As(err, &no) || !strings.Contains(no.Sentence, says) {
			t.Errorf("%q: %v", list, err)
		}
	}
	if _, err := Empty("Bare", "us").AreasAsked("x"); err == nil || !strings.Contains(err.Error(), "none yet") {
		t.Error(err)
	}
}
