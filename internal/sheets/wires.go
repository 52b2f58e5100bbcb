package sheets

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/wire"
)

// Wires is the wire list: what each valve and sensor is wired by, from where to
// where, how long, by which conductor, and what volts are left at it. The sum stands in
// it where 18 AWG does not do for all.
func Wires(p *plan.Plan, digs *trench.Digs, w *wire.Wiring) Table {
	sys := p.Show
	t := Table{Title: "Wire", Columns: []Column{
		{"Station", 9}, {"Valve or sensor", 28}, {"Status", 10}, {"Spliced in", 30},
		lengths.column(sys, "Length one way", 14), {"Conductor", 26}, {"Wire", 18}, {"Common", 18},
		{"Volts lost", 10}, {"Volts at the valve", 10}, lengths.column(sys, "Longest with these sizes", 14), {"Note", 60},
	}}
	for _, r := range w.Runs {
		t.Rows = append(t.Rows, wireRow(p, digs, r, w.Drops))
	}
	for _, r := range w.Sensors {
		t.Rows = append(t.Rows, wireRow(p, digs, r, false))
	}
	if w.Says != "" {
		row := make([]Cell, len(t.Columns))
		row[1], row[len(row)-1] = Text(NoteName), Text(strings.TrimSuffix(strings.TrimSuffix(w.Says, ".")+". "+w.Why, " "))
		t.Rows = append(t.Rows, row)
	}
	return t
}

// wireRow is a line of the list; summed puts the sum behind it.
func wireRow(p *plan.Plan, digs *trench.Digs, r wire.Run, summed bool) []Cell {
	sys := p.Show
	collection, id := r.To.Split()
	station, status, sensor := Text(""), p.Supply.Status, collection == "sensors"
	if r.Station > 0 {
		station = Count(r.Station)
	}
	switch collection {
	case "zones":
		status = p.Zones[id].Status
	case "sensors":
		status = p.Sensors[id].Status
	}
	row := []Cell{station, Text(plan.Capital(wire.Named(p, r.To))), Text(statusWord(status)), Text(BoxTitle(p, digs, r.Box))}
	blank := func(n int) []Cell { return make([]Cell, n) }
	switch {
	case !r.Known:
		return append(append(row, blank(7)...), Text("No way for its wire yet: "+r.Missing+"."))
	case !r.New:
		return append(append(row, blank(7)...), Text("Its wire is there already."))
	case sensor:
		return append(append(row, lengths.cell(sys, float64(r.Length)), Text("both of its lead"), Text("lead of 2 conductors")), append(blank(4), Text("Straight to the controller's sensor terminals; its maker says which wire."))...)
	}
	sum := ""
	if summed {
		sum = r.Sum
	}
	return append(row, lengths.cell(sys, float64(r.Length)), Text(conductor(r)), Text(wire.GaugeName(sys, r.Hot)), Text(wire.GaugeName(sys, r.Common)),
		Number(r.Drop, 2), Number(r.Volts, 1), lengths.cell(sys, float64(r.Most)), Text(sum))
}

// conductor says by which colours a valve's wire goes: "blue", "blue, then red".
func conductor(r wire.Run) string { return strings.Join(r.Colours, ", then ") }

// BoxTitle names a box by what is in it; "" for none.
func BoxTitle(p *plan.Plan, digs *trench.Digs, i int) string {
	if i < 0 || i >= len(digs.Boxes) {
		return ""
	}
	b := digs.Boxes[i]
	if b.Drawn != "" {
		if name := p.Boxes[b.Drawn].Name; name != "" {
			return name
		}
		return "splice box"
	}
	var in []string
	for _, id := range b.Zones {
		if z := p.Zones[id]; z.Station > 0 {
			in = append(in, fmt.Sprint(z.Station))
		} else {
			in = append(in, refName(p, plan.RefTo("zones", id)))
		}
	}
	if len(in) == 0 {
		return "box of the master valve"
	}
	return fmt.Sprintf("box of %s %s", plan.Choose(len(in), "valve", "valves"), plan.Series(in))
}

// WiresText writes the wire list to be read: the one line, each run, the sum of the
// worst, and what care wire wants.
func WiresText(out io.Writer, p *plan.Plan, d *design.Design) error {
	r := &reporter{p: p, d: d, sys: p.Show}
	name := p.Name
	if name == "" {
		name = "Plan without a name"
	}
	r.line("Wire: %s", strings.Join(strings.Fields(name), " "))
	r.supplyNote(&d.Pressure.Supply)
	r.wireHead()
	if w := d.Wiring; len(w.Lines) > 0 {
		r.wireTable()
		r.wrap("  ", fmt.Sprintf("Common wire %s, white. Lengths are one way, with coils, slack in boxes and the rise to the controller.", wire.GaugeName(r.sys, w.Common)))
		if sum := worstSum(w); sum != "" {
			r.wrap("  ", sum)
		}
		r.wireJoints()
		for _, c := range wire.Cautions(r.sys) {
			r.wrap("  ", c)
		}
	}
	if _, err := out.Write(r.out.Bytes()); err != nil {
		return fmt.Errorf("sheets: writing the wire list: %w", err)
	}
	return nil
}

// wires prints the wiring in short; the runs and their sums only where the drop
// decided.
func (r *reporter) wires() {
	w := r.d.Wiring
	if len(w.Runs)+len(w.Sensors) == 0 {
		return
	}
	r.wireHead()
	if len(w.Lines) == 0 {
		return
	}
	if w.Drops {
		r.wireTable()
		r.wrap("  ", worstSum(w))
	}
	r.wireJoints()
	r.wrap("  ", wire.Caution)
}

// wireHead says the wiring in one line, and why so.
func (r *reporter) wireHead() {
	r.section("Wire")
	r.wrap("  ", r.d.Wiring.Says)
	if why := r.d.Wiring.Why; why != "" {
		r.wrap("  ", why)
	}
}

func (r *reporter) wireTable() {
	rows := [][]string{{"Station", "Valve or sensor", "Spliced in", "Length", "Conductor", "Wire", "Volts"}}
	for _, run := range slices.Concat(r.d.Wiring.Runs, r.d.Wiring.Sensors) {
		row := []string{"–", plan.Capital(wire.Named(r.p, run.To)), cmp.Or(BoxTitle(r.p, r.d.Digs, run.Box), "–"), "–", "–", "–", "–"}
		if run.Station > 0 {
			row[0] = fmt.Sprint(run.Station)
		}
		if run.Known && run.New {
			row[3] = wire.Length(r.sys, run.Length)
		}
		if run.Hot > 0 {
			row[4], row[5], row[6] = conductor(run), wire.GaugeName(r.sys, run.Hot), fmt.Sprintf("%.1f", run.Volts)
		}
		rows = append(rows, row)
	}
	r.table(rows)
}

// wireJoints counts the connectors.
func (r *reporter) wireJoints() {
	connectors := 0
	for _, s := range r.d.Wiring.Splices {
		connectors += s.Connectors
	}
	r.wrap("  ", fmt.Sprintf("%s in %s.", plan.Plural(connectors, "waterproof connector", "waterproof connectors"), plan.Plural(len(r.d.Wiring.Splices), "box", "boxes")))
}

// worstSum is the sum of the valve that has the fewest volts.
func worstSum(w *wire.Wiring) string {
	least, sum := 0.0, ""
	for _, r := range w.Runs {
		if r.Sum != "" && (sum == "" || r.Volts < least) {
			least, sum = r.Volts, r.Sum
		}
	}
	return sum
}
