package packs

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// startUpAndTests is when what was tested, how each zone ran beside what was predicted,
// and room for the tests to come.
func (b *builder) startUpAndTests() error {
	b.startUp(b.list(), proof.StartUp(b.p, b.in.Design))
	return nil
}

func (b *builder) startUp(f *flow, s proof.Start) {
	f.para(b.startSays(s))
	f.section("Test dates")
	f.table(b.testDates(s))
	if len(s.Zones) > 0 {
		f.section("Each zone as it ran")
		f.table(b.ranGrid(s))
		b.ranMeans(f, s)
	}
	b.heldTests(f, s)
	b.startSteps(f, s)
}

func (b *builder) startSays(s proof.Start) string {
	done := slices.ContainsFunc(s.Steps, func(t proof.Step) bool { return t.Done != nil })
	ran := slices.ContainsFunc(s.Zones, func(z proof.ZoneStart) bool { return len(z.Runs) > 0 })
	switch {
	case b.p.Proof.StartedUp != "":
		return fmt.Sprintf("Started up on %s: %s.", b.p.Proof.StartedUp, s.Says)
	case !done && !ran && len(s.Tests) == 0:
		return "The system has not been started up yet, as far as this plan knows. Write in what is measured, and keep it: next spring's figures are held against these."
	}
	return plan.Capital(s.Says) + "."
}

// testDates are the dates that somebody will ask for, with room for those to come.
func (b *builder) testDates(s proof.Start) grid {
	g := grid{Head: []string{"What", "On", "By", "Result"}, Shares: []float64{34, 14, 22, 40}, Least: 17}
	row := func(cells ...string) { g.Rows = append(g.Rows, cells) }
	main := ""
	if i := lastTest(s, ""); i >= 0 {
		main = s.Tests[i].Test.On
		row("Pressure test of the main", main, b.doneBy(s, proof.StepHold), testResult(&s.Tests[i]))
	} else {
		row("Pressure test of the main", "", "", "")
	}
	row("System started up", b.p.Proof.StartedUp, "", "")
	for _, a := range proof.AuditLines(b.p) {
		row("Catch-can audit", b.p.Proof.Audits[a.ID].On, "", a.Says+" ("+auditCode+")")
	}
	if b.testedYearly() {
		row("Backflow device, by a licensed tester, every year", b.p.Site.BackflowTestedOn, b.doneBy(s, proof.StepTester), "")
		for range 3 {
			row("Backflow device again", "", "", "")
		}
	}
	for range 2 {
		row("", "", "", "")
	}
	g.Note = "The tester's report of the backflow device is kept with these papers. Local rules say who may test it, how often, and where the report goes."
	return g
}

// lastTest is the last pressure test of a zone's lateral, of the main for ""; -1: none.
func lastTest(s proof.Start, of plan.ID) int {
	last := -1
	for i := range s.Tests {
		if s.Tests[i].Test.Of == of {
			last = i
		}
	}
	return last
}

func testResult(t *proof.Tested) string {
	switch {
	case !t.Known:
		return "not enough is noted to tell"
	case t.Holds:
		return "holds"
	}
	return "does not hold"
}

// doneBy is who did a step, as far as it was noted.
func (b *builder) doneBy(s proof.Start, id plan.ID) string {
	for _, t := range s.Steps {
		if t.ID == id && t.Done != nil {
			return t.Done.By
		}
	}
	return ""
}

// ranGrid has each zone's runs beside what was predicted; a zone that was not run has a
// row to write into.
func (b *builder) ranGrid(s proof.Start) grid {
	g := grid{Head: []string{"Zone", "Flow predicted", "Flow measured", "Pressure predicted", "Pressure measured", "At rest predicted", "At rest measured", "On"},
		Shares: []float64{27, 13, 13, 17, 17, 13, 13, 13}, Least: 17, Small: true}
	for _, z := range s.Zones {
		name := zoneTitle(b.p, z.ID)
		if z.Station > 0 {
			name = itoa(z.Station) + "  " + name
		}
		pressure := z.Pressure
		if pressure != "" && z.HeadTag != "" && !strings.Contains(pressure, z.HeadTag) {
			pressure += " at " + z.HeadTag
		}
		if len(z.Runs) == 0 {
			g.Rows = append(g.Rows, []string{name, z.Flow, "", pressure, "", z.Static, "", ""})
			continue
		}
		for _, r := range z.Runs {
			g.Rows = append(g.Rows, []string{name, z.Flow, b.flowOf(r), pressure, b.pressureOf(r), z.Static, b.restOf(r), r.Run.On})
		}
	}
	g.Note = "Predicted on the supply's lowest pressure at rest. Small differences are the gauge's and the meter's."
	return g
}

func (b *builder) flowOf(r proof.Run) string {
	if r.Flow > 0 {
		return b.sys.Flow(r.Flow)
	}
	return ""
}

func (b *builder) pressureOf(r proof.Run) string {
	if r.Run.RunningPSI <= 0 {
		return ""
	}
	at := ""
	switch {
	case r.Run.PSIAt == "valve":
		at = " behind the valve"
	case r.Run.PSIAt == "tap":
		at = " at the tap"
	case r.Run.AtHead != "":
		at = " at " + b.p.HeadTag(r.Run.AtHead)
	}
	return b.sys.Pressure(r.Run.RunningPSI) + at
}

func (b *builder) restOf(r proof.Run) string {
	if r.Run.StaticPSI <= 0 {
		return ""
	}
	return b.sys.Pressure(r.Run.StaticPSI)
}

// ranMeans say what the differences most likely mean, of the last run of each zone.
func (b *builder) ranMeans(f *flow, s proof.Start) {
	var says []string
	for _, z := range s.Zones {
		if len(z.Runs) == 0 {
			continue
		}
		r := z.Runs[len(z.Runs)-1]
		if !r.Known || r.Good || len(r.Likely) == 0 {
			continue
		}
		l := r.Likely[0]
		says = append(says, fmt.Sprintf("%s: %s. Most likely: %s. %s", plan.Capital(b.p.ZoneName(z.ID)), strings.TrimSuffix(r.Says, "."), strings.TrimSuffix(lowerFirst(l.Says), "."), joined(l.Why, l.Do)))
	}
	if len(says) > 0 {
		f.section("What the differences most likely mean")
		f.bullets(says...)
	}
}

// heldTests are the pressure tests one by one.
func (b *builder) heldTests(f *flow, s proof.Start) {
	if len(s.Tests) == 0 {
		return
	}
	g := grid{Head: []string{"Pressure test", "On", "What it says"}, Shares: []float64{26, 14, 70}}
	for i := range s.Tests {
		t := &s.Tests[i]
		g.Rows = append(g.Rows, []string{plan.Capital(t.Of), t.Test.On, joined(t.Says, strings.TrimSpace(t.Test.Note))})
	}
	f.section("Held at pressure")
	f.table(g)
}

// startSteps are the steps of the start-up, done or still to be ticked off.
func (b *builder) startSteps(f *flow, s proof.Start) {
	if len(s.Steps) == 0 {
		return
	}
	g := grid{Head: []string{"Step of the start-up", "Done on", "By", "Seen"}, Shares: []float64{34, 14, 20, 44}, Least: 15}
	for _, t := range s.Steps {
		done := plan.StepDone{}
		if t.Done != nil {
			done = *t.Done
		}
		g.Rows = append(g.Rows, []string{t.Title, done.On, done.By, strings.TrimSpace(done.Note)})
	}
	f.section("Steps")
	f.table(g)
}
