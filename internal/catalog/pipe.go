package catalog

import "evenfall/internal/units"

// PipeClass is pipe of one material and wall in the sizes it is made in: one
// class of the table, such as Schedule 40 PVC.
type PipeClass struct {
	Name       string       `json:"name"`
	Material   PipeMaterial `json:"material"`
	Generic    bool         `json:"generic"`
	Source     string       `json:"source"`
	Convention string       `json:"convention"`       // how the inside diameters were taken: "average: outside − 2 (wall + 0.010 in)"
	C          float64      `json:"c"`                // Hazen-Williams
	ModulusPSI units.PSI    `json:"modulus_psi"`      // of elasticity, for surge
	Potable    bool         `json:"potable,omitzero"` // rated for drinking water: may stand before the backflow device
	Joint      string       `json:"joint"`            // cement | insert | solder | thread
	SoldFt     units.Feet   `json:"sold_ft,omitzero"` // length of a stick or coil
	Sizes      []PipeSize   `json:"sizes"`            // by rising nominal size, at least one
}

// PipeMaterial is what a pipe is made of; it decides the velocity limit of a service line.
type PipeMaterial string

// The pipe materials.
const (
	PVC    PipeMaterial = "pvc"
	PE     PipeMaterial = "pe"
	Copper PipeMaterial = "copper"
	Steel  PipeMaterial = "steel"
)

// PipeSize is one size of a class.
type PipeSize struct {
	Nominal units.Inches `json:"nominal_in"`
	Outside units.Inches `json:"outside_in"`
	Wall    units.Inches `json:"wall_in"`
	Inside  units.Inches `json:"inside_in"` // by the class's convention
	Rating  units.PSI    `json:"rating_psi"`
	// PricePerFt is the user's price; 0 where none is given. Sizes are then
	// compared by the plastic in a foot (see CostPerFt).
	PricePerFt float64 `json:"price_per_ft,omitzero"`
}

// Size returns the row of a nominal size.
func (c PipeClass) Size(nominal units.Inches) (PipeSize, bool) {
	for _, s := range c.Sizes {
		if s.Nominal == nominal {
			return s, true
		}
	}
	return PipeSize{}, false
}
