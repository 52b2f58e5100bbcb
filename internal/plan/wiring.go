package plan

import (
	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// WireRun is a line along which control wire lies where it does not go with a
// pipe: from the controller to the first trench, or from a sensor.
type WireRun struct {
	Line   geom.Line `json:"line"`
	Lay    string    `json:"lay,omitzero"` // trench | building; absent: trench. On or in a building it is clipped, outside in conduit
	Status Status    `json:"status,omitzero"`
	Locked bool      `json:"locked,omitzero"`
}

// Box is a box for splices away from the valves. Valves have theirs without being
// drawn.
type Box struct {
	Name   string     `json:"name,omitzero"`
	X      units.Feet `json:"x_ft"`
	Y      units.Feet `json:"y_ft"`
	Built  *Built     `json:"built,omitempty"`
	Status Status     `json:"status,omitzero"`
	Locked bool       `json:"locked,omitzero"`
}

// Wiring is how valves are wired, where it is not left to what suits.
type Wiring struct {
	Cable     string `json:"cable,omitzero"`      // single | multi conductor; absent: whichever suits
	HotAWG    int    `json:"hot_awg,omitzero"`    // 0: as thin as the drop lets it be, from 18 AWG
	CommonAWG int    `json:"common_awg,omitzero"` // likewise
}

// Price is what the user pays for an item.
type Price struct {
	Item string  `json:"item"`          // as it stands in the list
	Unit string  `json:"unit"`          // each | ft | m | stick | coil | roll | box | lb …, as the list has it or as it is sold
	Each float64 `json:"each"`          // of one unit, in the quote's currency
	Code string  `json:"code,omitzero"` // the shop's own
}

// Quote is what work and parts are offered for. Every rate is the user's own;
// none is known by itself.
type Quote struct {
	Currency    string        `json:"currency,omitzero"`      // sign or code put before sums; absent: none
	PerTrenchFt float64       `json:"per_trench_ft,omitzero"` // of work
	PerSleeveFt float64       `json:"per_sleeve_ft,omitzero"` // likewise, bored or cut
	PerHead     float64       `json:"per_head,omitzero"`
	PerValve    float64       `json:"per_valve,omitzero"`
	Rentals     map[ID]Rental `json:"rentals,omitempty"`
	MarkUpShare units.Ratio   `json:"mark_up_share,omitzero"` // on parts
	TaxShare    units.Ratio   `json:"tax_share,omitzero"`
	TaxOn       string        `json:"tax_on,omitzero"` // parts | all; absent: parts
	Notes       string        `json:"notes,omitzero"`
}

// Rental is a machine taken for some days.
type Rental struct {
	What string  `json:"what"`
	Days float64 `json:"days"`
	Each float64 `json:"each"` // a day
}
