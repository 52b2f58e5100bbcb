package plan

import (
	"fmt"
	"slices"
	"strings"
)

// AreasAsked are the planting areas of a list of ids or names with commas between
// them, in its order and each once; of an empty list none. A name that several
// areas have means all of them. What is no planting area is refused with a
// *Problem that names it.
func (p *Plan) AreasAsked(list string) ([]ID, error) {
	var out []ID
	for _, asked := range Listing(list) {
		ids := p.areasCalled(asked)
		if len(ids) == 0 {
			return nil, problem("", "No area of the plan is called %s. Its planting areas are %s.", quoted(asked), p.plantingNames())
		}
		for _, id := range ids {
			if kind := p.Areas[id].Kind; kind != Planting {
				return nil, problem("", "%s is not a planting area. The planting areas are %s.", Capital(p.AreaName(id)), p.plantingNames())
			}
			if !slices.Contains(out, id) {
				out = append(out, id)
			}
		}
	}
	return out, nil
}

// Listing is the entries of a list with commas, without spaces around them and
// without empty ones.
func Listing(list string) []string {
	var out []string
	for s := range strings.SplitSeq(list, ",") {
		if s = strings.TrimSpace(s); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// areasCalled are the areas of an id, or else of a name, in whichever case.
func (p *Plan) areasCalled(s string) []ID {
	if _, ok := p.Areas[ID(s)]; ok {
		return []ID{ID(s)}
	}
	var ids []ID
	for _, id := range SortedIDs(p.Areas) {
		if strings.EqualFold(p.Areas[id].Name, s) {
			ids = append(ids, id)
		}
	}
	return ids
}

// plantingNames lists the planting areas with their ids.
func (p *Plan) plantingNames() string {
	var names []string
	for _, id := range SortedIDs(p.Areas) {
		if p.Areas[id].Kind != Planting {
			continue
		}
		name := string(id)
		if p.Areas[id].Name != "" {
			name = fmt.Sprintf("%s (%s)", p.Areas[id].Name, id)
		}
		names = append(names, name)
	}
	if len(names) == 0 {
		return "none yet"
	}
	return Several(names)
}
