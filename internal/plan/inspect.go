package plan

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"

	"evenfall/internal/units"
)

// inspector gathers what is wrong with a decoded plan.
type inspector struct {
	plan *Plan
	sys  units.System
	// orderly looks at the things of a collection by rising id, so that the
	// problems come in the same order each time. A sound plan needs no order, and
	// most are: the first look is disorderly and stops at the first problem.
	orderly bool
	list    []Problem
}

func (c *inspector) enough() bool {
	return len(c.list) >= maxProblems || !c.orderly && len(c.list) > 0
}

func (c *inspector) tell(s subject, member, format string, args ...any) {
	if !c.enough() {
		c.list = append(c.list, *problem(s.pointer(member), format, args...))
	}
}

// each calls look with each thing of a collection.
func each[T any](c *inspector, things map[ID]T, look func(ID, T)) {
	if !c.orderly {
		for id, t := range things {
			if c.enough() {
				return
			}
			look(id, t)
		}
		return
	}
	for _, id := range slices.Sorted(maps.Keys(things)) {
		look(id, things[id])
	}
}

// subject is the thing looked at: one of a collection, or one of the document's
// single objects when id is empty.
type subject struct {
	collection string
	id         ID
	called     string // tag or name, may be ""
}

func (s subject) String() string {
	if s.id == "" {
		if s.collection == "" {
			return "the plan"
		}
		return "the " + s.collection
	}
	return thing(s.collection, string(s.id), s.called)
}

// pointer returns the JSON Pointer to a member ("supply/connection/x_ft" has a
// member of "connection/x_ft"), or to the subject itself when it is "".
func (s subject) pointer(member string) string {
	var p jsontext.Pointer
	for _, part := range strings.Split(s.collection, "/") {
		if part != "" {
			p = p.AppendToken(part)
		}
	}
	if s.id != "" {
		p = p.AppendToken(string(s.id))
	}
	if member != "" {
		p += jsontext.Pointer("/" + member)
	}
	return string(p)
}

// phrases are the words for members whose name alone does not say them.
var phrases = map[string]string{
	"from/x_ft":              "x of the first end",
	"from/y_ft":              "y of the first end",
	"to/x_ft":                "x of the second end",
	"to/y_ft":                "y of the second end",
	"show":                   "choice of units",
	"outlet_at/x_ft":         "x of the outlet",
	"outlet_at/y_ft":         "y of the outlet",
	"hot_awg":                "size of the wires to the valves",
	"common_awg":             "size of the common wire",
	"lay":                    "laying",
	"carries":                "use",
	"each":                   "price of one",
	"per_trench_ft":          "rate for a foot of trench",
	"per_sleeve_ft":          "rate for a foot under paving",
	"per_head":               "rate for a head",
	"per_valve":              "rate for a valve",
	"mark_up_share":          "mark-up",
	"tax_share":              "tax",
	"tax_on":                 "choice of what is taxed",
	"stations":               "number of stations",
	"from":                   "first joint",
	"to":                     "second joint",
	"start_deg":              "start of the arc",
	"sweep_deg":              "arc",
	"setback_ft":             "set-back",
	"static_psi":             "static pressure",
	"residual_psi":           "pressure while flowing",
	"nominal_in":             "nominal size",
	"meter_in":               "size of the meter",
	"service_in":             "size of the service line",
	"service_length_ft":      "length of the service line",
	"slope_toward_deg":       "direction of the slope",
	"ft_per_px":              "scale",
	"z_ft":                   "height",
	"service_class":          "class of the service line",
	"service_fps":            "greatest velocity in the service line",
	"timed_gal":              "size of the container",
	"timed_s":                "time to fill the container",
	"measured_where":         "place of the measurement",
	"house_gpm":              "flow of the house",
	"tap":                    "place of the connection before or after the regulator",
	"regulator_psi":          "setting of the regulator",
	"pump_least_gpm":         "least flow of the pump",
	"needed_psi":             "pressure wanted at the valve",
	"backflow_height_ft":     "height of the backflow device",
	"push_back":              "what pushes back after the backflow device",
	"psi":                    "pressure",
	"peak_in_per_week":       "peak need",
	"throat_in2":             "throat of the cans",
	"catch_ml":               "catch",
	"depth_in":               "depth",
	"end_psi":                "pressure at the end",
	"running_psi":            "pressure while running",
	"psi_at":                 "place of the gauge",
	"at_head":                "head of the gauge",
	"flow_gpm":               "flow",
	"meter":                  "meter",
	"meter_gal":              "volume by the meter",
	"meter_s":                "time by the meter",
	"when":                   "occasion",
	"tilt_deg":               "tilt",
	"tilt_toward_deg":        "direction of the tilt",
	"set_on":                 "date of setting",
	"seen_on":                "date of looking",
	"sha256":                 "picture",
	"width_px":               "width in pixels",
	"height_px":              "height in pixels",
	"scaled_by/distance_ft":  "distance it was scaled by",
	"checked_by/distance_ft": "distance it was checked by",
	"on":                     "date",
	"locate_on":              "date of the locate request",
	"locate_ticket":          "ticket of the locate request",
	"permit":                 "number of the permit",
	"permit_on":              "date of the permit",
	"licence":                "licence of who signs",
	"association_on":         "date of the owners' association's approval",
	"right_of_way_on":        "date of the leave to work in the right of way",
	"backflow_tested_on":     "date of the backflow test",
	"by":                     "name of who accepted it",
	"audited_du":             "audited uniformity",
	"et_in":                  "reference ET by month",
	"high_f":                 "highest temperatures",
	"low_f":                  "lowest temperatures",
	"rain_in":                "rain by month",
	"et_by":                  "weather by month",
	"lines":                  "number of lines of weather",
	"tmax_f":                 "highest temperature",
	"tmin_f":                 "lowest temperature",
	"day_in":                 "reference ET of a day",
	"saturation_kpa":         "vapour at saturation",
	"vapour_kpa":             "pressure of vapour",
	"solar_mj":               "solar radiation",
	"net_mj":                 "net radiation",
	"sun_in":                 "ET by radiation",
	"wind_in":                "ET by wind",
	"every":                  "days from one watering to the next",
	"et_zone":                "zone of the public table",
	"et_from":                "source of the climate",
	"turf":                   "kind of turf",
	"stage":                  "stage of the turf",
	"target":                 "target of the run times",
	"density_factor":         "density factor",
	"roots_in":               "depth of roots",
	"plant_height_in":        "height of the plants",
	"adjusts":                "adjustment by the month",
	"start":                  "start",
	"started_up":             "date of start-up",
	"north_deg":              "direction of north",
	"wind_mph":               "wind",
	"wind_from_deg":          "direction of the wind",
	"connection/x_ft":        "x of the point of connection",
	"connection/y_ft":        "y of the point of connection",
	"backflow_at/x_ft":       "x of the backflow device",
	"backflow_at/y_ft":       "y of the backflow device",
	"valve_at/x_ft":          "x of the valve",
	"valve_at/y_ft":          "y of the valve",
	"at/x_ft":                "x",
	"at/y_ft":                "y",
	"feet":                   "distance",
	"edge_lip_ft":            "edge lip",
	"wall_lip_ft":            "wall lip",
	"cell_ft":                "cell of the map",
	"trajectory_deg":         "trajectory",
	"design_flow_gpm":        "design flow",
	"trunk_in":               "trunk",
	"turn_down/flow_power":   "flow power",
}

// phrase returns the words for a member: its name without the unit.
func phrase(member string) string {
	if p, ok := phrases[member]; ok {
		return p
	}
	if list, entry, ok := strings.Cut(member, "/"); ok && phrases[list] != "" {
		month, of, inside := strings.Cut(entry, "/")
		if i, err := strconv.Atoi(month); err == nil && inside {
			return fmt.Sprintf("%s in month %d", phrase(of), i+1)
		} else if err == nil {
			return fmt.Sprintf("%s, month %d,", phrases[list], i+1)
		}
	}
	name := member[strings.LastIndexByte(member, '/')+1:]
	if p, ok := phrases[name]; ok {
		return p
	}
	for _, unit := range []string{"_ft", "_in", "_deg", "_psi", "_gpm"} {
		name = strings.TrimSuffix(name, unit)
	}
	return strings.ReplaceAll(name, "_", " ")
}

// number tells of a number that was left out or lies outside its range.
func (c *inspector) number(s subject, member string, v float64, r span) {
	switch {
	case r.holds(v):
	case v != v: // see absent
		c.missing(s, member)
	default:
		c.tell(s, member, "The %s of %s is %s; it must be %s. Correct the number.",
			phrase(member), s, r.in.show(c.sys, v), r.limits(c.sys))
	}
}

func (c *inspector) missing(s subject, member string) {
	c.tell(s, member, "%s has no %s (%s). Give it one.", sentenceCase(s.String()), phrase(member), strconv.Quote(member))
}

// spot tells of a place off the plan.
func (c *inspector) spot(s subject, prefix string, x, y units.Feet) {
	if place10km.holds(float64(x)) && place10km.holds(float64(y)) {
		return // no text is made for a sound place
	}
	c.number(s, prefix+"x_ft", float64(x), place10km)
	c.number(s, prefix+"y_ft", float64(y), place10km)
}

// word tells of a word that is not one of those the member takes.
func (c *inspector) word(s subject, member, v string, w words, needed bool) {
	switch {
	case v == "" && !needed, w.has(v):
	case v == "":
		c.tell(s, member, "%s has no %s. It is one of %s.", sentenceCase(s.String()), phrase(member), w.list())
	default:
		c.tell(s, member, "The %s of %s is %s, which this format does not know. It is one of %s.", phrase(member), s, quoted(v), w.list())
	}
}

// text tells of a text that is too long or has control characters in it. Line
// breaks and tabs are let pass in prose.
func (c *inspector) text(s subject, member, v string, prose bool) {
	if len(v) > MaxText && utf8.RuneCountInString(v) > MaxText {
		c.tell(s, member, "The %s of %s is longer than %d characters. Shorten it.", phrase(member), s.uncalled(), MaxText)
		return
	}
	for _, r := range v {
		if unicode.IsControl(r) && !(prose && (r == '\n' || r == '\t')) {
			c.tell(s, member, "The %s of %s has a character in it that cannot be shown (U+%04X). Take it out.", phrase(member), s, r)
			return
		}
	}
}

// uncalled is the subject without its name, where the name is what is wrong.
func (s subject) uncalled() subject {
	s.called = ""
	return s
}

// id tells of an id that is not made as ids are.
func (c *inspector) id(s subject) {
	if !s.id.wellMade() {
		c.tell(s, "", "The id %s in %s is not made as ids are. Write a letter first, then letters, digits, - or _, at most %d in all.",
			quoted(string(s.id)), s.collection, MaxID)
	}
}

// wellMade reports whether the id is a letter, then letters, digits, - or _, and
// not too long.
func (id ID) wellMade() bool {
	for i, r := range id {
		letter := 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z'
		if !letter && (i == 0 || !('0' <= r && r <= '9' || r == '-' || r == '_')) {
			return false
		}
	}
	return id != "" && len(id) <= MaxID
}

// points tells of a reference to a thing that is not there.
func points[T any](c *inspector, s subject, member string, to ID, collection string, things map[ID]T, needed bool) {
	if _, ok := things[to]; ok || to == "" && !needed {
		return
	}
	if to == "" {
		c.tell(s, member, "%s has no %s. Name one of the %s.", sentenceCase(s.String()), phrase(member), collection)
		return
	}
	c.tell(s, member, "The %s of %s is %s, but the plan has no such %s. Choose one it has, or add it to %s.",
		phrase(member), s, quoted(string(to)), nouns[collection], collection)
}
