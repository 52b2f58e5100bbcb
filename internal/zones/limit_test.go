package zones

import (
	"strings"
	"testing"
)

// A limit asked for past the design flow is kept to, and said.
func TestLimitPastTheSupplyIsSaid(t *testing.T) {
	t.Parallel()
	p := small(t, nil)
	for _, past := range []bool{false, true} {
		o := Options{Limit: p.Supply.DesignFlowGPM}
		if past {
			o.Limit += 5
		}
		if said := strings.Contains(strings.Join(proposed(t, p, o).Notes, " "), "lack pressure"); said != past {
			t.Errorf("past the supply: %v, said: %v", past, said)
		}
	}
}
