package packs

import (
	"slices"
	"strings"
	"testing"

	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// wordsIn are all texts of items, those of views and layers too.
func wordsIn(items []drawing.Item) []string {
	var out []string
	for _, i := range items {
		switch i := i.(type) {
		case *drawing.Text:
			out = append(out, i.S)
		case *drawing.Layer:
			out = append(out, wordsIn(i.Items)...)
		case *drawing.View:
			out = append(out, wordsIn(i.Items)...)
		}
	}
	return out
}

// sheetWords are the words of the pages of one sheet, by page.
func sheetWords(b *builder, code string) [][]string {
	var out [][]string
	for _, q := range b.pages {
		if q.sheet.code == code {
			out = append(out, wordsIn(q.Items))
		}
	}
	return out
}

func plansToDraw(t testing.TB) []namedPlan {
	return append([]namedPlan{
		{"demo", demoInput(t)}, {"routed", demoRouted(t, "demo")}, {"hundred", designed(t, hundredHeads())},
	}, crowdedPlans(t)...)
}

// Every head's tag stands once on every page of the layout plan that shows it, or is
// told of as not there and stands in the nozzle setting.
func TestEveryTagIsOnTheLayoutPlanOrInTheList(t *testing.T) {
	t.Parallel()
	for _, n := range plansToDraw(t) {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			b, _ := sheetsAlone(t, n.in, Asked{Kind: Crew}, "C3", "C6")
			list := strings.Join(slices.Concat(sheetWords(b, "C6")...), "\n")
			lost := 0
			for _, id := range plan.SortedIDs(n.in.Plan.Heads) {
				tag := n.in.Plan.Heads[id].Tag
				drawn := 0
				for _, words := range sheetWords(b, "C3") {
					on := 0
					for _, w := range words {
						if w == tag {
							on++
						}
					}
					if drawn += on; on > 1 {
						t.Errorf("%s stands %d times on one page", tag, on)
					}
				}
				if drawn == 0 {
					if lost++; !strings.Contains(list, tag) {
						t.Errorf("%s is neither on the plan nor in the list", tag)
					}
				}
			}
			told := 0
			for _, q := range b.pages {
				if q.sheet.code == "C3" {
					told += q.unplaced
				}
			}
			if told < lost {
				t.Errorf("%d tags have no place and the sheet tells of %d labels", lost, told)
			}
		})
	}
}

// Every size that a zone's pipe or the main has stands on the pipe plan, or in the list
// of trenches that it names for what found no room.
func TestEveryPipeSizeIsDrawnOrListed(t *testing.T) {
	t.Parallel()
	for _, n := range plansToDraw(t) {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			b, _ := sheetsAlone(t, n.in, Asked{Kind: Crew}, "C4", "C7")
			c := newChart(n.in, 3.6, 1)
			drawn := slices.Concat(sheetWords(b, "C4")...)
			list := strings.Join(slices.Concat(sheetWords(b, "C7")...), " ")
			runs := sizedRuns(n.in.Plan)
			if len(runs) == 0 {
				t.Fatal("no pipe is drawn")
			}
			pipes := 0
			for _, r := range runs {
				pipes += len(r.pipes)
				words := c.runWords(r.key)
				there := slices.ContainsFunc(drawn, func(s string) bool { return s == words || strings.HasSuffix(s, " "+words) })
				if !there && !strings.Contains(list, strings.Split(words, ",")[0]) {
					t.Errorf("%q is neither on the plan nor in the list", words)
				}
			}
			if pipes != len(n.in.Plan.Pipes) {
				t.Errorf("runs hold %d pipes of %d", pipes, len(n.in.Plan.Pipes))
			}
		})
	}
}

// smallYard is a lawn with one head, to be added to.
func smallYard() *plan.Plan {
	p := drawnYard("Small", units.US, 30, 20)
	p.Supply = plan.Supply{}
	addZone(p, 1, "Lawn", 2, 2)
	z := p.Zones["z01"]
	z.ValveAt = nil
	p.Zones["z01"] = z
	setHead(p, "z01", 1, "spray-10-h", 15, 0.4, 0, 180)
	return p
}

// A legend has the signs of its sheet and no other: what a plan gains, the legend does.
func TestLegendsHaveTheSignsUsedAndNoOther(t *testing.T) {
	t.Parallel()
	base := []sign{signSpray, signThrow, signLot, signLawn}
	cases := []struct {
		name string
		add  func(*plan.Plan)
		more []sign
	}{
		{"as it is", func(*plan.Plan) {}, nil},
		{"a hedge and a tree", func(p *plan.Plan) {
			p.Barriers["h"] = plan.Barrier{Kind: plan.Hedge, HeightFt: 4, Line: geom.Line{{X: 1, Y: 1}, {X: 5, Y: 1}}}
			p.Trees["t"] = plan.Tree{X: 5, Y: 5, TrunkIn: 6}
		}, []sign{signHedge, signTree}},
		{"a rotor that is there and a stream to go", func(p *plan.Plan) {
			setHead(p, "z01", 2, "rotor-30-3", 5, 5, 0, 360)
			h := p.Heads["h-z01-02"]
			h.Status = plan.Existing
			p.Heads["h-z01-02"] = h
		}, []sign{signRotor, signExisting}},
		{"a house, a pond and ground that is not dug", func(p *plan.Plan) {
			p.Areas["house"] = plan.Area{Kind: plan.Building, Outline: rectangle(20, 10, 30, 20)}
			p.Areas["pond"] = plan.Area{Kind: plan.Water, Outline: rectangle(1, 10, 4, 14)}
			p.Areas["septic"] = plan.Area{Kind: plan.NoDig, Outline: rectangle(6, 10, 9, 14)}
		}, []sign{signBuilding, signWater, signNoDig}},
		{"a head in no zone and one to go", func(p *plan.Plan) {
			setHead(p, "z01", 3, "spray-10-h", 3, 0.4, 0, 180)
			h := p.Heads["h-z01-03"]
			h.Zone, h.Status = "", plan.Remove
			p.Heads["h-z01-03"] = h
		}, []sign{signLoneHead, signRemove}},
		{"a supply, a controller and a sensor", func(p *plan.Plan) {
			p.Supply.Connection = &plan.Spot{X: 1, Y: 1}
			p.Controller.At = &plan.Spot{X: 2, Y: 1}
			p.Sensors = map[plan.ID]plan.Sensor{"s": {Kind: "rain", X: 3, Y: 3}}
		}, []sign{signConnection, signController, signSensor}},
	}
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			t.Parallel()
			p := smallYard()
			k.add(p)
			in := designed(t, p)
			b, _ := sheetsAlone(t, in, Asked{Kind: Crew}, "C3")
			var want []string
			for _, s := range slices.Sorted(slices.Values(slices.Concat(base, k.more))) {
				want = append(want, signWords[s])
			}
			words := strings.Join(slices.Concat(sheetWords(b, "C3")...), "\n")
			_, after, _ := strings.Cut(words, "\nSigns\n")
			got, _, _ := strings.Cut(after, "\nTo know\n")
			if got != strings.Join(want, "\n") {
				t.Errorf("the legend says\n%s\nwant\n%s", got, strings.Join(want, "\n"))
			}
		})
	}
}

// What is drawn without a sign in the legend would be a riddle: every layer that holds
// something has a sign, on every plan.
func TestEverySignHasWordsAndAPicture(t *testing.T) {
	t.Parallel()
	c := newChart(designed(t, smallYard()), 1, 1)
	seen := map[string]sign{}
	for s := range signCount {
		if signWords[s] == "" {
			t.Errorf("sign %d has no words", s)
		}
		if o, twice := seen[signWords[s]]; twice {
			t.Errorf("signs %d and %d have the same words", o, s)
		}
		seen[signWords[s]] = s
		if s != signNoFamily && len(c.sampleItems(s, sampleWide, sampleHigh)) == 0 {
			t.Errorf("%q has no picture", signWords[s])
		}
	}
}
