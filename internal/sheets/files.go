package sheets

import (
	"fmt"
	"io"

	"evenfall/internal/design"
	"evenfall/internal/plan"
)

// Files are the names of the lists a design is written out as.
var Files = []string{"parts.csv", "parts.xlsx", "zones.csv", "heads.csv", "findings.csv"}

// WriteFile writes the list of the given name, one of Files. What is to be
// said of the supply, as that it was not measured, is the last line of every list.
func WriteFile(w io.Writer, name string, p *plan.Plan, d *design.Design) error {
	note := SupplyNote(p, &d.Pressure.Supply)
	items := noted(Parts(p, d.Parts), "Item", note)
	zones := noted(Zones(p, d.Coverage, d.Pressure.Supply), "Zone", note)
	heads := noted(Heads(p, d.Coverage), "Zone", note)
	findings := noted(Findings(p, d.Findings), "What", note)
	switch name {
	case "parts.csv":
		return CSV(w, items)
	case "parts.xlsx":
		return XLSX(w, items, noted(PartsTotal(p, d.Parts), "Item", note), zones, heads, findings)
	case "zones.csv":
		return CSV(w, zones)
	case "heads.csv":
		return CSV(w, heads)
	case "findings.csv":
		return CSV(w, findings)
	default:
		return fmt.Errorf("sheets: no list is named %q", name)
	}
}
