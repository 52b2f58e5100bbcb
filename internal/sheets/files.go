package sheets

import (
	"fmt"
	"io"

	"evenfall/internal/design"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
)

// file is one list that a design is written out as.
type file struct {
	name  string
	title string // as a menu has it
	holds string // for who chooses among them
	write func(w io.Writer, o *output) error
}

// output is what the files are written from.
type output struct {
	p    *plan.Plan
	d    *design.Design
	note string // of the supply; the last line of every list
}

// files are the lists, in the order they are named.
var files = []file{
	{"parts.csv", "Parts list, CSV", "what to buy, by list and in total, with prices where there are any", func(w io.Writer, o *output) error { return CSV(w, o.parts()) }},
	{"parts.xlsx", "Parts list, XLSX", "the parts list with a sheet for each zone, then zones, heads and findings", func(w io.Writer, o *output) error { return XLSX(w, o.workbook()...) }},
	{"prices.csv", "Price list to fill in, CSV", "the parts to be priced: fill it in and take it in again", func(w io.Writer, o *output) error { return CSV(w, noted(PriceTable(o.p, o.d.Parts), "Part", o.note)) }},
	{"quote.csv", "Quote, CSV", "what parts and work come to by the plan's own prices and rates", func(w io.Writer, o *output) error { return CSV(w, o.quote()) }},
	{"quote.txt", "Quote to be read, text", "the quote in words and columns", func(w io.Writer, o *output) error { return QuoteText(w, o.p, o.d) }},
	{"zones.csv", "Zones, CSV", "each zone with its heads, flow and rates", func(w io.Writer, o *output) error { return CSV(w, o.zones()) }},
	{"heads.csv", "Heads, CSV", "each head with its place, nozzle, arc and throw", func(w io.Writer, o *output) error { return CSV(w, o.heads()) }},
	{"trenches.csv", "Trench list, CSV", "the trench list for the crew, in the order of digging", func(w io.Writer, o *output) error { return CSV(w, o.trenches()) }},
	{"sleeves.csv", "Sleeve list, CSV", "the sleeve list: place, size, depth and how each is laid", func(w io.Writer, o *output) error { return CSV(w, o.sleeves()) }},
	{"trench-points.csv", "Points of the trench list, CSV", "where each point of the trench list is", func(w io.Writer, o *output) error { return CSV(w, noted(TrenchPoints(o.p, o.d.Digs), "Where", o.note)) }},
	{"wires.csv", "Wire list, CSV", "the wire list: each valve's conductor, its way, length, size and volts", func(w io.Writer, o *output) error {
		return CSV(w, noted(Wires(o.p, o.d.Digs, o.d.Wiring), "Note", o.note))
	}},
	{"wires.txt", "Wire list to be read, text", "the wire list in words and columns, with what care wire wants", func(w io.Writer, o *output) error { return WiresText(w, o.p, o.d) }},
	{"findings.csv", "Findings, CSV", "what is weak in the plan: what, where and what to do", func(w io.Writer, o *output) error { return CSV(w, o.findings()) }},
}

// Files are the names of the lists a design is written out as.
var Files = func() []string {
	var names []string
	for _, f := range files {
		names = append(names, f.name)
	}
	return names
}()

// Title is the list of a name as a menu has it; "" when none has it.
func Title(name string) string {
	for _, f := range files {
		if f.name == name {
			return f.title
		}
	}
	return ""
}

// Holds says what the list of a name holds; "" when none has it.
func Holds(name string) string {
	for _, f := range files {
		if f.name == name {
			return f.holds
		}
	}
	return ""
}

// WriteFile writes the list of the given name, one of Files. What is to be
// said of the supply, as that it was not measured, is the last line of every list.
func WriteFile(w io.Writer, name string, p *plan.Plan, d *design.Design) error {
	for _, f := range files {
		if f.name == name {
			return f.write(w, &output{p, d, SupplyNote(p, &d.Pressure.Supply)})
		}
	}
	return fmt.Errorf("sheets: no list is named %q", name)
}

func (o *output) parts() Table { return noted(Parts(o.p, o.d.Parts, o.cost()), "Item", o.note) }
func (o *output) zones() Table {
	return noted(Zones(o.p, o.d.Coverage, o.d.Pressure.Supply), "Zone", o.note)
}
func (o *output) trenches() Table { return noted(Trenches(o.p, o.d.Digs), "From", o.note) }
func (o *output) sleeves() Table  { return noted(Sleeves(o.p, o.d.Digs), "Under", o.note) }
func (o *output) heads() Table    { return noted(Heads(o.p, o.d.Coverage), "Zone", o.note) }
func (o *output) findings() Table { return noted(Findings(o.p, o.d.Findings), "What", o.note) }
func (o *output) quote() Table    { return noted(QuoteTable(o.p, QuoteOf(o.p, o.d)), "How", o.note) }

// cost is what the parts come to; nil where the plan has no price.
func (o *output) cost() *parts.Cost { return CostOf(o.p, o.d) }

// workbook is the parts in total, each list on a sheet of its own, and the other
// tables.
func (o *output) workbook() []Table {
	cost := o.cost()
	tables := []Table{noted(PartsTotal(o.p, o.d.Parts, cost), "Item", o.note)}
	for i := range o.d.Parts.Zones {
		tables = append(tables, noted(PartsOf(o.p, o.d.Parts, cost, i), "Item", o.note))
	}
	return append(tables, o.parts(), o.zones(), o.heads(), o.findings())
}
