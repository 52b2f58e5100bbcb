package plan

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// HeadName names a head as its flag does, "head 2-8"; one without a tag by where
// it stands, "head at 30, 15 ft".
func (p *Plan) HeadName(id ID) string { return "head " + p.HeadTag(id) }

// HeadTag is what tells a head from the others: its tag, or its place, which a
// person can find, where an id means nothing to them.
func (p *Plan) HeadTag(id ID) string {
	h, ok := p.Heads[id]
	switch {
	case !ok:
		return string(id)
	case h.Tag != "":
		return h.Tag
	}
	return p.placeName(Spot{h.X, h.Y})
}

// short writes a number with at most so many decimals, and no more than it needs.
func short(v float64, decimals int) string {
	unit := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(v*unit)/unit, 'f', -1, 64)
}

// mostNamed is how many heads a sentence names before it only counts them.
const mostNamed = 6

// HeadNames names several heads: "head 2-8", "heads 2-3 and 2-4",
// "11 heads (1-1, 1-2, 1-3, 1-4, 1-5, 1-6 and others)".
func (p *Plan) HeadNames(ids []ID) string {
	tags := make([]string, len(ids))
	for i, id := range ids {
		tags[i] = p.HeadTag(id)
	}
	switch {
	case len(ids) == 1:
		return "head " + tags[0]
	case len(ids) <= mostNamed:
		return "heads " + Series(tags)
	default:
		return fmt.Sprintf("%d heads (%s and others)", len(ids), strings.Join(tags[:mostNamed], ", "))
	}
}

// ZoneName names a zone by its own name, with its station where the name does
// not say it: "zone 3 (Side lawn)".
func (p *Plan) ZoneName(id ID) string {
	z := p.Zones[id]
	switch {
	case z.Station > 0 && (z.Name == "" || strings.EqualFold(z.Name, fmt.Sprintf("zone %d", z.Station))):
		return fmt.Sprintf("zone %d", z.Station)
	case z.Station > 0:
		return fmt.Sprintf("zone %d (%s)", z.Station, z.Name)
	case z.Name != "":
		return "zone " + z.Name
	default:
		return "zone " + string(id)
	}
}

// AreaName names an area by its own name, or by its kind and id.
func (p *Plan) AreaName(id ID) string {
	a, ok := p.Areas[id]
	switch {
	case !ok:
		return "the ground outside every area"
	case a.Name != "":
		return a.Name
	default:
		return Words(string(a.Kind)) + " " + string(id)
	}
}

// NozzleName is a nozzle's name in the plan's system of units; "" for none.
func (p *Plan) NozzleName(id ID) string { return catalog.NameIn(p.Show, p.Nozzles[id].Name) }

// BodyName is a body's name in the plan's system of units; "" for none.
func (p *Plan) BodyName(id ID) string { return catalog.NameIn(p.Show, p.Bodies[id].Name) }

// Words is a choice of the document in words: "part shade" of part_shade.
func Words(choice string) string { return strings.ReplaceAll(choice, "_", " ") }

// MiddleOf is the middle of the heads among refs, for looking at all of them.
func (p *Plan) MiddleOf(refs []Ref) orb.Point {
	var sum orb.Point
	n := 0.0
	for _, r := range refs {
		if h, ok := p.Heads[r.ID()]; ok && strings.HasPrefix(string(r), "heads/") {
			sum[0] += float64(h.X)
			sum[1] += float64(h.Y)
			n++
		}
	}
	if n == 0 {
		return sum
	}
	return orb.Point{sum[0] / n, sum[1] / n}
}

// Whereabouts says where a place is in words, from the nearest head that is to
// be there: "14 ft west of head 2-8". Without heads it gives the coordinates.
func (p *Plan) Whereabouts(at orb.Point) string {
	best, least := ID(""), math.Inf(1)
	for id, h := range p.Heads {
		d := math.Hypot(float64(h.X)-at[0], float64(h.Y)-at[1])
		if h.Status != Remove && (d < least || d == least && id < best) {
			best, least = id, d
		}
	}
	if best == "" {
		return fmt.Sprintf("%s east and %s north of the origin", p.About(units.Feet(at[0])), p.About(units.Feet(at[1])))
	}
	if least < 1 {
		return "at " + p.HeadName(best)
	}
	h := p.Heads[best]
	return fmt.Sprintf("%s %s of %s", p.About(units.Feet(least)), p.Compass(orb.Point{float64(h.X), float64(h.Y)}, at), p.HeadName(best))
}

var winds = [8]string{"east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east"}

// Compass is the direction from one place to another in words, by true north.
func (p *Plan) Compass(from, to orb.Point) string {
	return byCompass(math.Atan2(to[1]-from[1], to[0]-from[0])*180/math.Pi - float64(p.Site.NorthDeg))
}

// About is a length as one paces it: whole feet, or half metres.
func (p *Plan) About(l units.Feet) string {
	if p.Show == units.Metric {
		return fmt.Sprintf("%g m", math.Round(float64(l)*0.3048*2)/2)
	}
	return fmt.Sprintf("%.0f ft", math.Round(float64(l)))
}

// Series joins words as a sentence does: "a, b and c".
func Series(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// Several is Series of names, of which a long list is counted instead: "7 zones"
// would say nothing, so that the first are named.
func Several(names []string) string {
	if len(names) <= mostNamed {
		return Series(names)
	}
	return fmt.Sprintf("%s and %s", strings.Join(names[:mostNamed], ", "), Plural(len(names)-mostNamed, "other", "others"))
}

// Plural counts things: "1 head is", "4 heads are".
func Plural(n int, one, many string) string { return fmt.Sprintf("%d %s", n, Choose(n, one, many)) }

// Choose picks the word for one thing or for several.
func Choose(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// Capital begins a sentence.
func Capital(s string) string {
	if s == "" {
		return ""
	}
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
