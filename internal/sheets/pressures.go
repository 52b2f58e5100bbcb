package sheets

import (
	"fmt"
	"io"

	"evenfall/internal/pipesize"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
)

// Pressures writes as plain text what the supply gives and what each zone gets
// when it runs by itself.
func Pressures(w io.Writer, p *plan.Plan, r *pressure.Result) error {
	t := &reporter{p: p, sys: p.Show}
	t.line("%s", nameOf(p))
	t.supplyNote(&r.Supply)
	if r.Supply.Assumed {
		t.line("Every pressure below is assumed likewise.")
	}
	t.section("Supply")
	t.wrap("  ", fmt.Sprintf("Static pressure: %s. Design flow: %s.", r.Supply.StaticSays, t.sys.Flow(r.Supply.DesignGPM)))
	for _, l := range r.Supply.Limits {
		says := l.Missing
		if says == "" {
			says = t.sys.Flow(l.Flow) + ": " + l.Says
		}
		t.wrap("  ", l.Title+": "+says)
	}
	for _, z := range r.Zones {
		t.zonePressures(z)
	}
	return t.write(w, "the pressures")
}

func (r *reporter) zonePressures(z pressure.Zone) {
	r.section(r.p.ZoneName(z.ID))
	if z.Says != "" {
		r.wrap("  ", z.Says)
	}
	if !z.Solved {
		return
	}
	r.line("  %s running; pressures differ by %s of what is planned", r.sys.Flow(z.Flow), r.sys.Percent(z.Spread))
	rows := [][]string{{"Head", "Before it", "At the nozzle", "Flow", ""}}
	for _, h := range z.Heads {
		state := h.State
		if state == pressure.Good {
			state = ""
		}
		rows = append(rows, []string{r.p.HeadTag(h.ID), r.sys.Pressure(h.Inlet), r.sys.Pressure(h.Nozzle), r.sys.Flow(h.Flow), state})
	}
	r.table(rows)
	if len(z.Budget) == 0 {
		return
	}
	r.line("  From street to %s:", r.p.HeadName(z.Worst))
	rows = [][]string{{"", "Takes", "Leaves", ""}}
	for _, s := range z.Budget {
		mark := ""
		if s.Unsure {
			mark = "by a default to replace"
		}
		rows = append(rows, []string{s.Name, r.sys.Pressure(s.Loss), r.sys.Pressure(s.Left), mark})
	}
	r.table(rows)
}

// Sizes writes as plain text what an offer of pipe sizes changes, and what the
// check of it found.
func Sizes(w io.Writer, p *plan.Plan, o *pipesize.Offer) error {
	t := &reporter{p: p, sys: p.Show}
	t.line("%s", nameOf(p))
	supply := pressure.SupplyOf(p)
	t.supplyNote(&supply)
	t.wrap("", o.Says)
	t.line("Before: %s. With these sizes: %s.", o.Before.Words(t.sys), o.After.Words(t.sys))
	if len(o.Changes) > 0 {
		rows := [][]string{{"Zone", "Pipe", "Length", "From", "To", "Flow", "Velocity"}}
		for _, c := range o.Changes {
			rows = append(rows, []string{zoneOrMain(p, c.Zone), c.Name, t.sys.Length(c.Length), orDash(c.From), c.To, t.sys.Flow(c.Flow), t.sys.Velocity(c.Velocity)})
		}
		t.section("Changes")
		t.table(rows)
	}
	t.section("Checked with these sizes, each zone running by itself")
	for _, c := range o.Checks {
		mark := "Good: "
		if !c.Good {
			mark = "Look: "
		}
		t.wrap("  ", mark+c.Says)
	}
	for _, n := range o.Notes {
		t.wrap("  ", "Note: "+n)
	}
	t.line("")
	t.wrap("", pipesize.Caution)
	return t.write(w, "the sizes")
}

func (r *reporter) write(w io.Writer, what string) error {
	if _, err := w.Write(r.out.Bytes()); err != nil {
		return fmt.Errorf("sheets: writing %s: %w", what, err)
	}
	return nil
}

func nameOf(p *plan.Plan) string {
	if p.Name == "" {
		return "Plan without a name"
	}
	return p.Name
}

func zoneOrMain(p *plan.Plan, zone plan.ID) string {
	if zone == "" {
		return "main"
	}
	return p.ZoneName(zone)
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}
