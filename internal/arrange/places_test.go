package arrange

import (
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

func TestPlacesTellWhatCanBeArranged(t *testing.T) {
	t.Parallel()
	p := plan.Empty("Places", "us")
	p.Areas = map[plan.ID]plan.Area{
		"a1": {Name: "Lawn", Kind: plan.Planting, Outline: square(0, 0, 14)},
		"a2": {Name: "Walk", Kind: plan.Paving, Outline: square(20, 0, 5)},
		"a3": {Name: "Drip bed", Kind: plan.Planting, Watering: plan.PointSource, Outline: square(40, 0, 10)},
		"a4": {Name: "Gone", Kind: plan.Planting, Status: plan.Remove, Outline: square(60, 0, 10)},
		"a5": {Name: "Park", Kind: plan.Planting, Outline: square(100, 0, 90)},
		"a6": {Name: "Verge", Kind: plan.Planting, Outline: geom.Outline{{X: 0, Y: 200}, {X: 40, Y: 200}, {X: 40, Y: 202.6}, {X: 0, Y: 202.6}}},
	}
	spray, _ := catalog.FindNozzle("spray-12-adj")
	body, _ := catalog.FindBody("body-4")
	p.Nozzles, p.Bodies = map[plan.ID]catalog.Nozzle{"spray-12-adj": spray}, map[plan.ID]catalog.Body{"body-4": body}
	p.Heads = map[plan.ID]plan.Head{
		"h1": {Nozzle: "spray-12-adj", Body: "body-4", X: 3, Y: 3, SweepDeg: 360},
		"h2": {Nozzle: "spray-12-adj", Body: "body-4", X: 9, Y: 9, SweepDeg: 360, Locked: true},
	}
	list, err := Places(t.Context(), p)
	if err != nil || len(list) != 4 {
		t.Fatalf("%+v, %v", list, err)
	}
	lawn, bed, park := list[0], list[1], list[2]
	if lawn.Refuses != "" || lawn.Family != catalog.Spray || lawn.Why == "" || len(lawn.Goes) != 1 || len(lawn.Stays) != 1 || lawn.Ground < 195 || lawn.Ground > 196.1 || lawn.Typical < 13 {
		t.Errorf("%+v", lawn)
	}
	if !strings.Contains(bed.Refuses, "Drip bed") || bed.Family != "" {
		t.Errorf("%+v", bed)
	}
	if verge := list[3]; verge.Refuses != "" || verge.Family != "" {
		t.Errorf("strip nozzles wet most of their water past it: %+v", verge)
	}
	if park.Family != catalog.Rotor {
		t.Errorf("%+v", park)
	}
}
