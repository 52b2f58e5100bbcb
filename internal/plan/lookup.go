package plan

import (
	"maps"
	"slices"
	"strings"
)

// SortedIDs returns the ids of a collection in rising order. Whatever adds up,
// lists or draws the things of a plan goes through them in this order.
func SortedIDs[T any](things map[ID]T) []ID {
	return slices.Sorted(maps.Keys(things))
}

// Count returns the number of things in all collections together.
func (p *Plan) Count() int {
	return len(p.Areas) + len(p.Barriers) + len(p.Trees) + len(p.KeepDry) + len(p.Elevations) + len(p.Ties) +
		len(p.Heads) + len(p.Zones) + len(p.Nozzles) + len(p.Bodies) + len(p.PipeClasses) + len(p.Devices) + len(p.Supply.Statics) + len(p.Nodes) + len(p.Pipes) + len(p.Sleeves) +
		len(p.Sensors) + len(p.Wires) + len(p.Boxes) + len(p.Prices) + len(p.Quote.Rentals) + p.Proof.count() + len(p.Photos) + len(p.Notes) + len(p.Accepted)
}

// count is how many things the records hold, cans of audits too.
func (v Proof) count() int {
	n := len(v.Checks) + len(v.Tests) + len(v.Wires) + len(v.Touches) + len(v.Readings) + len(v.Audits) + len(v.Cans)
	for _, a := range v.Audits {
		n += len(a.Cans)
	}
	return n
}

// Split returns the collection and the id of a reference. The id of a single
// object, such as "supply", is empty.
func (r Ref) Split() (collection string, id ID) {
	at := strings.LastIndexByte(string(r), '/')
	if at < 0 {
		return string(r), ""
	}
	return string(r[:at]), ID(r[at+1:])
}

// RefToLot is the reference to the property line, a thing although the document
// keeps it as a member of the site.
const RefToLot Ref = "site/lot"

// Label names a thing as the user knows it, to begin a sentence with: "Head
// 2-8", "Front lawn", "Zone 3 (Side strip)". A thing without a name or tag goes
// by its kind and id: "Head h7k2m9q".
func (p *Plan) Label(r Ref) string {
	if r == RefToLot {
		return "The property line"
	}
	collection, id := r.Split()
	switch collection {
	case "heads":
		return sentenceCase(p.HeadName(id))
	case "zones":
		return p.Zones[id].label(id)
	case "areas":
		return named(p.Areas[id].Name, "Area "+string(id))
	case "barriers":
		return named(p.Barriers[id].Name, "Barrier "+string(id))
	case "trees":
		return named(p.Trees[id].Name, "Tree "+string(id))
	case "keep_dry":
		return named(p.KeepDry[id].Name, "Keep-dry place "+string(id))
	case "pipes":
		if _, ok := p.Pipes[id]; ok {
			return sentenceCase(p.PipeName(id))
		}
	case "nodes":
		if _, ok := p.Nodes[id]; ok {
			return sentenceCase(p.NodeName(id))
		}
	case "nozzles":
		return "Nozzle " + named(p.NozzleName(id), string(id))
	case "bodies":
		return "Body " + named(p.BodyName(id), string(id))
	case "pipe_classes":
		return "Pipe class " + named(p.PipeClassName(id), string(id))
	case "devices":
		return "Device " + named(p.DeviceName(id), string(id))
	}
	if noun, ok := nouns[collection]; ok {
		return sentenceCase(noun) + " " + string(id)
	}
	return sentenceCase("the " + strings.ReplaceAll(collection, "_", " "))
}

func (z Zone) label(id ID) string {
	switch {
	case z.Station > 0 && z.Name != "":
		return "Zone " + itoa(z.Station) + " (" + z.Name + ")"
	case z.Station > 0:
		return "Zone " + itoa(z.Station)
	}
	return "Zone " + named(z.Name, string(id))
}

func named(s, otherwise string) string {
	if strings.TrimSpace(s) == "" {
		return otherwise
	}
	return s
}
