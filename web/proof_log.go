package web

import (
	"fmt"
	"strconv"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/units"
	"evenfall/web/view"
)

// The parts of the log in the yard, by the words of their addresses.
const (
	logStart = "start"
	logWires = "wires"
	logHeads = "heads"
	logCans  = "cans"
	logBuilt = "built"
)

// yardLog is the log as it is read and printed: what was entered where it was, and
// blanks to write in where not.
func yardLog(p *plan.Plan, v *ProofView) []view.YardPart {
	parts := []view.YardPart{startLog(p, &v.Start), wiresLog(&v.Wires), headsLog(v.Heads), cansLog(p, v.Audits)}
	if len(v.Built) > 0 {
		parts = append(parts, builtLog(v.Built))
	}
	return parts
}

// logTable begins a table of the log. The columns that are named with a star are blanks
// to be written in where nothing is known yet, those with a hash are of figures.
func logTable(title string, columns ...string) view.YardTable {
	t := view.YardTable{Title: title}
	for _, c := range columns {
		blank, number := false, false
		for len(c) > 0 && (c[0] == '*' || c[0] == '#') {
			blank, number = blank || c[0] == '*', number || c[0] == '#'
			c = c[1:]
		}
		t.Columns, t.Blank, t.Numbers = append(t.Columns, c), append(t.Blank, blank), append(t.Numbers, number)
	}
	return t
}

func startLog(p *plan.Plan, v *ProofStart) view.YardPart {
	part := view.YardPart{Word: logStart, Title: "Start-up", Says: v.Says}
	for _, s := range v.Steps {
		step := view.YardStep{Title: s.Title, How: s.How, Caution: s.Caution, Done: s.On, Note: s.Note}
		if s.On != "" && s.By != "" {
			step.Done += " by " + s.By
		}
		part.Steps = append(part.Steps, step)
	}
	tests := logTable("Pressure tests", "*What held", "*#Pressure at first", "*#At last", "*#Minutes", "*Dial of the meter")
	for _, t := range v.Tests {
		tests.Rows = append(tests.Rows, testRow(p, p.Proof.Tests[t.ID]))
		tests.Says = append(tests.Says, t.Says)
	}
	if len(v.Tests) == 0 {
		tests.Rows = append(tests.Rows, []string{"The main", "", "", "", ""})
	}
	tests.Rows = append(tests.Rows, []string{"", "", "", "", ""})
	part.Tables = append(part.Tables, tests)
	if len(v.Zones) == 0 {
		return part
	}
	zones := logTable("Each zone run by hand", "#Station", "Zone", "#Predicted flow", "#Predicted at the meter", "*#Measured flow",
		"Gauge at head", "#Predicted pressure", "*#Measured pressure", "#Predicted static", "*#Measured static")
	for _, z := range v.Zones {
		station := z.Station
		if station == "" {
			station = "–"
		}
		var run plan.ZoneRun
		if n := len(z.Runs); n > 0 {
			run = p.Zones[z.ID].Runs[z.Runs[n-1].ID]
		}
		zones.Rows = append(zones.Rows, []string{
			station, z.Name, z.Flow, z.MeterTime, flowNoted(p.Show, run), z.HeadTag, z.Pressure,
			psiNoted(p.Show, run.RunningPSI), z.Static, psiNoted(p.Show, run.StaticPSI),
		})
		if z.Unknown != "" {
			zones.Says = append(zones.Says, z.Name+": "+z.Unknown)
		}
	}
	part.Tables = append(part.Tables, zones)
	runs := logTable("What was measured", "Zone", "Measured beside predicted", "What it most likely means", "What to do")
	for _, z := range v.Zones {
		for _, r := range z.Runs {
			row := []string{z.Name, r.Says, "", ""}
			if len(r.Likely) > 0 {
				row[2], row[3] = r.Likely[0].Cause, r.Likely[0].Do
			}
			runs.Rows = append(runs.Rows, row)
		}
	}
	if len(runs.Rows) > 0 {
		part.Tables = append(part.Tables, runs)
	}
	return part
}

// testRow is a pressure test as it was noted, blanks where it was not.
func testRow(p *plan.Plan, t plan.PressureTest) []string {
	row := []string{"The main", psiNoted(p.Show, t.Start), psiNoted(p.Show, t.End), "", plan.Capital(plan.Words(t.Meter))}
	if t.Of != "" {
		row[0] = plan.Capital(p.ZoneName(t.Of))
	}
	if t.Minutes > 0 {
		row[3] = fmt.Sprintf("%.0f", t.Minutes)
	}
	return row
}

// psiNoted is a pressure as it was noted, or a blank.
func psiNoted(show units.System, psi units.PSI) string {
	if psi <= 0 {
		return ""
	}
	return show.Pressure(psi)
}

// flowNoted is the flow of a run as it was noted: read, or a count of the meter with its time.
func flowNoted(show units.System, r plan.ZoneRun) string {
	switch {
	case r.FlowGPM > 0:
		return show.Flow(r.FlowGPM)
	case r.MeterGal > 0 && r.MeterS > 0:
		return fmt.Sprintf("%s in %.0f s", show.Volume(r.MeterGal), float64(r.MeterS))
	default:
		return ""
	}
}

func wiresLog(v *ProofWires) view.YardPart {
	part := view.YardPart{Word: logWires, Title: "Wires", Says: v.Says, Caution: v.Caution, Warn: v.Warnings}
	if v.Next != nil {
		part.Says += " " + v.Next.Says
	}
	found := logTable("Wires at the controller", "Wire", "What it is", "Terminal", "What to do")
	for _, w := range v.Wires {
		moves := w.Moves
		if w.Warn != "" {
			if moves != "" {
				moves += ". "
			}
			moves += w.Warn
		}
		found.Rows = append(found.Rows, []string{w.Mark, w.Is, w.Goes, moves})
	}
	if len(found.Rows) > 0 {
		part.Tables = append(part.Tables, found)
	}
	terminals := logTable("Map of terminals", "#Terminal", "Zone", "*Wire", "*#Resistance", "To be known")
	for _, t := range v.Terminals {
		terminals.Rows = append(terminals.Rows, []string{t.Terminal, t.Zone, t.Wire, t.Ohms, t.Warn})
	}
	if len(terminals.Rows) > 0 {
		part.Tables = append(part.Tables, terminals)
	}
	return part
}

func headsLog(heads []ProofHead) view.YardPart {
	part := view.YardPart{Word: logHeads, Title: "Nozzles", Says: "No head is drawn yet."}
	if len(heads) == 0 {
		return part
	}
	set := 0
	walk := logTable("Heads in walking order", "Head", "Zone", "Where", "Nozzle", "#Arc", "Left edge of the arc", "Throw", "*Set on", "*Changed, or seen")
	for _, h := range heads {
		if h.SetOn != "" {
			set++
		}
		seen := plan.Series(h.Faults)
		if h.Note != "" {
			if seen != "" {
				seen += ". "
			}
			seen += h.Note
		}
		throw := h.Throw
		if h.Turn != "" {
			throw += ", " + h.Turn
		}
		walk.Rows = append(walk.Rows, []string{h.Tag, h.Zone, h.Where, h.Nozzle, h.Arc, h.Edge, throw, h.SetOn, plan.Capital(seen)})
	}
	part.Says = setSays(set, len(heads))
	part.Tables = append(part.Tables, walk)
	return part
}

// setSays says how many heads are set.
func setSays(set, all int) string {
	switch of := plan.Plural(all, "head", "heads"); set {
	case 0:
		return "None of " + of + " is set yet."
	case all:
		return "All of " + of + " are set."
	default:
		return fmt.Sprintf("%d of %s %s set.", set, of, plan.Choose(set, "is", "are"))
	}
}

// cansLog is each audit with its cans: where each stands and what it caught, or a blank.
func cansLog(p *plan.Plan, audits []ProofAudit) view.YardPart {
	part := view.YardPart{Word: logCans, Title: "Catch cans"}
	if len(audits) == 0 {
		part.Says = "No cans are laid out yet: lay them out on the board or on this page. The owner’s papers have a form for an audit by hand."
	}
	for _, line := range audits {
		a := p.Proof.Audits[line.ID]
		if line.ID == "" {
			a = plan.Audit{ThroatIn2: p.Proof.ThroatIn2, Cans: p.Proof.Cans}
		}
		t := logTable(line.Says, "#Can", "#East", "#North", "*#Caught", "*Seen")
		for i, id := range proof.CansInOrder(p, a) {
			c := a.Cans[id]
			caught := ""
			switch {
			case c.ML != nil:
				caught = fmt.Sprintf("%g ml", *c.ML)
			case c.Depth != nil:
				caught = depthOf(p.Show, *c.Depth)
			}
			seen := c.Note
			if c.Out {
				seen = strings.TrimSuffix("Left out. "+seen, " ")
			}
			t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1), p.Show.Length(c.X), p.Show.Length(c.Y), caught, seen})
		}
		part.Tables = append(part.Tables, t)
	}
	return part
}

func builtLog(built []ProofBuilt) view.YardPart {
	part := view.YardPart{Word: logBuilt, Title: "As built"}
	t := logTable("Where things are", "What", "Measured on", "Moved", "How it is found")
	for _, b := range built {
		t.Rows = append(t.Rows, []string{b.What, b.On, b.Moved, b.Dims})
	}
	part.Tables = append(part.Tables, t)
	return part
}
