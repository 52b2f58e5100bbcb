package sheets

import (
	"fmt"
	"io"

	"evenfall/internal/design"
	"evenfall/internal/plan"
)

// Files are the names of the lists a design is written out as.
var Files = []string{"parts.csv", "parts.xlsx", "zones.csv", "heads.csv", "findings.csv"}

// WriteFile writes the list of the given name, one of Files.
func WriteFile(w io.Writer, name string, p *plan.Plan, d *design.Design) error {
	switch name {
	case "parts.csv":
		return CSV(w, Parts(p, d.Parts))
	case "parts.xlsx":
		return XLSX(w, Parts(p, d.Parts), PartsTotal(p, d.Parts), Zones(p, d.Coverage, d.Pressure.Supply), Heads(p, d.Coverage), Findings(p, d.Findings))
	case "zones.csv":
		return CSV(w, Zones(p, d.Coverage, d.Pressure.Supply))
	case "heads.csv":
		return CSV(w, Heads(p, d.Coverage))
	case "findings.csv":
		return CSV(w, Findings(p, d.Findings))
	default:
		return fmt.Errorf("sheets: no list is named %q", name)
	}
}
