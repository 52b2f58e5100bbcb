package drawing

import (
	"testing"

	"github.com/paulmach/orb"
)

// On a sheet that is full no more leaders are sought for labels that can have none, or
// a plan of thousands of heads would take minutes; and the first that matter are placed.
func TestNoLeadersAreSoughtOnAFullSheet(t *testing.T) {
	t.Parallel()
	var wants []Want
	for i := range 4000 {
		wants = append(wants, Want{
			Text: Text{S: "12-345", Size: 6}, About: orb.Point{3 + 4*float64(i%80), 3 + 4*float64(i/80)}, Clear: 1.5,
			Leader: Pen{Ink: Black, Width: 0.4}, Priority: 4,
		})
	}
	s := newSettling(orb.Bound{Max: orb.Point{326, 206}}, wants, nil, nil)
	placed, sought := 0, 0
	for i := range s.labels {
		if s.find(i) {
			placed++
		}
		if s.labels[i].offMade {
			sought++
		}
	}
	if s.lost <= lostMost || sought > placed+lostMost+1 {
		t.Errorf("%d labels lost, %d placed, and for %d leaders were sought", s.lost, placed, sought)
	}
}
