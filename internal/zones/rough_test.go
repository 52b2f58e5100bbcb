package zones

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func TestRoughGround(t *testing.T) {
	t.Parallel()
	every := func(p *plan.Plan, change func(n int, h *plan.Head)) {
		for n, id := range plan.SortedIDs(p.Heads) {
			h := p.Heads[id]
			change(n, &h)
			p.Heads[id] = h
		}
	}
	for _, c := range []struct {
		name   string
		change func(*plan.Plan)
		zones  int
	}{
		{"all heads on one spot", func(p *plan.Plan) { every(p, func(_ int, h *plan.Head) { h.X, h.Y = 40, 10 }) }, 2},
		{"one head", func(p *plan.Plan) { p.Heads = map[plan.ID]plan.Head{"h": p.Heads["h00"]} }, 1},
		{"no areas", func(p *plan.Plan) { p.Areas = nil }, 2},
		{"all far away", func(p *plan.Plan) { every(p, func(n int, h *plan.Head) { h.X += 30_000 - units.Feet(n)*4_000 }) }, 2},
		{"no place for a valve", func(p *plan.Plan) {
			p.Areas["bed"] = plan.Area{Name: "Bed", Kind: plan.Paving, Outline: rectangle(0, 20, 20, 28)}
			p.Areas["lawn"] = plan.Area{Name: "Lawn", Kind: plan.Planting, Outline: rectangle(0, 0, 80, 0.9)}
		}, 2},
		{"no connection", func(p *plan.Plan) { p.Supply.Connection = nil }, 2},
		{"a head left out", func(p *plan.Plan) {
			h := p.Heads["h05"]
			h.SweepDeg = 77 // a fixed half circle
			p.Heads["h05"] = h
		}, 2},
		{"stations beyond the controller", func(p *plan.Plan) { p.Controller.Stations = 1 }, 2},
		{"names that are long", func(p *plan.Plan) {
			a := p.Areas["lawn"]
			a.Name = strings.Repeat("Long lawn ", 30)
			p.Areas["lawn"] = a
		}, 2},
	} {
		p := small(t, c.change)
		o := proposed(t, p, Options{})
		hold(t, c.name, p, o)
		if len(o.Groups) != c.zones {
			t.Errorf("%s: %d zones, want %d", c.name, len(o.Groups), c.zones)
		}
		notes := strings.Join(o.Notes, " ")
		switch c.name {
		case "no place for a valve":
			if o.Groups[0].Manifold != 0 || !strings.Contains(o.Groups[0].Where, "No place was found") {
				t.Errorf("a valve stands: %s", o.Groups[0].Where)
			}
		case "a head left out":
			if !strings.Contains(notes, "outside its nozzle's table") {
				t.Errorf("nothing is said of the head: %q", notes)
			}
		case "stations beyond the controller":
			if !strings.Contains(notes, "1 station for 2 zones") {
				t.Errorf("nothing is said of the controller: %q", notes)
			}
		}
	}
}

func TestStopAnswersAtOnce(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	last := -1
	_, err := Propose(ctx, load(t, "demo-mended.json"), Options{}, func(done, total int) {
		if done < last || done > total {
			t.Errorf("progress went from %d to %d of %d", last, done, total)
		}
		if last = done; done > 300 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestProgressRunsToTheEnd(t *testing.T) {
	t.Parallel()
	last, steps := -1, 0
	tell := func(done, total int) {
		if done < last {
			t.Errorf("progress went back from %d to %d of %d", last, done, total)
		}
		last = done
		steps++
	}
	if _, err := propose(context.Background(), load(t, "demo-mended.json"), Options{}, tell, func(tell coverage.Progress) ([]coverage.Estimate, error) {
		tell(1, 2)
		return nil, nil
	}); err != nil {
		t.Fatal(err)
	}
	if last != 1000 || steps < 5 {
		t.Errorf("it ended at %d after %d steps", last, steps)
	}
}

// A valve's own table and a pump limit zones as the supply does.
func TestValveAndPumpLimitZones(t *testing.T) {
	t.Parallel()
	low, _ := catalog.FindDevice("valve-1-low") // up to 15 gpm
	p := small(t, func(p *plan.Plan) {
		low.MostGPM = 4
		p.Devices = map[plan.ID]catalog.Device{"low": low}
		p.Zones["za"] = plan.Zone{Name: "A", Valve: "low"}
		inZone(p, "za", 0)
	})
	o := proposed(t, p, Options{})
	hold(t, "valve", p, o)
	if o.Limit != 4 || len(o.Groups) < 4 || !strings.Contains(o.Says, "the most of the zone valve") {
		t.Errorf("limit %v, %d zones: %s", o.Limit, len(o.Groups), o.Says)
	}
	p = small(t, func(p *plan.Plan) { p.Supply.Kind, p.Supply.PumpLeastGPM = plan.Well, 9 })
	if notes := strings.Join(proposed(t, p, Options{}).Notes, " "); !strings.Contains(notes, "a pump that wants at least 9.00 gpm") {
		t.Errorf("nothing is said of the pump: %q", notes)
	}
}

// Manifolds hold five valves at most, and no two stand in one place.
func TestBoxesHoldFive(t *testing.T) {
	t.Parallel()
	p := small(t, nil)
	o := proposed(t, p, Options{Limit: 1.5}) // a zone a head
	hold(t, "boxes", p, o)
	if len(o.Groups) != 12 {
		t.Fatalf("%d zones", len(o.Groups))
	}
	boxes, places := map[int]int{}, map[string]string{}
	for _, g := range o.Groups {
		boxes[g.Manifold]++
		if was := places[fmt.Sprint(g.Valve)]; was != "" {
			t.Errorf("%s and %s have their valves at %v", was, g.Name, g.Valve)
		}
		places[fmt.Sprint(g.Valve)] = g.Name
	}
	for k, n := range boxes {
		if n > mostShared || k == 0 {
			t.Errorf("box %d has %d valves", k, n)
		}
	}
}
