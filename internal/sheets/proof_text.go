package sheets

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// Proved is what was tested, found and measured of a plan. What is nil is not printed.
type Proved struct {
	Start    *proof.Start
	Wires    *proof.WireMap
	Heads    []proof.HeadStep
	Built    []proof.BuiltThing
	Audits   []*proof.Audited
	Audited  bool // Audits are printed, though there be none
	Retrofit *proof.RetrofitPlan
}

// ProofText writes it to be read.
func ProofText(out io.Writer, p *plan.Plan, v Proved) error {
	r := &reporter{p: p, sys: p.Show}
	r.line("Proof: %s", strings.Join(strings.Fields(cmp.Or(p.Name, "Plan without a name")), " "))
	if v.Start != nil {
		r.startUp(*v.Start)
	}
	if v.Wires != nil {
		r.terminals(*v.Wires)
	}
	if v.Heads != nil {
		r.nozzleWalk(v.Heads)
	}
	if v.Built != nil {
		r.builtThings(v.Built)
	}
	if v.Audited {
		r.audited(v.Audits)
	}
	if v.Retrofit != nil {
		r.retrofit(v.Retrofit)
	}
	if _, err := out.Write(r.out.Bytes()); err != nil {
		return fmt.Errorf("sheets: writing the proof: %w", err)
	}
	return nil
}

// dash puts one where there is nothing.
func dash(s string) string { return cmp.Or(s, "–") }

func (r *reporter) startUp(s proof.Start) {
	r.section("Start-up")
	r.wrap("  ", inSentences(s.Says))
	for i, step := range s.Steps {
		done := "to do"
		if d := step.Done; d != nil {
			done = "done " + d.On
			if d.By != "" {
				done += " by " + d.By
			}
		}
		r.line("  %d. %s: %s", i+1, strings.TrimSuffix(step.Title, "."), done)
		r.wrap("     ", step.How)
		if step.Caution != "" {
			r.wrap("     ", step.Caution)
		}
		if d := step.Done; d != nil && d.Note != "" {
			r.wrap("     ", "Noted: "+d.Note)
		}
	}
	for _, t := range s.Tests {
		r.wrap("  ", inSentences(joinWords(t.Test.On, ": ", t.Says)))
	}
	if len(s.Zones) == 0 {
		return
	}
	r.section("Zones, predicted")
	rows := [][]string{{"Zone", "Flow", "Pressure", "At head", "Static", "At the meter"}}
	for _, z := range s.Zones {
		rows = append(rows, []string{joinWords(stationWord(z.Station), " ", z.Name), dash(z.Flow), dash(z.Pressure), dash(z.HeadTag), dash(z.Static), dash(z.MeterTime)})
	}
	r.table(rows)
	said := map[string]bool{}
	for _, z := range s.Zones {
		if z.Unknown != "" && !said[z.Unknown] {
			said[z.Unknown] = true
			r.wrap("  ", z.Unknown)
		}
	}
	r.section("Zones, as they ran")
	none := true
	for _, z := range s.Zones {
		for _, run := range z.Runs {
			none = false
			r.wrap("  ", fmt.Sprintf("%s, %s: %s", joinWords(stationWord(z.Station), " ", z.Name), cmp.Or(run.Run.On, "no date"), cmp.Or(run.Says, "nothing to hold against what is predicted.")))
			for _, l := range run.Likely {
				r.wrap("    ", LikelyWords(l))
			}
		}
	}
	if none {
		r.line("  None was run yet.")
	}
}

func stationWord(station int) string {
	if station == 0 {
		return ""
	}
	return fmt.Sprint(station)
}

// joinWords joins two texts, of which either may be empty.
func joinWords(a, by, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + by + b
}

func (r *reporter) terminals(m proof.WireMap) {
	r.section("Wires at the controller")
	r.wrap("  ", m.Says)
	if m.Next != nil {
		r.wrap("  ", "Next: "+m.Next.Says)
	}
	if len(m.Terminals) > 0 {
		t := Terminals(proof.WireMap{Terminals: m.Terminals})
		rows := [][]string{{"Terminal", "For", "Wire", "Reads"}}
		for _, row := range words(t)[1:] {
			rows = append(rows, []string{row[0], row[1], dash(row[2]), dash(row[3])})
		}
		r.table(rows)
	}
	for _, w := range m.Warnings {
		r.wrap("  ", w)
	}
	r.wrap("  ", m.Caution)
}

func (r *reporter) nozzleWalk(heads []proof.HeadStep) {
	r.section("Nozzles, in walking order")
	if len(heads) == 0 {
		r.line("  The plan has no head.")
		return
	}
	set := 0
	for _, h := range heads {
		if h.SetOn != "" {
			set++
		}
	}
	r.line("  %d of %s set as drawn.", set, plan.Plural(len(heads), "head", "heads"))
	for _, h := range heads {
		r.wrap("  ", fmt.Sprintf("%s: %s", h.Tag, h.Where))
		r.wrap("      ", inSentences(strings.Join([]string{h.Nozzle, joinWords(h.Arc, ", ", h.Edge), joinWords(h.Throw, ", ", h.Turn)}, "; ")))
		switch {
		case len(h.Faults) > 0:
			r.wrap("      ", inSentences("Found "+plan.Series(h.Faults), h.Note))
		case h.SetOn != "":
			r.wrap("      ", inSentences("Set "+h.SetOn, h.Note))
		case h.Note != "":
			r.wrap("      ", inSentences(h.Note))
		}
	}
}

func (r *reporter) builtThings(things []proof.BuiltThing) {
	r.section("As built")
	if len(things) == 0 {
		r.wrap("  ", noneBuilt)
	}
	for _, b := range things {
		r.wrap("  ", inSentences(fmt.Sprintf("%s, %s: %s", b.What, b.On, cmp.Or(b.Moved, "as drawn")), b.Says))
	}
}

func (r *reporter) audited(audits []*proof.Audited) {
	r.section("Catch-can audits")
	if len(audits) == 0 {
		r.wrap("  ", noAudit)
	}
	for _, a := range audits {
		r.wrap("  ", joinWords(joinWords(a.Name, ", ", r.p.Proof.Audits[a.ID].On), ": ", a.Says))
		if len(a.Figures) > 0 {
			rows := [][]string{{"Figure", "Measured", "Predicted"}}
			for _, f := range a.Figures {
				rows = append(rows, []string{f.Name, f.Measured, dash(f.Expected)})
			}
			r.table(rows)
		}
		for _, h := range a.Faults {
			r.wrap("  ", fmt.Sprintf("%s: %s. %s", h.Tag, h.Output, FaultWords(h)))
		}
		for _, part := range [][]string{a.Unsure, a.Rules, a.Notes, {a.Uses}} {
			for _, s := range part {
				if s != "" {
					r.wrap("  ", s)
				}
			}
		}
	}
}

func (r *reporter) retrofit(v *proof.RetrofitPlan) {
	r.section("An old system, before and after mending")
	r.wrap("  ", v.Says)
	for _, c := range v.Census {
		r.wrap("  ", fmt.Sprintf("%s %s: %s", plan.Plural(len(c.Heads), "head", "heads"), c.Words, c.Tags))
	}
	for _, z := range v.Zones {
		r.wrap("  ", inSentences(fmt.Sprintf("%s: flow %s; pressure %s; uniformity %s; water %s; saves %s", z.Name, dash(z.Flow), dash(z.Pressure), dash(z.DU), dash(z.Water), dash(z.Saving))))
	}
	for i, m := range v.Mends {
		r.wrap("  ", inSentences(fmt.Sprintf("%d. %s", i+1, m.Says), m.Saving, m.Why))
	}
	for _, s := range v.Assumed {
		r.wrap("  ", s)
	}
}
