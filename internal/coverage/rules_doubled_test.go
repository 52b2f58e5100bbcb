package coverage_test

import (
	"testing"

	"evenfall/internal/plan"
)

// Heads within a foot that throw over the same ground are one too many; those back
// to back, side by side in one corner, or to be removed are not.
func TestRowA28_HeadsOnOneSpotAreFoundByPlaceAndArc(t *testing.T) {
	for _, c := range []struct {
		name               string
		x, y, start, sweep float64
		rank               plan.Rank
		says               string
	}{
		{"on the spot", 0, 0, 0, 90, plan.Stop, "Head 5 stands on the spot of head 1"},
		{"six inches off", 0.5, 0, 0, 90, plan.Mend, `Head 5 stands 6" from head 1`},
		{"a foot off", 1, 0, 0, 90, plan.Mend, `12"`},
		{"farther", 1.1, 0, 0, 90, "", ""},
		{"half of the lesser arc shared", 0, 0, 45, 90, plan.Stop, "Head 5"},
		{"less than half shared", 0, 0, 50, 90, "", ""},
		{"back to back", 0, 0, 180, 90, "", ""},
		{"shared across east", 0, 0, 330, 90, plan.Stop, "Head 5"},
		{"a full circle over a quarter", 0, 0, 0, 360, plan.Stop, "Head 5"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := newLot(10, 10)
			l.square(10)
			l.head("spray-10-adj", "body-4-reg", c.x, c.y, c.start, c.sweep)
			l.want(t, plan.HeadsDoubled, c.rank, c.says)
		})
	}
	l := newLot(10, 10)
	l.square(10)
	l.head("spray-10-q", "body-4-reg", 0, 0, 0, 90)
	l.set(func(h *plan.Head) { h.Status = plan.Remove })
	l.want(t, plan.HeadsDoubled, "")
}

// A lawn pasted whole on itself is one finding about all its heads.
func TestRowA28_ManyDoubledHeadsAreOneFinding(t *testing.T) {
	l := newLot(10, 10)
	l.square(10)
	l.square(10)
	l.want(t, plan.HeadsDoubled, plan.Stop, "Heads 5, 6, 7 and 8 stand on or beside others")
	if got := of(l.check(t), plan.HeadsDoubled); len(got) == 1 && len(got[0].About) != 8 {
		t.Errorf("about %v, want all 8 heads", got[0].About)
	}
}

// The same outline is the same from whichever corner and whichever way round it
// was drawn; another kind over it is meant.
func TestRowA28_AreasWithTheSameOutlineAreFound(t *testing.T) {
	l := newLot(10, 10)
	l.square(10)
	l.area("twin", plan.Planting, 0, 0, 10, 10)
	l.edit("twin", func(a *plan.Area) {
		o := a.Outline
		a.Outline = append(o[2:3:3], o[1], o[0], o[3])
	})
	l.want(t, plan.AreasDoubled, plan.Mend, "Lawn and Twin have the same outline")
	l.want(t, plan.NothingAssigned, "")
	l.edit("twin", func(a *plan.Area) { a.Kind = plan.NoDig })
	l.want(t, plan.AreasDoubled, "")
}
