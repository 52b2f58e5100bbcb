package catalog

import (
	"errors"
	"math"
	"testing"

	"evenfall/internal/units"
)

func TestValidateNamesTheMember(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct {
		name, id string
		spoil    func(*Nozzle)
		member   string
	}{
		{"no name", "spray-10-q", func(n *Nozzle) { n.Name = " " }, "/name"},
		{"family", "spray-10-q", func(n *Nozzle) { n.Family = "drip" }, "/family"},
		{"trajectory", "spray-10-q", func(n *Nozzle) { n.Trajectory = 90 }, "/trajectory_deg"},
		{"arc above full", "spray-10-q", func(n *Nozzle) { n.ArcMost = 400 }, "/arc_most_deg"},
		{"arc none", "spray-10-q", func(n *Nozzle) { n.ArcLeast = 0 }, "/arc_least_deg"},
		{"arcs swapped", "spray-10-adj", func(n *Nozzle) { n.ArcLeast, n.ArcMost = 180, 90 }, "/arc_least_deg"},
		{"profile", "spray-10-q", func(n *Nozzle) { n.Profile.Kind = "round" }, "/profile/kind"},
		{"shares on linear", "spray-10-q", func(n *Nozzle) { n.Profile.Shares = []float64{1, 0} }, "/profile/shares"},
		{"one share", "spray-10-q", func(n *Nozzle) { n.Profile = Profile{ProfileTable, []float64{1}} }, "/profile/shares"},
		{"share no number", "spray-10-q", func(n *Nozzle) { n.Profile = Profile{ProfileTable, []float64{1, nan}} }, "/profile/shares/1"},
		{"all shares zero", "spray-10-q", func(n *Nozzle) { n.Profile = Profile{ProfileTable, []float64{0, 0}} }, "/profile/shares"},
		{"strip on a spray", "spray-10-q", func(n *Nozzle) { n.Strip = &StripShape{Ahead: true, Left: 1} }, "/strip"},
		{"strip without shape", "strip-side-30", func(n *Nozzle) { n.Strip = nil }, "/strip"},
		{"strip nowhere", "strip-side-30", func(n *Nozzle) { n.Strip = &StripShape{Left: 1} }, "/strip"},
		{"strip no width", "strip-side-30", func(n *Nozzle) { n.Strip = &StripShape{Ahead: true} }, "/strip"},
		{"strip negative", "strip-side-30", func(n *Nozzle) { n.Strip = &StripShape{Ahead: true, Left: -1, Right: 7} }, "/strip/left_ft"},
		{"strip with an arc", "strip-side-30", func(n *Nozzle) { n.ArcMost = 90 }, "/arc_least_deg"},
		{"usual share", "spray-10-q", func(n *Nozzle) { n.TurnDown.UsualShare = 1.2 }, "/turn_down/usual_share"},
		{"least above usual", "spray-10-q", func(n *Nozzle) { n.TurnDown.LeastShare = 0.8 }, "/turn_down/least_share"},
		{"flow power", "spray-10-q", func(n *Nozzle) { n.TurnDown.FlowPower = -1 }, "/turn_down/flow_power"},
		{"no rows", "spray-10-q", func(n *Nozzle) { n.Rows = nil }, "/rows"},
		{"rows falling", "spray-10-q", func(n *Nozzle) { n.Rows = []Row{{30, 10, 1}, {20, 9, 1}} }, "/rows/1/pressure_psi"},
		{"same pressure twice", "spray-10-q", func(n *Nozzle) { n.Rows = []Row{{30, 10, 1}, {30, 10, 1}} }, "/rows/1/pressure_psi"},
		{"flow no number", "spray-10-q", func(n *Nozzle) { n.Rows = []Row{{30, 10, units.GPM(nan)}} }, "/rows/0/flow_gpm"},
		{"throw zero", "spray-10-q", func(n *Nozzle) { n.Rows = []Row{{30, 0, 1}} }, "/rows/0/throw_ft"},
		{"best outside", "spray-10-q", func(n *Nozzle) { n.BestPSI = 50 }, "/best_psi"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			n := nozzle(t, tt.id)
			tt.spoil(&n)
			var f *Fault
			if err := n.Validate(); !errors.As(err, &f) || f.Member != tt.member || f.Sentence == "" {
				t.Errorf("got %+v, want a fault at %s", err, tt.member)
			}
		})
	}
}

func TestValidateBodyNamesTheMember(t *testing.T) {
	for _, tt := range []struct {
		name   string
		spoil  func(*Body)
		member string
	}{
		{"no name", func(b *Body) { b.Name = "" }, "/name"},
		{"height", func(b *Body) { b.Height = 100 }, "/height_in"},
		{"regulated", func(b *Body) { b.Regulated = -30 }, "/regulated_psi"},
		{"inlet", func(b *Body) { b.InletIn = units.Inches(math.Inf(1)) }, "/inlet_in"},
	} {
		b, _ := FindBody("body-4")
		tt.spoil(&b)
		var f *Fault
		if err := b.Validate(); !errors.As(err, &f) || f.Member != tt.member {
			t.Errorf("%s: got %+v, want a fault at %s", tt.name, err, tt.member)
		}
	}
}
