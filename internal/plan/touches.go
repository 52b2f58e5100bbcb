package plan

import (
	"crypto/sha256"
	"reflect"

	"github.com/go-json-experiment/json"
)

// Parts is a set of members of the document: its collections and its single
// objects.
type Parts uint64

// The parts of a plan, in the order of the document.
const (
	PartFormat Parts = 1 << iota
	PartName
	PartShow
	PartSite
	PartOptions
	PartAreas
	PartBarriers
	PartTrees
	PartKeepDry
	PartElevations
	PartTies
	PartSupply
	PartHeads
	PartZones
	PartNozzles
	PartBodies
	PartPipeClasses
	PartDevices
	PartNodes
	PartPipes
	PartSleeves
	PartController
	PartSensors
	PartWires
	PartBoxes
	PartWiring
	PartPrices
	PartQuote
	PartWatering
	PartProof
	PartPhotos
	PartNotes
	PartUnderlay
	PartAccepted

	AllParts Parts = 1<<iota - 1
)

// Has reports whether any of the parts is in the set.
func (s Parts) Has(any Parts) bool { return s&any != 0 }

// partNames are the members of the document in the order of the bits, which is
// the order of Plan's fields.
var partNames = documentShape.names

// Touches returns the parts of the plan that the patch may change: all of them
// when it is not a patch.
func (p Patch) Touches() Parts {
	if p.check() != nil {
		return AllParts
	}
	list, err := members(p)
	if err != nil {
		return AllParts
	}
	var s Parts
	for _, m := range list {
		bit := AllParts
		for i, name := range partNames {
			if name == m.name {
				bit = 1 << i
			}
		}
		s |= bit
	}
	return s
}

// View returns a plan with only the parts asked for, every other empty, so that
// who is given it cannot come to depend on the rest. The format is always there.
// The collections are the plan's own: neither side may change them.
func (p *Plan) View(read Parts) *Plan {
	v := *p
	fields := reflect.ValueOf(&v).Elem()
	for i := range fields.NumField() {
		if !(read | PartFormat).Has(1 << i) {
			fields.Field(i).SetZero()
		}
	}
	return &v
}

// Digests returns the SHA-256 of the content of each part asked for, by the number
// of its bit; those of the others are empty. Parts of equal digests are equal. It
// panics where Encode does.
func (p *Plan) Digests(of Parts) []string {
	fields := reflect.ValueOf(p).Elem()
	out := make([]string, fields.NumField())
	for i := range out {
		if !of.Has(1 << i) {
			continue
		}
		text, err := json.Marshal(fields.Field(i).Interface(), json.Deterministic(true), json.WithMarshalers(marshalers))
		if err != nil {
			panic("plan: " + err.Error())
		}
		sum := sha256.Sum256(text)
		out[i] = string(sum[:])
	}
	return out
}
