package plan

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// nameKeys are the properties a shape may be named by, best first.
var nameKeys = []string{"name", "title", "label", "nom"}

// featureName is what the user knows the shape by, or its number.
func featureName(o *geoObject, number int) string {
	for _, want := range nameKeys {
		for _, key := range sortedKeys(o.Properties) {
			s, ok := o.Properties[key].(string)
			if s = strings.TrimSpace(s); ok && s != "" && strings.EqualFold(key, want) {
				return shortName(s)
			}
		}
	}
	return fmt.Sprintf("Shape %d", number)
}

// shortName keeps a name to one line of at most 80 characters.
func shortName(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
	if utf8.RuneCountInString(s) > 80 {
		s = string([]rune(s)[:79]) + "…"
	}
	return s
}

func sortedKeys(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// guessWords are words that speak for a use, in the trade, in the tags of
// OpenStreetMap and in names of layers. Earlier lines win.
var guessWords = []struct {
	use   Use
	words []string
}{
	{Use(Building), []string{"building", "buildings", "house", "garage", "shed", "roof", "footprint", "dwelling", "residence", "batiment", "batiments", "bâtiment", "bâtiments"}},
	{Use(NoDig), []string{"easement", "septic", "utility"}},
	{Use(Water), []string{"water", "pond", "pool", "lake", "swimming"}},
	{Use(RightOfWay), []string{"street", "road", "neighbour", "neighbor", "residential", "tertiary", "secondary", "primary"}},
	{Use(Paving), []string{"drive", "driveway", "walk", "sidewalk", "footway", "pedestrian", "service", "path", "patio", "paving", "paved", "concrete", "asphalt", "parking", "terrace", "stones"}},
	{Use(Ground), []string{"gravel", "mulch", "deck", "playground", "sand", "bark"}},
	{Use(Planting), []string{"lawn", "turf", "grass", "bed", "garden", "flowerbed", "flowers", "shrubs", "scrub", "hedge", "planting", "meadow", "orchard", "vegetables", "wood"}},
	{UseLot, []string{"lot", "parcel", "parcels", "parcelle", "parcelles", "property", "boundary", "cadastre", "plot"}},
}

// buildingKeys and lotKeys are properties whose mere presence speaks: tags of
// OpenStreetMap and the usual columns of assessors' parcel files.
var (
	buildingKeys = []string{"building", "building:levels", "bldg_id", "bldgid", "roof:shape"}
	lotKeys      = []string{"apn", "parcel_id", "parcelid", "parcel_no", "parcelno", "parcelnumb", "taxlot", "contenance"}
	wordKeys     = []string{"kind", "layer", "type", "class", "category", "use", "name", "description", "landuse", "leisure", "natural", "surface", "amenity", "highway", "area:highway", "water", "barrier"}
)

// guessByWords guesses what a shape is from the properties of its feature;
// empty when they do not tell.
func guessByWords(properties map[string]any) Use {
	if kind, ok := properties["kind"].(string); ok && (areaKinds.has(kind) || Use(kind) == UseLot) {
		return Use(kind)
	}
	keys := sortedKeys(properties)
	said := func(wanted []string) bool {
		return slices.ContainsFunc(keys, func(k string) bool {
			v := properties[k]
			return slices.Contains(wanted, strings.ToLower(k)) && v != nil && v != "no" && v != ""
		})
	}
	if said(buildingKeys) {
		return Use(Building)
	}
	var words []string
	for _, k := range keys {
		if s, ok := properties[k].(string); ok && slices.Contains(wordKeys, strings.ToLower(k)) {
			words = append(words, strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) })...)
		}
	}
	for _, g := range guessWords {
		for _, w := range g.words {
			if slices.Contains(words, w) {
				return g.use
			}
		}
	}
	if said(lotKeys) {
		return UseLot
	}
	return ""
}

// guessByPlace fills in the guesses that words did not give: the largest shape
// that holds another is the lot, unless there is one; the rest is planting.
func guessByPlace(shapes []ImportShape) {
	lot := -1
	for i, s := range shapes {
		if s.Guess == UseLot {
			lot = -2
		}
		if lot != -2 && s.Guess == "" && (lot < 0 || s.AreaSqFt > shapes[lot].AreaSqFt) && holdsAnother(shapes, i) {
			lot = i
		}
	}
	for i := range shapes {
		if shapes[i].Guess == "" {
			shapes[i].Guess = Use(Planting)
		}
	}
	if lot >= 0 {
		shapes[lot].Guess = UseLot
	}
}

// holdsAnother reports whether the first corner of another, smaller shape lies
// in shape i.
func holdsAnother(shapes []ImportShape, i int) bool {
	outer := shapes[i].Outline.Ring()
	bound := outer.Bound()
	return slices.ContainsFunc(shapes, func(s ImportShape) bool {
		at := s.Outline[0].Point()
		return s.AreaSqFt < shapes[i].AreaSqFt && bound.Contains(at) && geom.RingContains(outer, orb.Point(at))
	})
}
