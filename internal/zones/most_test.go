package zones

import (
	"math"
	"os"
	"testing"

	"evenfall/internal/plan"
)

// The demo's design flow is 12.9 gpm, the service at 5 ft/s (trade.md, section 6):
// a zone may take all of it but 5 %.
func TestMostFlowIsTheDesignFlowLessWhatIsKept(t *testing.T) {
	t.Parallel()
	doc, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(MostFlow(p)); math.Abs(got-0.95*12.85) > 0.1 {
		t.Errorf("%.3f gpm", got)
	}
	p.Supply.DesignFlowGPM = 8
	if got := float64(MostFlow(p)); math.Abs(got-7.6) > 1e-9 {
		t.Errorf("%.3f gpm of a chosen 8", got)
	}
}
