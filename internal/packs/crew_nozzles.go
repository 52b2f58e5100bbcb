package packs

import (
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/drawing"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
)

// nozzleSetting is what to set on each head, zone by zone, in walking order.
func (b *builder) nozzleSetting() error {
	f := b.list()
	zones := sheets.Setting(b.p, b.in.Design.Coverage, b.staked())
	if len(zones) == 0 {
		f.para("No head is drawn yet.")
		return nil
	}
	f.para("Stand at the head and look out over what it waters. The left edge of its arc points to what the list names; from there it turns to the right stop. Letters are the fixed points of the stake-out, C5; heads are called by their tags.")
	b.settingHow(f, zones)
	marks := zoneMarks(b.p)
	c := newChart(b.in, 1, 1)
	for _, z := range zones {
		if err := b.ctx.Err(); err != nil {
			return err
		}
		f.keep(125) // a zone's name with the head of its table and a row or two
		f.section(z.Table.Title)
		t, said := settingGrid(z.Table)
		if said != "" {
			f.para(said)
		}
		t.Mark = func(row int, at orb.Point) []drawing.Item {
			h := b.p.Heads[z.Heads[row]]
			m, zoned := marks[h.Zone]
			return []drawing.Item{&drawing.View{Box: orb.Bound{Min: orb.Point{at[0] - 6, at[1] - 6}, Max: orb.Point{at[0] + 6, at[1] + 6}}, PerFoot: 1,
				Items: c.headMark(orb.Point{}, m, zoned, b.p.Nozzles[h.Nozzle].Family, h.Status)}}
		}
		f.table(t)
	}
	return nil
}

// settingShares are the widths of the columns of the setting list, in its order.
var settingShares = []float64{7, 22, 8, 26, 26, 9, 9, 9, 17, 7, 8}

// saidOnce are the columns of the setting list that are said over it where most heads
// of the zone have the same: how far turned down, pressure, body, how high it pops up.
const saidOnce, saidOnceTo = 6, 9

// settingGrid is the setting list of a zone. What most of its heads have is said once
// over it with those that differ, instead of in a column; a column of nothing is left out.
func settingGrid(of sheets.Table) (g grid, said string) {
	var columns []string
	for i, c := range of.Columns {
		most, n := usual(of.Rows, i)
		if most == "" && n == len(of.Rows) {
			continue
		}
		if i >= saidOnce && i <= saidOnceTo && 2*n >= len(of.Rows) && len(of.Rows) > 1 {
			said = joined(said, butFor(of, i, most))
			continue
		}
		columns = append(columns, c.Name)
		g.Shares = append(g.Shares, settingShares[i])
	}
	shares := g.Shares
	g = gridOf(of, columns...)
	g.Shares, g.Numbers, g.Ticks = shares, nil, true
	return g, said
}

// usual is what most rows have in a column, the first of as many, and how many have it.
func usual(rows [][]sheets.Cell, column int) (most string, n int) {
	count := map[string]int{}
	for _, r := range rows {
		count[r[column].String()]++
	}
	for _, r := range rows { // in their order: the first of as many stays
		if s := r[column].String(); count[s] > n {
			most, n = s, count[s]
		}
	}
	return most, n
}

// butFor says what most heads have in a column and what the others have:
// "Pressure: 40.0 psi; 30.0 psi at 2-3, 2-4."
func butFor(of sheets.Table, column int, most string) string {
	name, unit, _ := strings.Cut(of.Columns[column].Name, ", ")
	if unit != "" {
		unit = " " + unit
	}
	tags := map[string][]string{}
	var others []string
	for _, r := range of.Rows {
		s := r[column].String()
		if s == most {
			continue
		}
		if tags[s] == nil {
			others = append(others, s)
		}
		tags[s] = append(tags[s], r[0].String())
	}
	value := func(s string) string {
		if s == "" {
			return "none"
		}
		return s + unit
	}
	out := name + ": " + value(most)
	for _, s := range others {
		out += "; " + value(s) + " at " + strings.Join(tags[s], ", ")
	}
	return out + "."
}

// settingHow says how the nozzles of the plan are set, each kind once, and how bodies stand.
func (b *builder) settingHow(f *flow, zones []sheets.ZoneSetting) {
	has := map[catalog.Family]bool{}
	fixed, adjusted, turned, regulated, rotorLike := false, false, false, false, false
	for _, z := range zones {
		for _, id := range z.Heads {
			h := b.p.Heads[id]
			n := b.p.Nozzles[h.Nozzle]
			has[n.Family] = true
			fixed = fixed || n.Family == catalog.Spray && n.Fixed()
			adjusted = adjusted || n.Family == catalog.Spray && !n.Fixed()
			turned = turned || h.ThrowFt != nil
			regulated = regulated || b.p.Bodies[h.Body].Regulated > 0
			rotorLike = rotorLike || n.Family == catalog.Rotor || n.Family == catalog.Stream
		}
	}
	var points []string
	say := func(is bool, words string) {
		if is {
			points = append(points, words)
		}
	}
	say(true, "Flush first: run each zone without nozzles until the water comes clear, then fit nozzles with their screens, from the valve outward.")
	say(true, b.fixed("Bodies: {4 in} in turf mowed to {3 in} or lower, {6 in} for turf mowed higher, {12 in} or a riser in planting. The top stands flush with finished grade, upright, the soil tamped about it; new sod adds about {1 in}, and settled ground is raised to again."))
	say(true, b.fixed("Each head stands on its swing joint {4 in} to {8 in} off the lateral, the tee's outlet level and square to the pipe. Off the edge: from its middle to the edge named on the stake-out."))
	say(fixed, "A spray with a fixed arc: turn the whole body or its riser until the left edge points as listed.")
	say(adjusted, "An adjustable spray: turn the riser until the left edge points as listed, then open or close the arc by its collar to the right stop.")
	say(rotorLike, "Rotors and turning streams: turn them by hand to the left stop, turn the body until that points to the left edge, then set the arc to the right stop and let it turn through twice.")
	say(has[catalog.Strip], "A strip nozzle: turn it until its strip runs the way listed, then look along its edges.")
	say(turned, "Throw: set it with the screw on the nozzle, water running, to the length listed at the end of the throw. Turned down is how much shorter that is than its table; change the nozzle rather than turn it down past what its maker allows.")
	pressure := fmt.Sprintf("Pressure is what was reckoned with at the nozzle, %s for most. Measure it at the farthest head of each zone.", b.usualPressure())
	if regulated {
		pressure += " A regulated body holds its own at the nozzle as long as more arrives."
	}
	say(true, pressure)
	f.bullets(points...)
}

// usualPressure is the pressure that most heads have, as it is printed.
func (b *builder) usualPressure() string {
	count := map[string]int{}
	best := ""
	for _, h := range b.in.Design.Coverage.Heads { // in the order of the heads: the first of as many stays
		s := b.sys.Pressure(units.PSI(h.Pressure))
		if count[s]++; best == "" || count[s] > count[best] {
			best = s
		}
	}
	if best == "" {
		return b.sys.Pressure(0)
	}
	return best
}
