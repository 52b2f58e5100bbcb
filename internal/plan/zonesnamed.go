package plan

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// ZonesAsked reads a list of zones by id, station or name, with commas between,
// as an address or a command line gives it; each once, in the order they are named
// in. The error is a *Problem.
func (p *Plan) ZonesAsked(list string) ([]ID, error) {
	var out []ID
	for _, asked := range Listing(list) {
		ids := p.zonesCalled(asked)
		if len(ids) == 0 {
			return nil, problem("", "No zone of the plan is called %s. Its zones are %s.", quoted(asked), p.zoneNames())
		}
		for _, id := range ids {
			if !slices.Contains(out, id) {
				out = append(out, id)
			}
		}
	}
	return out, nil
}

// zonesCalled are the zones of an id, or else of a station, or else of a name in
// whichever case.
func (p *Plan) zonesCalled(s string) []ID {
	if _, ok := p.Zones[ID(s)]; ok {
		return []ID{ID(s)}
	}
	station, err := strconv.Atoi(s)
	var by, named []ID
	for _, id := range SortedIDs(p.Zones) {
		z := p.Zones[id]
		if err == nil && station > 0 && z.Station == station {
			by = append(by, id)
		}
		if strings.EqualFold(z.Name, s) {
			named = append(named, id)
		}
	}
	if len(by) > 0 {
		return by
	}
	return named
}

// zoneNames lists the zones with their ids.
func (p *Plan) zoneNames() string {
	var names []string
	for _, id := range SortedIDs(p.Zones) {
		names = append(names, fmt.Sprintf("%s (%s)", p.Zones[id].Name, id))
	}
	if len(names) == 0 {
		return "none yet"
	}
	return Several(names)
}
