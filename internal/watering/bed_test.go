package watering

import (
	"context"
	"testing"

	"evenfall/internal/units"
)

// bedYard is the case of the issue: a lawn of streams, and a bed with sprays of its own
// that lies within their throw and needs water daily.
func bedYard() *Input {
	return &Input{
		Areas: []Area{
			{Name: "lawn", Size: 2000, Need: steady(.2), Holds: 1.4, Depleted: .5, Rest: 2, Intake: .6, Surface: .3, Rates: [][]float32{even(200, .5), nil}},
			{Name: "bed", Size: 150, Need: steady(.15), Holds: .4, Depleted: .5, Rest: 0, Intake: 2, Surface: .3, Rates: [][]float32{even(15, .5), even(15, 1.6)}},
		},
		Zones:    []Zone{{Name: "lawn", Station: 1, Flow: 10, Own: []int{0}}, {Name: "bed", Station: 2, Flow: 2.5, Own: []int{1}}},
		Calendar: Calendar{Days: week("xxxxxxx"), From: 22 * 60, Until: 30 * 60},
	}
}

// minutesOf is the minutes of a zone by day.
func minutesOf(m *Month, zone int) []int {
	days := make([]int, len(m.q.in.Calendar.Days))
	for _, p := range m.Programs {
		for _, r := range p.Runs {
			if r.Zone == zone {
				for _, d := range p.Days {
					days[d] += r.Minutes
				}
			}
		}
	}
	return days
}

func TestBedWithinTheLawnsThrow(t *testing.T) {
	t.Parallel()
	in := bedYard()
	m, err := Plan(context.Background(), in, 6)
	if err != nil || !m.Fits {
		t.Fatalf("%v %+v", err, m)
	}
	lawn, bed := minutesOf(m, 0), minutesOf(m, 1)
	ran, own := 0, 0
	for d := range lawn {
		if lawn[d] > 0 {
			ran++
			if bed[d] != 0 {
				t.Errorf("day %d: the bed's valve runs %d min though the lawn's water is enough", d, bed[d])
			}
		} else if bed[d] > 0 {
			own++
		}
	}
	if ran < 2 || ran > 3 || own != 7-ran {
		t.Errorf("lawn runs on %d days, the bed by itself on %d", ran, own)
	}
	if !(m.Saved > 0) {
		t.Errorf("saves %.1f gallons", float64(m.Saved))
	}
	checkReplay(t, in, m)

	// Streams that bring less than the bed's need: its valve gives the rest.
	in = bedYard()
	in.Areas[1].Rates[0], in.Areas[1].Rates[1] = even(15, .05), even(15, .4)
	if m, err = Plan(context.Background(), in, 6); err != nil || !m.Fits {
		t.Fatalf("%v %+v", err, m)
	}
	lawn, bed = minutesOf(m, 0), minutesOf(m, 1)
	for d := range lawn {
		other := (d + 1) % 7
		if lawn[d] > 0 && lawn[other] == 0 && !(bed[d] > 0 && bed[d] < bed[other]) {
			t.Errorf("day %d: lawn %d, bed %d and %d on the next", d, lawn[d], bed[d], bed[other])
		}
	}
	checkReplay(t, in, m)

	// Its credit off, the bed is watered as if the lawn were not there.
	in = bedYard()
	before, _ := Plan(context.Background(), in, 6)
	in.Areas[1].Credit = []units.Ratio{0, 1}
	after, err := Plan(context.Background(), in, 6)
	if err != nil || after.Gallons <= before.Gallons {
		t.Errorf("%v: %.1f gallons without credit, %.1f with", err, float64(after.Gallons), float64(before.Gallons))
	}
	for d, b := range minutesOf(after, 1) {
		if b == 0 {
			t.Errorf("day %d: no water of its own", d)
		}
	}
}
