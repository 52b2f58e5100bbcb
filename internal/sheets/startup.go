package sheets

import (
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/units"
)

// StartLog is the start-up log: the steps in order, the pressure tests, and each run of
// each zone beside what is predicted; of a zone not run yet one line to be filled in. s
// must be of p.
func StartLog(p *plan.Plan, s proof.Start) Table {
	sys := p.Show
	t := Table{Title: "Start-up log", Columns: []Column{
		{"What", 14}, {"Station", 8}, {"Name", 34}, {"Done on", 12}, {"By", 14},
		flows.column(sys, "Flow predicted", 12), flows.column(sys, "Flow measured", 12),
		pressures.column(sys, "Pressure predicted", 12), {"Predicted at head", 12}, pressures.column(sys, "Pressure measured", 12), {"Measured at", 14},
		pressures.column(sys, "Static predicted", 12), pressures.column(sys, "Static measured", 12), {"At the meter", 18},
		{"Says", 60}, {"Most likely", 60}, {"Note", 40},
	}}
	row := func(what string, station int, name string) []Cell {
		cells := make([]Cell, len(t.Columns))
		cells[0], cells[2] = Text(what), Text(name)
		if station > 0 {
			cells[1] = Count(station)
		}
		t.Rows = append(t.Rows, cells)
		return cells
	}
	for _, step := range s.Steps {
		r := row("Step", 0, step.Title)
		if d := step.Done; d != nil {
			r[3], r[4], r[16] = Text(d.On), Text(d.By), Text(d.Note)
		}
	}
	for _, test := range s.Tests {
		r := row("Pressure test", 0, plan.Capital(test.Of))
		r[3], r[14], r[16] = Text(test.Test.On), Text(test.Says), Text(test.Test.Note)
	}
	for _, z := range s.Zones {
		for _, run := range append(z.Runs[:len(z.Runs):len(z.Runs)], unrun(z)...) {
			r := row(runWhat(run.Run), z.Station, z.Name)
			r[3], r[14], r[16] = Text(run.Run.On), Text(run.Says), Text(run.Run.Note)
			r[5], r[6] = readCell(flows, sys, float64(z.Predicted.Flow)), readCell(flows, sys, float64(run.Flow))
			r[7], r[8] = readCell(pressures, sys, float64(z.Predicted.Pressure)), Text(z.HeadTag)
			r[9], r[10] = readCell(pressures, sys, float64(run.Run.RunningPSI)), Text(readAt(p, run.Run))
			r[11], r[12] = readCell(pressures, sys, float64(z.Predicted.Static)), readCell(pressures, sys, float64(run.Run.StaticPSI))
			r[13] = Text(z.MeterTime)
			if r[14].text == "" {
				r[14] = Text(z.Unknown)
			}
			if len(run.Likely) > 0 {
				r[15] = Text(LikelyWords(run.Likely[0]))
			}
		}
	}
	return t
}

// unrun is a run to be filled in, of a zone that has none.
func unrun(z proof.ZoneStart) []proof.Run {
	if len(z.Runs) > 0 {
		return nil
	}
	return []proof.Run{{}}
}

// readCell is a figure that 0 stands for none of.
func readCell(m measure, sys units.System, v float64) Cell {
	if v == 0 {
		return Cell{}
	}
	return m.cell(sys, v)
}

// runWhat is what a zone was run for.
func runWhat(v plan.ZoneRun) string {
	switch v.When {
	case "before":
		return "Zone, before"
	case "after":
		return "Zone, after"
	case "check":
		return "Zone, check"
	}
	return "Zone"
}

// readAt is where the pressure of a run was read.
func readAt(p *plan.Plan, v plan.ZoneRun) string {
	switch {
	case v.RunningPSI == 0:
		return ""
	case v.PSIAt == "valve" || v.PSIAt == "tap":
		return v.PSIAt
	}
	if _, ok := p.Heads[v.AtHead]; ok {
		return "head " + headTag(p, v.AtHead)
	}
	return "head"
}

// LikelyWords is a likely cause with what speaks for it and what to do.
func LikelyWords(l proof.Likely) string {
	return inSentences(l.Says, l.Why, l.Do)
}

// inSentences makes one text of several, of which some may be empty or without a stop.
func inSentences(parts ...string) string {
	var out []string
	for _, s := range parts {
		if s = strings.TrimSpace(s); s != "" {
			out = append(out, strings.TrimSuffix(plan.Capital(s), ".")+".")
		}
	}
	return strings.Join(out, " ")
}
