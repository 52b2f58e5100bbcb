package sheets

import (
	"evenfall/internal/units"
)

// measure is a quantity of a column: how it is named and reckoned in either
// system.
type measure struct {
	us, metric                 string  // names of the units
	usDecimals, metricDecimals int     // kept in a cell
	factor                     float64 // metric units in one US unit
}

var (
	lengths   = measure{"ft", "m", 2, 2, units.MetresPerFoot}
	flows     = measure{"gpm", "L/min", 2, 1, units.LitresPerGallon}
	pressures = measure{"psi", "bar", 1, 2, units.BarPerPSI}
	rates     = measure{"in/h", "mm/h", 2, 1, units.MillimetresPerInch}
)

// column names a column with the unit behind it.
func (m measure) column(sys units.System, name string, width int) Column {
	if sys == units.Metric {
		return Column{name + ", " + m.metric, width}
	}
	return Column{name + ", " + m.us, width}
}

// cell is a cell of the quantity, given in its US unit.
func (m measure) cell(sys units.System, v float64) Cell {
	if sys == units.Metric {
		return Number(v*m.factor, m.metricDecimals)
	}
	return Number(v, m.usDecimals)
}
