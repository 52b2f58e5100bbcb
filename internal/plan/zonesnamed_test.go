package plan

import (
	"slices"
	"strings"
	"testing"
)

func TestZonesAreAskedForByIDStationOrName(t *testing.T) {
	t.Parallel()
	p := &Plan{Zones: map[ID]Zone{
		"z1": {Name: "Front", Station: 2}, "z2": {Name: "Side", Station: 1}, "z3": {Name: "side"}, "7": {Name: "Back", Station: 3},
	}}
	for _, c := range []struct {
		list string
		want []ID
	}{
		{"", nil},
		{" z1 , ,z1", []ID{"z1"}},
		{"1,2", []ID{"z2", "z1"}},
		{"SIDE", []ID{"z2", "z3"}},
		{"7", []ID{"7"}},
		{"Side,z2", []ID{"z2", "z3"}},
	} {
		got, err := p.ZonesAsked(c.list)
		if err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%q: %v, %v; want %v", c.list, got, err, c.want)
		}
	}
	for _, list := range []string{"z9", "0", "front,nowhere"} {
		_, err := p.ZonesAsked(list)
		if err == nil || !strings.Contains(err.Error(), "Front (z1)") {
			t.Errorf("%q: %v", list, err)
		}
	}
	if _, err := (&Plan{}).ZonesAsked("z1"); err == nil || !strings.Contains(err.Error(), "none yet") {
		t.Errorf("without zones: %v", err)
	}
}
