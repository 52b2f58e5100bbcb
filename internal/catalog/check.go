package catalog

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Limits of what a table may hold: far beyond any sprinkler, near enough that
// a slip of the decimal point is noticed.
const (
	mostPSI      = 200
	mostThrowFt  = 250
	mostGPM      = 500
	mostHeightIn = 60
	mostInletIn  = 4
	mostRows     = 100
	mostShares   = 1000
	mostName     = 200
	mostPower    = 4
)

// Fault is what is wrong with a nozzle or a body, and where.
type Fault struct {
	Member   string // JSON Pointer inside the nozzle or body, "/rows/2/flow_gpm"
	Sentence string // in the user's words
}

// Error returns the sentence.
func (f *Fault) Error() string { return f.Sentence }

// Validate reports the first thing that keeps the nozzle from being used, as a
// *Fault; nil when it is sound.
func (n Nozzle) Validate() error {
	for _, check := range []func(Nozzle) *Fault{
		nameFault, familyFault, arcFault, profileFault, lowFault, stripFault, turnDownFault, rowsFault, bestFault,
	} {
		if f := check(n); f != nil {
			return f
		}
	}
	return nil
}

func fault(member, format string, args ...any) *Fault {
	return &Fault{Member: member, Sentence: fmt.Sprintf(format, args...)}
}

// within reports whether v is a number from least to most; NaN is not.
func within(v, least, most float64) bool { return v >= least && v <= most }

func textFault(member, what, s string, needed bool) *Fault {
	if needed && strings.TrimSpace(s) == "" {
		return fault(member, "%s needs a few words; it is empty.", what)
	}
	if strings.ContainsFunc(s, unicode.IsControl) || !utf8.ValidString(s) {
		return fault(member, "%s holds a line break or another character that cannot be shown; write it on one line.", what)
	}
	if utf8.RuneCountInString(s) > mostName {
		return fault(member, "%s is longer than %d characters; shorten it.", what, mostName)
	}
	return nil
}

func nameFault(n Nozzle) *Fault {
	if f := textFault("/name", "The nozzle's name", n.Name, true); f != nil {
		return f
	}
	if f := textFault("/source", "The nozzle's source", n.Source, false); f != nil {
		return f
	}
	return textFault("/thread", "The nozzle's thread", n.Thread, false)
}

func familyFault(n Nozzle) *Fault {
	switch n.Family {
	case Spray, Stream, Rotor, Strip:
	default:
		return fault("/family", "%s is of the family %q; a nozzle is a spray, stream, rotor or strip.", n.Name, n.Family)
	}
	if !within(float64(n.Trajectory), 0, 89) {
		return fault("/trajectory_deg", "%s leaves at %g°; a stream leaves at 0° to 89° above level.", n.Name, float64(n.Trajectory))
	}
	return nil
}

func arcFault(n Nozzle) *Fault {
	if n.Family == Strip {
		if n.ArcLeast != 0 || n.ArcMost != 0 {
			return fault("/arc_least_deg", "%s wets a strip and has no arc; leave its arcs at 0.", n.Name)
		}
		if n.FlowFollowsArc {
			return fault("/flow_follows_arc", "%s wets a strip and has no arc for its flow to follow.", n.Name)
		}
		return nil
	}
	if !within(float64(n.ArcMost), 0, 360) || n.ArcMost == 0 {
		return fault("/arc_most_deg", "%s has a widest arc of %g°; an arc is above 0° and at most 360°.", n.Name, float64(n.ArcMost))
	}
	if !within(float64(n.ArcLeast), 0, float64(n.ArcMost)) || n.ArcLeast == 0 {
		return fault("/arc_least_deg", "%s has a narrowest arc of %g°; it must be above 0° and at most the widest, %g°.",
			n.Name, float64(n.ArcLeast), float64(n.ArcMost))
	}
	return nil
}

func profileFault(n Nozzle) *Fault { return n.Profile.fault(n.Name, "/profile") }

// lowFault looks at what becomes of the water below the table.
func lowFault(n Nozzle) *Fault {
	if n.Low == nil {
		return nil
	}
	if f := textFault("/low_pressure/source", "The source of the nozzle's low-pressure profile", n.Low.Source, false); f != nil {
		return f
	}
	return n.Low.Profile.fault(n.Name+", at low pressure,", "/low_pressure/profile")
}

// fault is what is wrong with a profile that stands at a member of a nozzle.
func (p Profile) fault(name, member string) *Fault {
	switch p.Kind {
	case ProfileLinear, ProfileFlat:
		if len(p.Shares) > 0 {
			return fault(member+"/shares", "%s has shares, but its profile is %s; shares belong to a table profile.", name, p.Kind)
		}
		return nil
	case ProfileTable:
	default:
		return fault(member+"/kind", "%s has the profile %q; it is linear, flat or table.", name, p.Kind)
	}
	if k := len(p.Shares); k < 2 || k > mostShares {
		return fault(member+"/shares", "%s has a table profile of %d shares; it takes 2 to %d.", name, k, mostShares)
	}
	wet := 0.0
	for i, s := range p.Shares {
		if !within(s, 0, 1000) {
			return fault(fmt.Sprintf("%s/shares/%d", member, i), "%s has a profile share of %g; shares are 0 or more.", name, s)
		}
		wet += s
	}
	if wet == 0 {
		return fault(member+"/shares", "%s has a profile of nothing but zeros; give the rate somewhere.", name)
	}
	return nil
}

func stripFault(n Nozzle) *Fault {
	if n.Family != Strip {
		if n.Strip != nil {
			return fault("/strip", "%s is a %s, and only a strip nozzle has a strip's shape.", n.Name, n.Family)
		}
		return nil
	}
	if n.Strip == nil {
		return fault("/strip", "%s is a strip nozzle without the shape of its strip.", n.Name)
	}
	s := *n.Strip
	if !s.Ahead && !s.Back {
		return fault("/strip", "%s throws neither ahead nor back; a strip nozzle does at least one.", n.Name)
	}
	if !within(float64(s.Left), 0, mostThrowFt) {
		return fault("/strip/left_ft", "%s wets %g ft to its left; that is 0 to %d ft.", n.Name, float64(s.Left), mostThrowFt)
	}
	if !within(float64(s.Right), 0, mostThrowFt) {
		return fault("/strip/right_ft", "%s wets %g ft to its right; that is 0 to %d ft.", n.Name, float64(s.Right), mostThrowFt)
	}
	if s.Left+s.Right == 0 {
		return fault("/strip", "%s wets a strip of no width; give it some to the left or right.", n.Name)
	}
	return nil
}

func turnDownFault(n Nozzle) *Fault {
	t := n.TurnDown
	if !within(float64(t.UsualShare), 0, 1) || t.UsualShare == 0 {
		return fault("/turn_down/usual_share", "%s may usually be turned down to %g of its throw; give a share above 0 and at most 1.", n.Name, float64(t.UsualShare))
	}
	if !within(float64(t.LeastShare), 0, float64(t.UsualShare)) || t.LeastShare == 0 {
		return fault("/turn_down/least_share", "%s can be turned down to %g of its throw; give a share above 0 and at most the usual one, %g.",
			n.Name, float64(t.LeastShare), float64(t.UsualShare))
	}
	if !within(t.FlowPower, 0, mostPower) {
		return fault("/turn_down/flow_power", "%s has a flow power of %g; it is 0 (flow stays) to %d.", n.Name, t.FlowPower, mostPower)
	}
	return nil
}

func rowsFault(n Nozzle) *Fault {
	if k := len(n.Rows); k < 1 || k > mostRows {
		return fault("/rows", "%s has %d rows in its table; it takes 1 to %d.", n.Name, k, mostRows)
	}
	for i, r := range n.Rows {
		if f := rowFault(n.Name, i, r); f != nil {
			return f
		}
		if i > 0 && r.Pressure <= n.Rows[i-1].Pressure {
			return fault(fmt.Sprintf("/rows/%d/pressure_psi", i), "%s has a row at %g psi after one at %g psi; rows stand by rising pressure, each once.",
				n.Name, float64(r.Pressure), float64(n.Rows[i-1].Pressure))
		}
	}
	return nil
}

func rowFault(name string, i int, r Row) *Fault {
	for _, c := range []struct {
		member, what, unit string
		v, most            float64
	}{
		{"pressure_psi", "pressure", "psi", float64(r.Pressure), mostPSI},
		{"throw_ft", "throw", "ft", float64(r.Throw), mostThrowFt},
		{"flow_gpm", "flow", "gpm", float64(r.Flow), mostGPM},
	} {
		if !within(c.v, leastEntry, c.most) {
			return fault(fmt.Sprintf("/rows/%d/%s", i, c.member), "%s has a %s of %g %s in row %d; that is above 0 and at most %g %s.",
				name, c.what, c.v, c.unit, i+1, c.most, c.unit)
		}
	}
	return nil
}

// leastEntry is the least a pressure (psi), throw (ft) or flow (gpm) may be: a
// thousandth is below any nozzle and keeps the divisions by them sane. Chosen.
const leastEntry = 0.001

func bestFault(n Nozzle) *Fault {
	least, most := n.Rows[0].Pressure, n.Rows[len(n.Rows)-1].Pressure
	if !within(float64(n.BestPSI), float64(least), float64(most)) {
		return fault("/best_psi", "%s is planned at %g psi, but its table runs from %g to %g psi.",
			n.Name, float64(n.BestPSI), float64(least), float64(most))
	}
	return nil
}

// Validate reports the first thing that keeps the body from being used, as a
// *Fault; nil when it is sound.
func (b Body) Validate() error {
	if f := textFault("/name", "The body's name", b.Name, true); f != nil {
		return f
	}
	if f := textFault("/source", "The body's source", b.Source, false); f != nil {
		return f
	}
	if f := textFault("/takes", "The thread the body takes", b.Takes, false); f != nil {
		return f
	}
	if !within(float64(b.Height), 0, mostHeightIn) {
		return fault("/height_in", "%s pops up %g in; that is 0 to %d in.", b.Name, float64(b.Height), mostHeightIn)
	}
	if !within(float64(b.Regulated), 0, mostPSI) {
		return fault("/regulated_psi", "%s is regulated to %g psi; that is 0 (not regulated) to %d psi.", b.Name, float64(b.Regulated), mostPSI)
	}
	if !within(float64(b.InletIn), 0, mostInletIn) {
		return fault("/inlet_in", "%s has an inlet of %g in; that is 0 to %d in.", b.Name, float64(b.InletIn), mostInletIn)
	}
	return nil
}
