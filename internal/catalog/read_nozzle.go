package catalog

import (
	"math"
	"strings"

	"evenfall/internal/units"
)

// familyDefaults is what a table may leave unsaid.
type familyDefaults struct {
	trajectory units.Degrees
	power      float64
	best       units.PSI
	thread     string
}

var defaultsOf = map[Family]familyDefaults{
	Spray:  {28, 1, sprayBest, SprayThread},
	Strip:  {28, 1, sprayBest, SprayThread},
	Stream: {25, 2, streamBest, SprayThread},
	Rotor:  {25, 0, rotorBest, RotorThread},
}

// nozzle reads what does not change with pressure from the nozzle's first line.
func (t *table) nozzle(l line, g *group) Nozzle {
	n := Nozzle{
		Name:    t.text(l, colName, ""),
		Family:  Family(strings.ToLower(t.field(l, colFamily))),
		Source:  t.text(l, colSource, usersTable),
		Profile: t.profile(l, colProfile),
	}
	if t.field(l, colLow) != "" {
		n.Low = &LowPressure{t.profile(l, colLow), t.text(l, colLowSource, n.Source)}
	}
	for _, r := range g.rows {
		n.Rows = append(n.Rows, r.Row)
	}
	d, ok := defaultsOf[n.Family]
	if !ok {
		t.wrong(l.number, colFamily, "%q is no family of nozzles. Write spray, stream, rotor or strip.", t.field(l, colFamily))
		return n
	}
	if n.Name == "" {
		t.wrong(l.number, colName, "The nozzle has no name. Write it on the nozzle's first line.")
	}
	t.arcs(l, &n)
	n.Trajectory = units.Degrees(t.numberOr(l, colTrajectory, float64(d.trajectory)))
	n.TurnDown = TurnDown{
		UsualShare: units.Ratio(t.numberOr(l, colUsual, 0.75)),
		LeastShare: units.Ratio(t.numberOr(l, colLeast, 0.5)),
		FlowPower:  t.numberOr(l, colPower, d.power),
	}
	n.BestPSI = units.PSI(t.numberOr(l, colBest, float64(nearestRow(n.Rows, d.best))))
	n.Thread = t.text(l, colThread, d.thread)
	n.FlowFollowsArc = t.flag(l, colFollows, (n.Family == Spray || n.Family == Stream) && !n.Fixed())
	return n
}

// arcs reads the arc, or the shape of a strip.
func (t *table) arcs(l line, n *Nozzle) {
	if n.Family != Strip {
		least, _ := t.number(l, colArcLeast, true)
		most, _ := t.number(l, colArcMost, true)
		n.ArcLeast, n.ArcMost = units.Degrees(least), units.Degrees(most)
		for _, name := range []string{colAhead, colBack, colLeft, colRight} {
			if t.field(l, name) != "" {
				t.wrong(l.number, name, "Only a strip nozzle has this. Leave it empty for a %s.", n.Family)
			}
		}
		return
	}
	left, _ := t.number(l, colLeft, true)
	right, _ := t.number(l, colRight, true)
	n.ArcLeast = units.Degrees(t.numberOr(l, colArcLeast, 0))
	n.ArcMost = units.Degrees(t.numberOr(l, colArcMost, 0))
	n.Strip = &StripShape{
		Ahead: t.flag(l, colAhead, true), Back: t.flag(l, colBack, false),
		Left: units.Feet(left), Right: units.Feet(right),
	}
}

func (t *table) numberOr(l line, name string, otherwise float64) float64 {
	if t.field(l, name) == "" {
		return otherwise
	}
	v, _ := t.number(l, name, false)
	return v
}

func (t *table) text(l line, name, otherwise string) string {
	s := t.field(l, name)
	if s == "" {
		return otherwise
	}
	if text, quoted := strings.CutPrefix(s, "'"); quoted { // as spreadsheets mark what is no formula
		return text
	}
	if !startsPlainly(s) {
		t.wrong(l.number, name, "%q begins with a sign that a spreadsheet may take for a formula. Begin with a letter or a digit.", s)
	}
	return s
}

func (t *table) flag(l line, name string, otherwise bool) bool {
	switch strings.ToLower(t.field(l, name)) {
	case "":
		return otherwise
	case "yes", "true", "1", "y":
		return true
	case "no", "false", "0", "n":
		return false
	}
	t.wrong(l.number, name, "%q is neither yes nor no. Write yes or no.", t.field(l, name))
	return otherwise
}

// profile reads linear, flat, or numbers separated by blanks.
func (t *table) profile(l line, column string) Profile {
	s := strings.ToLower(t.field(l, column))
	switch s {
	case "", string(ProfileLinear):
		return Profile{Kind: ProfileLinear}
	case string(ProfileFlat):
		return Profile{Kind: ProfileFlat}
	}
	p := Profile{Kind: ProfileTable}
	for _, word := range strings.Fields(s) {
		v, err := units.ParseNumber(word)
		if err != nil {
			t.wrong(l.number, column, "%q is no profile. Write linear, flat, or shares from the head outward, such as 1 0.9 0.5 0.", s)
			return p
		}
		p.Shares = append(p.Shares, v)
	}
	return p
}

// nearestRow is the pressure of the row nearest to the wanted one.
func nearestRow(rows []Row, want units.PSI) units.PSI {
	best := want
	off := math.Inf(1)
	for _, r := range rows {
		if d := math.Abs(float64(r.Pressure - want)); d < off {
			best, off = r.Pressure, d
		}
	}
	return best
}
