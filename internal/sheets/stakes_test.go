package sheets

import (
	"context"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/stakeout"
	"evenfall/testdata/plans"
)

func demoStaked(t *testing.T) (*plan.Plan, *design.Design, *stakeout.Plan) {
	t.Helper()
	p, err := plan.Decode(plans.Demo)
	if err != nil {
		t.Fatal(err)
	}
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return p, d, stakeout.Of(p, d.Digs)
}

// The stake-out list says the same as the sentence of each flag, and leaves nothing out.
func TestE18_TheStakeOutListHasEveryFlag(t *testing.T) {
	t.Parallel()
	p, _, s := demoStaked(t)
	table := Stakes(p, s)
	if len(table.Rows) != len(s.Flags)+len(s.Left) {
		t.Fatalf("%d rows for %d flags and %d left", len(table.Rows), len(s.Flags), len(s.Left))
	}
	for i := range s.Flags {
		f, row := &s.Flags[i], table.Rows[i]
		first, then, hand, check := row[3].String(), row[4].String(), row[5].String(), row[6].String()
		for _, l := range []string{p.Show.Length(f.A), s.Points[f.From].Called()} {
			if !strings.Contains(first, l) {
				t.Errorf("flag %s: %q lacks %q", f.Tag, first, l)
			}
		}
		if !strings.Contains(then, p.Show.Length(f.B)) || !strings.HasPrefix(hand, f.Hand()) {
			t.Errorf("flag %s: then %q, hand %q", f.Tag, then, hand)
		}
		if f.Checked() != strings.Contains(check, p.Show.Length(f.C)) {
			t.Errorf("flag %s: check %q", f.Tag, check)
		}
	}
	points := StakePoints(s)
	if len(points.Rows) != len(s.Points) || points.Rows[0][0].String() != "A" {
		t.Errorf("points: %v", points.Rows)
	}
}

// Every standing head is in the setting list once, with its zone, in walking order.
func TestTheSettingListHasEveryHeadInWalkingOrder(t *testing.T) {
	t.Parallel()
	p, d, s := demoStaked(t)
	walk := map[plan.ID]int{}
	for i, f := range s.Flags {
		_, id := f.Of.Split()
		walk[id] = i
	}
	n, zones := 0, []plan.ID{}
	for _, z := range Setting(p, d.Coverage, s) {
		if slices.Contains(zones, z.Zone) {
			t.Errorf("zone %s comes twice", z.Zone)
		}
		zones = append(zones, z.Zone)
		for i, id := range z.Heads {
			n++
			h, row := p.Heads[id], z.Table.Rows[i]
			if h.Zone != z.Zone || row[0].String() != h.Tag {
				t.Errorf("head %s of zone %s in the list of %s as %s", id, h.Zone, z.Zone, row[0])
			}
			if i > 0 && walk[id] < walk[z.Heads[i-1]] {
				t.Errorf("head %s comes after %s", h.Tag, p.Heads[z.Heads[i-1]].Tag)
			}
			if row[3].String() == "" || h.SweepDeg > 0 && h.SweepDeg < 360 && row[4].String() == "" {
				t.Errorf("head %s: edges %q and %q", h.Tag, row[3], row[4])
			}
		}
	}
	if n != len(p.Heads) {
		t.Errorf("%d of %d heads", n, len(p.Heads))
	}
	find := func(tag string) []string {
		for _, z := range Setting(p, d.Coverage, s) {
			for i, id := range z.Heads {
				if p.Heads[id].Tag == tag {
					var out []string
					for _, c := range z.Table.Rows[i] {
						out = append(out, c.String())
					}
					return out
				}
			}
		}
		return nil
	}
	// Two full circles of 10 ft turned down to 7 ft stand on bodies of 12 in (the demo's own figures).
	if got := find("6-1"); got[3] != "full circle: no edge to set" || got[5] != `7' 0"` || got[6] != "30 %" || got[9] != `12"` {
		t.Errorf("head 6-1: %q", got)
	}
	// 5 in off the service walk.
	if got := find("1-4"); got[2] != "180°" || got[10] != `5"` {
		t.Errorf("head 1-4: %q", got)
	}
}
