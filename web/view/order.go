package view

import "slices"

// inUseFirst puts the plans in use before those put away, each in their order.
func inUseFirst(rows []PlanRow) []PlanRow {
	sorted := slices.Clone(rows)
	slices.SortStableFunc(sorted, func(a, b PlanRow) int {
		switch {
		case a.Archived == b.Archived:
			return 0
		case b.Archived:
			return -1
		}
		return 1
	})
	return sorted
}
