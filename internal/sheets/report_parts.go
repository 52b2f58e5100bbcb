package sheets

import (
	"fmt"

	"evenfall/internal/parts"
	"evenfall/internal/plan"
)

// zoneColumn names a zone's column of the parts table: by station when it has
// one.
func zoneColumn(zone plan.ID, station int) string {
	switch {
	case zone == "":
		return "none"
	case station > 0:
		return fmt.Sprint(station)
	default:
		return string(zone)
	}
}

// countOf is the count of the same item on a zone's list, as text; "" for none.
func countOf(lines []parts.Line, item parts.Line) string {
	for _, l := range lines {
		if l.Group == item.Group && l.Item == item.Item {
			return fmt.Sprint(l.Count)
		}
	}
	return ""
}
