package parts

// Comparison is what two designs take and cost, line by line.
type Comparison struct {
	Lines []ComparedLine `json:"lines"` // those that differ, in the order of the list
	Same  int            `json:"same"`  // lines that do not
	From  Cents          `json:"from_cents"`
	To    Cents          `json:"to_cents"`
	More  Cents          `json:"more_cents"` // To less From
	Whole bool           `json:"whole"`      // every line of both has its price; else More is not the whole difference
	Says  string         `json:"says"`
}

// ComparedLine is one item of two designs.
type ComparedLine struct {
	Group  string `json:"group"`
	Item   string `json:"item"`
	Unit   string `json:"unit"`
	From   int    `json:"from"`
	To     int    `json:"to"`
	More   Cents  `json:"more_cents"`
	Priced bool   `json:"priced"` // on every side that has it
}

// Compare compares two priced designs: two states of a plan, or two ways to do it.
func Compare(from, to *Cost) *Comparison {
	return nil
}
