//go:build browser

package walk

import (
	"fmt"
	"math"
	"regexp"
	"testing"

	"evenfall/internal/plan"
)

// usUnits are figures in units that a metric plan does not speak.
var usUnits = regexp.MustCompile(`\d\s?(psi|gpm|gal|gallons?|ft|feet|in|inch(es)?|in²|in/h|mph)\b|\d['"′″](\s|$|,|\.)`)

// A metric plan is started up, wired, set and audited in metric units throughout: what is
// typed is read in them, what is kept is what it comes to, and no screen says another.
func TestYard_InMetric(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 768, 1024)
	p.coarse()
	path := openYard(t, p, prog, "")
	eval[bool](p, `(evenfall.board.commit("Metric", { ...evenfall.board.committed, show: "metric" }), true)`)
	p.inYard()
	p.visit(prog.url + path + "/yard")
	p.inYard()
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 0.005*want {
			t.Errorf("%s is kept as %g, want %g", what, got, want)
		}
	}

	p.yardAt("#start/zone/z2")
	for _, f := range [][2]string{{"At rest", "4.2"}, {"While it runs", "2.5"}, {"Flow, as read", "32"}} {
		p.thumbType("#yard-screen", f[0], f[1])
		p.enter()
		p.inYard()
	}
	for _, r := range p.storedPlan(path).Zones["z2"].Runs {
		near("4.2 bar", float64(r.StaticPSI), 4.2*14.5038)
		near("2.5 bar", float64(r.RunningPSI), 2.5*14.5038)
		near("32 L/min", float64(r.FlowGPM), 32/3.78541)
	}
	if got := eval[string](p, `document.querySelector("#yard-screen .yard-verdict").innerText`); !regexp.MustCompile(`32(\.0)? L/min`).MatchString(got) || !regexp.MustCompile(`2\.50? bar`).MatchString(got) {
		t.Errorf("the run is told as %q", got)
	}

	audit := p.cansSetMetric()
	a := p.storedPlan(path).Proof.Audits[plan.ID(audit)]
	near("100 cm²", a.ThroatIn2, 100/6.4516)
	if a.WindMPH == nil {
		t.Error("the wind is not kept")
	} else {
		near("3 km/h", float64(*a.WindMPH), 3/1.609344)
	}
	for _, at := range []string{
		"start", "start/step/shut", "start/step/fill", "start/step/air_out", "start/step/hold", "start/step/run", "start/zone/z1", "start/zone/z2", "wires/list", "wires/find",
		"heads", "heads/h2-8", "heads/h1-2/change", "cans/new", "cans/" + audit + "/setup", "old", "old/before/z1", "photos", "built",
	} {
		p.yardAt("#" + at)
		if got := usUnits.FindString(p.yardText()); got != "" {
			t.Errorf("%s says %q:\n%s", at, got, p.yardText())
		}
	}
	p.visit(prog.url + path + "/yard?show=log")
	p.until(`document.querySelector("#yard-log")`)
	if got := usUnits.FindString(eval[string](p, `document.querySelector("#yard-log").innerText`)); got != "" {
		t.Errorf("the log says %q", got)
	}
}

// cansSetMetric sets out cans of 100 cm² on the back lawn in a wind of 3 km/h.
func (p *tab) cansSetMetric() string {
	p.t.Helper()
	p.yardAt("#cans/new")
	p.choose("#yard-screen", "On", "back-lawn")
	p.thumb(".yard-bar", "Show where")
	p.thumb(".yard-bar", "Set out")
	p.until(`evenfall.yard.place.item.endsWith("/setup")`)
	p.inYard()
	for _, f := range [][2]string{{"Opening of a can", "100"}, {"Speed", "3"}} {
		p.thumbType("#yard-screen", f[0], f[1])
		p.enter()
		p.inYard()
	}
	return eval[string](p, fmt.Sprintf(`evenfall.yard.place.item.slice(0, -%d)`, len("/setup")))
}
