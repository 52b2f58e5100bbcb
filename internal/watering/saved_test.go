package watering

import (
	"context"
	"strings"
	"testing"

	"evenfall/internal/units"
)

// What is saved is told with its sign in words, in the user's units, and where the sums
// zone by zone leave ground short that is named.
func TestSavedIsToldInWords(t *testing.T) {
	t.Parallel()
	less, more := 0, 0
	for seed := range uint64(24) {
		in := yard(seed+1100, 4, 24, week([]string{"xxxxxxx", "x.x.x.."}[seed%2]))
		in.Calendar.Until = in.Calendar.From + 24*60
		m, err := Plan(context.Background(), in, 6)
		if err != nil {
			t.Fatal(err)
		}
		if diff := float64(m.PlainGallons - m.Gallons - m.Saved); diff > 1e-6 || diff < -1e-6 {
			t.Errorf("seed %d: %g of %g saved", seed, float64(m.Saved), float64(m.PlainGallons))
		}
		if strings.Contains(m.SavedSays, "-") || !strings.Contains(m.SavedSays, "a week") {
			t.Errorf("seed %d: %q", seed, m.SavedSays)
		}
		switch share := float64(m.Saved / m.PlainGallons); {
		case share > alikeShare:
			less++
			if !strings.Contains(m.SavedSays, " less ") {
				t.Errorf("seed %d, %g saved: %q", seed, share, m.SavedSays)
			}
		case share < -alikeShare:
			more++
			if !strings.Contains(m.SavedSays, " more ") {
				t.Errorf("seed %d, %g saved: %q", seed, share, m.SavedSays)
			}
		}
		// The sums' minutes, played by cells: those areas are short, and no others.
		short := map[int]bool{}
		for _, s := range m.PlainShort {
			short[s.Area] = true
		}
		for i, a := range in.Areas {
			minutes := func(z int) float64 { return m.Plain[z].Minutes }
			got := in.fields()[i].received(minutes, in.Target.share())
			need := 7 * float64(a.Need[6])
			if short[i] != (got < need*(1-shortShare)) {
				t.Errorf("seed %d, area %d: gets %.3f of %.3f, short %v", seed, i, got, need, short[i])
			}
		}
		if (len(m.PlainShort) > 0) != strings.Contains(m.SavedSays, "would leave") {
			t.Errorf("seed %d: %q", seed, m.SavedSays)
		}
	}
	if less == 0 || more == 0 {
		t.Errorf("%d take less, %d more", less, more)
	}
	in := turf("x.x.x..")
	in.Show = units.Metric
	m, err := Plan(context.Background(), in, 6)
	if err != nil || !strings.Contains(m.SavedSays, " L ") || strings.Contains(m.SavedSays, "gal") {
		t.Errorf("%q, %v", m.SavedSays, err)
	}
}
