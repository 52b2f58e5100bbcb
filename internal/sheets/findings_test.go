package sheets

import (
	"bytes"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
	"evenfall/internal/wire"
)

// Findings of one cause are one in the report: each place, then once what to do.
// The accepted come with when, by whom and why, in the report and in the lists.
func TestFindingsAreToldByCauseAndTheAcceptedWithTheirReasons(t *testing.T) {
	found := func(head string) plan.Finding {
		return plan.Found(plan.CornerBare, "Corner by "+head+".", plan.RefTo("heads", plan.ID(head))).Looking(orb.Point{})
	}
	p := &plan.Plan{Name: "Lot", Show: units.US, Accepted: map[plan.ID]plan.Accepted{
		"a1": {Code: plan.CornerBare, About: []plan.Ref{"heads/h3"}, Reason: "the owner's wish", By: "Ada", On: "2026-05-04"},
		"a2": {Code: plan.CornerBare, About: []plan.Ref{"heads/h4"}, Reason: "a shed comes here", On: "2026-05-05"},
	}}
	findings := plan.Accept(p, []plan.Finding{found("h1"), found("h2"), found("h3"), found("h4")})
	plan.SortFindings(findings)
	d := &design.Design{Coverage: &coverage.Result{}, Pressure: &pressure.Result{}, Wiring: &wire.Wiring{}, Parts: &parts.List{}, Findings: findings}
	var out bytes.Buffer
	if err := Report(&out, p, d, design.Asked{}); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(out.String()), " ")
	want := "MEND Corner without a head (2) Corner by h1. Corner by h2. Do: Put a quarter head in the corner"
	if !strings.Contains(text, want) || strings.Count(text, "Do: Put a quarter") != 1 {
		t.Errorf("the report does not tell two places once: %s", text)
	}
	for _, want := range []string{
		"note Corner without a head (2) Corner by h3. Accepted by Ada on 2026-05-04: the owner's wish Corner by h4. Accepted on 2026-05-05: a shed comes here",
		"BEFORE DIGGING Have every utility line marked", "No locate request is noted yet.",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the report does not say %q: %s", want, text)
		}
	}
	out.Reset()
	if err := CSV(&out, Findings(p, findings)); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"the owner's wish,Ada,2026-05-04", "a shed comes here,,2026-05-05"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the list of findings does not hold %q", want)
		}
	}
}
