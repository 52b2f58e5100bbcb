package parts

import (
	"io"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// PriceFile is what came of reading a user's price list.
type PriceFile struct {
	Rows   []PriceRow         `json:"rows"`
	Errors []catalog.RowError `json:"errors"` // of lines that are left out, or of the whole file
	Notes  []string           `json:"notes"`  // what was passed over or taken for granted
}

// PriceRow is one line of it.
type PriceRow struct {
	Line int     `json:"line"` // of the file, from 1
	Item string  `json:"item"`
	Unit string  `json:"unit"` // "" when the file does not say
	Each float64 `json:"each"`
	Code string  `json:"code,omitzero"`
}

// ReadPrices reads a price list.
func ReadPrices(r io.Reader) *PriceFile { return nil }

// PricePreview is what taking a price list would do.
type PricePreview struct {
	Rows    []PreviewRow       `json:"rows"` // as in the file
	Errors  []catalog.RowError `json:"errors"`
	Notes   []string           `json:"notes"`
	New     int                `json:"new"`     // prices the plan does not have yet
	Changed int                `json:"changed"` // prices it has otherwise
	Same    int                `json:"same"`
	Unknown int                `json:"unknown"` // of all rows, for items that are not on the list
	Missing []Missing          `json:"missing"` // items of the list that still lack a price
	Patch   plan.Patch         `json:"patch"`   // of the plan; null when it changes nothing
	Says    string             `json:"says"`
}

// PreviewRow is one price as it would be taken.
type PreviewRow struct {
	PriceRow
	Does   string  `json:"does"`   // new | changed | same
	Was    float64 `json:"was"`    // when changed
	Listed bool    `json:"listed"` // the item is on the list, in a unit it is sold by
}

// PreviewPrices says what taking a price list would change of the plan's prices.
// Prices that are not in the file stay.
func PreviewPrices(p *plan.Plan, list *List, f *PriceFile) *PricePreview { return nil }
