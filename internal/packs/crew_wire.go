package packs

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/trench"
	"evenfall/internal/units"
	"evenfall/internal/wire"
)

// valvesAndWire is which conductor goes to which valve, where each is spliced, and a
// blank beside each for what was found on site.
func (b *builder) valvesAndWire() error {
	f := b.list()
	w, digs := b.in.Design.Wiring, b.in.Design.Digs
	if len(w.Runs)+len(w.Sensors) == 0 {
		f.para("No valve and no wired sensor is drawn yet, so there is no wire to lay.")
		return nil
	}
	cautions := wire.Cautions(b.sys)
	f.caution(strings.Join(cautions, " "))
	if w.Says != "" {
		f.para(sentence(w.Says) + " " + w.Why)
	}
	f.section("Valves and sensors")
	f.table(b.wireGrid())
	b.spliceTable(f, digs)
	f.section("Conductors")
	f.bullets(b.conductorWords()...)
	if len(w.Unboxed) > 0 {
		f.section("Splices without a box")
		for _, u := range w.Unboxed {
			f.bullets(fmt.Sprintf("%s: %s to be joined and no box is drawn. Set a splice box there.", plan.Capital(b.p.Whereabouts(u.At)), plan.Plural(u.Joints, "joint is", "joints are")))
		}
	}
	f.section("Test before anything is filled in")
	f.checks( // the ohms of a 24 V solenoid: common practice, from memory
		"Each hot to the common, at the controller's end with the power off: about what the valve's maker says, usually 20 to 60 ohms. Far more is a bad splice or a cut wire, far less a short.",
		"Every station run once by the controller: the right valve opens. Write what was found into the last column.",
		"Spare ends capped, coiled and marked in the farthest box and at the controller.",
	)
	return nil
}

// sentence ends words with a full stop and begins them with a capital.
func sentence(s string) string { return strings.TrimSuffix(plan.Capital(s), ".") + "." }

// wireGrid is the list of wire with a blank column.
func (b *builder) wireGrid() grid {
	w := b.in.Design.Wiring
	t := sheets.Wires(b.p, b.in.Design.Digs, w)
	length := ""
	for _, c := range t.Columns {
		if strings.HasPrefix(c.Name, "Length one way") {
			length = c.Name
		}
	}
	g := gridOf(t, "Station", "Valve or sensor", "Spliced in", length, "Conductor", "Wire", "Common")
	runs := append(w.Runs[:len(w.Runs):len(w.Runs)], w.Sensors...)
	g.Rows = g.Rows[:min(len(runs), len(g.Rows))] // the line after them is said above
	g.Note = ""
	notes := gridOf(t, "Note")
	for i := range g.Rows {
		if said := notes.Rows[i][0]; said != "" {
			g.Note = joined(g.Note, g.Rows[i][1]+": "+said)
		}
	}
	g.Head = append(g.Head, "Found on site")
	g.Numbers = nil
	g.Shares = []float64{8, 22, 21, 8, 11, 15, 15, 14}
	for i, run := range runs {
		if i < len(g.Rows) {
			g.Rows[i][3] = ""
			if run.Known && run.New {
				g.Rows[i][3] = wire.Length(b.sys, run.Length)
			}
			g.Rows[i] = append(g.Rows[i], "")
		}
	}
	g.Head[3] = "Length"
	const wired, common = 5, 6
	if !slices.ContainsFunc(g.Rows, func(row []string) bool { return row[common] != "" && row[common] != row[wired] }) {
		g.Head = slices.Delete(g.Head, common, common+1) // the size of the common is said under the list
		g.Shares = slices.Delete(g.Shares, common, common+1)
		for i := range g.Rows {
			g.Rows[i] = slices.Delete(g.Rows[i], common, common+1)
		}
	}
	return g
}

// conductorWords say what the common, the spares and the sensors' leads are.
func (b *builder) conductorWords() []string {
	w := b.in.Design.Wiring
	var out []string
	if w.Common > 0 {
		out = append(out, "Common: white, "+wire.GaugeName(b.sys, w.Common)+", to every valve; no valve's own conductor is white.")
	}
	if w.Spares > 0 {
		out = append(out, plan.Plural(w.Spares, "spare conductor", "spare conductors")+" of a colour of "+plan.Choose(w.Spares, "its", "their")+" own to the farthest box.")
	}
	for _, r := range w.Sensors {
		if r.Known && r.New {
			out = append(out, plan.Capital(wire.Named(b.p, r.To))+": a lead of its own, two conductors, straight to the controller's sensor terminals.")
		}
	}
	type kind struct{ words string }
	var kinds []kind
	pieces, laid := map[kind]int{}, map[kind]units.Feet{}
	for _, c := range w.Cables {
		k := kind{wire.GaugeName(b.sys, c.AWG) + " " + c.What}
		switch {
		case c.Conductors > 1:
			k.words = fmt.Sprintf("%s of %d conductors, %s", c.What, c.Conductors, wire.GaugeName(b.sys, c.AWG))
		case c.Colour != "":
			k.words = c.Colour + ", " + wire.GaugeName(b.sys, c.AWG) + " (" + c.What + ")"
		}
		if pieces[k]++; pieces[k] == 1 {
			kinds = append(kinds, k)
		}
		laid[k] += c.Laid
	}
	var sums []string
	for _, k := range kinds {
		sums = append(sums, fmt.Sprintf("%s, %s in %s", k.words, wire.Length(b.sys, laid[k]), plan.Plural(pieces[k], "length", "lengths")))
	}
	if len(sums) > 0 {
		out = append(out, "Laid in all: "+strings.Join(sums, "; ")+".")
	}
	return append(out,
		"Leave slack at every splice and a coil at each turn, as the lengths have it, and write the station on both ends of every conductor.")
}

// spliceTable is what is joined in each box and where it stands.
func (b *builder) spliceTable(f *flow, digs *trench.Digs) {
	w := b.in.Design.Wiring
	if len(w.Splices) == 0 {
		return
	}
	g := grid{Head: []string{"Box", "Where", "Connectors", "Wires in them", "Found on site"}, Shares: []float64{22, 50, 11, 12, 20}, Numbers: []bool{false, false, true, true, false}}
	for _, s := range w.Splices {
		if s.Box < 0 || s.Box >= len(digs.Boxes) {
			continue
		}
		g.Rows = append(g.Rows, []string{plan.Capital(sheets.BoxTitle(b.p, digs, s.Box)), b.whereIs(digs.Boxes[s.Box].At), itoa(s.Connectors), itoa(s.Wires), ""})
	}
	f.section("Boxes with splices")
	f.table(g)
}

// whereIs says where a place is, and which flag of the stake-out stood there.
func (b *builder) whereIs(at orb.Point) string {
	where := plan.Capital(b.p.Whereabouts(at))
	if flag := b.flagAt(at); flag != "" {
		return where + " (" + flag + " of C5)"
	}
	return where
}

// flagAt names the flag of the stake-out that stands at a place, with the step that sets
// it: "flag T4, step 28"; "" where none does.
func (b *builder) flagAt(at orb.Point) string {
	for i := range b.staked().Flags {
		if v := &b.stake.Flags[i]; standsAt(v.At, at) {
			return "flag " + v.Tag + ", step " + itoa(i+1)
		}
	}
	return ""
}

// standsAt reports whether two places are one, to about an inch.
func standsAt(a, b orb.Point) bool {
	dx, dy := a[0]-b[0], a[1]-b[1]
	return dx*dx+dy*dy <= 0.1*0.1
}
