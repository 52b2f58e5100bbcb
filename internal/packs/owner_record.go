package packs

import (
	"fmt"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/sheets"
	"evenfall/internal/trench"
)

// recordCode is the sheet of the record drawing.
const recordCode = "O6"

// recordDrawing is what went into the ground and where: the plan of it, then how each
// thing is found by tape.
func (b *builder) recordDrawing() error {
	r := b.recordOf()
	if err := b.ground(groundSheet{list: recordCode, also: ownStakes(r.stake), enlarge: (*chart).crowded, draw: func(c *chart) { c.recordGround(r) }, beside: func(c *chart, wide float64) []part {
		return []part{c.recordNotes(wide, r), {c.title("Signs", wide), c.legendOf(0, signLot, wide)}, {c.title("Ground", wide), c.legendOf(signLot, signCount, wide)}, c.recordPoints(wide, r)}
	}}); err != nil {
		return err
	}
	f := b.list()
	if len(r.things) == 0 {
		f.para("Nothing of the system is drawn yet, so there is nothing to record.")
		b.changedSince(f)
		return nil
	}
	f.para(fmt.Sprintf("Lengths are along the ground to the middle of each thing, to the nearest %s. Letters are the fixed points of the drawing; the hand is as you look from the first to the second. A third length checks the two.", tapeStep(b)))
	f.caution(trench.Caution)
	if r.stake.Own != "" {
		f.bullets(r.stake.Own)
	}
	b.recordTables(f, r)
	b.changedSince(f)
	return b.ctx.Err()
}

// recordTables list how things are found: what is dug to first, then heads by zone.
func (b *builder) recordTables(f *flow, r *record) {
	boxes, heads := b.recordGrid("What"), b.recordGrid("Nozzle")
	zone, first := plan.ID(""), true
	for i := range r.things {
		t := &r.things[i]
		row := b.recordRow(r, t)
		if t.what != "head" {
			boxes.Rows = append(boxes.Rows, row)
			continue
		}
		if first || t.zone != zone {
			zone, first = t.zone, false
			name := "In no zone"
			if zone != "" {
				name = plan.Capital(b.p.ZoneName(zone))
			}
			heads.Groups[len(heads.Rows)] = true
			heads.Rows = append(heads.Rows, []string{name})
		}
		heads.Rows = append(heads.Rows, row)
	}
	if len(boxes.Rows) > 0 {
		f.section("Boxes, sleeves, main and supply")
		boxes.Note = "V a valve's box by its station, SB a splice box, BF the backflow device, CON the controller, S1a an end of sleeve 1, M a bend or branch of the main."
		f.table(boxes)
	}
	if len(heads.Rows) > 0 {
		f.section("Heads")
		f.table(heads)
	}
}

func (b *builder) recordGrid(what string) grid {
	return grid{Head: []string{"Mark", what, "State", "Found by", "Measured"}, Shares: []float64{9, 14, 12, 54, 24}, Small: true, Groups: map[int]bool{}}
}

// recordRow is a thing as the lists have it. What goes is not found by tape any more.
func (b *builder) recordRow(r *record, t *recorded) []string {
	found, what := r.foundOf(t), plan.Capital(sheets.StakeWord(t.what))
	switch {
	case !t.status.Stands():
		found = ""
	case t.what == "controller":
		found = or(found, strings.TrimSpace(b.p.Controller.Place))
	}
	if t.what == "head" {
		what = t.nozzle
	}
	return []string{t.tag, what, stateWords(t.status), found, b.measuredWords(t)}
}

// measuredWords say when a thing was measured where it went, how far that is from where it
// was drawn, and how deep; "not yet" of what stands.
func (b *builder) measuredWords(t *recorded) string {
	if t.built == nil {
		if !t.status.Stands() || t.what == "main" || t.what == "backflow" || t.what == "controller" {
			return ""
		}
		return "not yet"
	}
	says := []string{t.built.On}
	if moved := b.moved(t); moved != "" {
		says = append(says, moved)
	} else {
		says = append(says, "as drawn")
	}
	if t.built.DepthIn > 0 {
		says = append(says, b.sys.Inches(t.built.DepthIn)+" deep")
	}
	if note := strings.TrimSpace(t.built.Note); note != "" {
		says = append(says, note)
	}
	return strings.Join(says, ", ")
}

// changedSince leaves room to write in what changes after this was printed.
func (b *builder) changedSince(f *flow) {
	f.section("Changed since")
	f.table(grid{Head: []string{"On", "What", "Where it is now: two lengths from fixed points", "By"}, Shares: []float64{10, 16, 48, 12}, Least: 19, Rows: blankRows(4, 4),
		Note: "Whatever is moved, added or taken out goes in here, and into the plan."})
}

// blankRows are rows to be written in by hand.
func blankRows(rows, columns int) [][]string {
	out := make([][]string, rows)
	for i := range out {
		out[i] = make([]string, columns)
	}
	return out
}

// moved says how far a thing is from where it was drawn; "" as drawn.
func (b *builder) moved(t *recorded) string {
	for _, was := range t.was {
		if says := proof.MovedWords(b.p, was, t.at); says != "" {
			return says
		}
	}
	return ""
}
