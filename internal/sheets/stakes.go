package sheets

import (
	"fmt"

	"evenfall/internal/plan"
	"evenfall/internal/stakeout"
)

// Stakes is the stake-out list: every flag in walking order with the tapes it is placed
// by, then what no tape reaches.
func Stakes(p *plan.Plan, s *stakeout.Plan) Table {
	t := Table{Title: "Stake-out", Columns: []Column{
		{"Step", 6}, {"Flag", 12}, {"For", 18}, {"First", 44}, {"Then", 26}, {"Hand", 16}, {"Check", 18}, {"In words", 90},
	}}
	for i := range s.Flags {
		f := &s.Flags[i]
		row := []Cell{Count(i + 1), Text(f.Tag), Text(StakeWord(f.What))}
		from, to := s.Points[f.From].Called(), s.Points[f.To].Called()
		a, b := p.Show.Length(f.A), p.Show.Length(f.B)
		if f.How == stakeout.AlongEdge {
			row = append(row, Text(fmt.Sprintf("%s: %s along %s toward %s", from, a, f.EdgeWords(), to)), Text(b+" square off it"), Text(f.Hand()))
		} else {
			row = append(row, Text(from+": "+a), Text(to+": "+b), Text(fmt.Sprintf("%s, %s to %s", f.Hand(), from, to)))
		}
		check := "none: read twice"
		if f.Checked() {
			check = s.CheckName(f) + ": " + p.Show.Length(f.C)
			if f.Half {
				check += " (along only)"
			}
		}
		t.Rows = append(t.Rows, append(row, Text(check), Text(f.Says)))
	}
	for _, l := range s.Left {
		t.Rows = append(t.Rows, []Cell{Text(""), Text(l.Tag), Text("not placed"), Text(l.Why), Text(""), Text(""), Text(""), Text(l.Why)})
	}
	return t
}

// StakeWord is what a flag is for, in words.
func StakeWord(what string) string {
	switch what {
	case "valve":
		return "valve box"
	case "box":
		return "splice box"
	case "backflow":
		return "backflow device"
	case "sleeve":
		return "end of sleeve"
	case "main":
		return "main"
	}
	return what
}

// StakePoints lists the fixed points of a stake-out by letter.
func StakePoints(s *stakeout.Plan) Table {
	t := Table{Title: "Fixed points", Columns: []Column{{"Letter", 8}, {"Where", 60}}}
	for _, q := range s.Points {
		if q.Flag {
			continue // a flag that was set before; its tag says which
		}
		t.Rows = append(t.Rows, []Cell{Text(q.Letter), Text(plan.Capital(q.Name))})
	}
	return t
}
