package starts

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// setBack is how far the heads of an even layout stand in from the edge of the
// lawn: about 5 in, out of the way of the mower and the edger. Common practice.
const setBack = 0.4

// even waters a rectangle of lawn by sprays in rows, as wide apart as they
// throw, so that each throws to the next: quarters in the corners, halves along
// the edges, full circles between. All are of one size, so all put down one
// rate. The sides must be whole numbers of throws.
func even(p *plan.Plan, zone plan.ID, station int, name string, x0, y0, x1, y1 float64, size int) {
	p.Zones[zone] = plan.Zone{Name: name, Station: station}
	across, up := int((x1-x0)/float64(size)+0.5), int((y1-y0)/float64(size)+0.5)
	stepX, stepY := (x1-x0-2*setBack)/float64(across), (y1-y0-2*setBack)/float64(up)
	n := 0
	for row := range up + 1 {
		for i := range across + 1 {
			n++
			start, sweep, code := facing(i, across, row, up)
			p.Heads[plan.ID(fmt.Sprintf("h%d-%d", station, n))] = plan.Head{
				Tag: fmt.Sprintf("%d-%d", station, n), Zone: zone,
				Nozzle: useNozzle(p, fmt.Sprintf("spray-%d-%s", size, code)), Body: useBody(p, "body-4-reg"),
				X: units.Feet(x0 + setBack + float64(i)*stepX), Y: units.Feet(y0 + setBack + float64(row)*stepY),
				StartDeg: start, SweepDeg: sweep,
			}
		}
	}
}

// facing is the arc of a head in a grid, into the rectangle.
func facing(i, across, row, up int) (start, sweep units.Degrees, code string) {
	west, east, south, north := i == 0, i == across, row == 0, row == up
	switch {
	case west && south:
		return 0, 90, "q"
	case east && south:
		return 90, 90, "q"
	case east && north:
		return 180, 90, "q"
	case west && north:
		return 270, 90, "q"
	case south:
		return 0, 180, "h"
	case east:
		return 90, 180, "h"
	case north:
		return 180, 180, "h"
	case west:
		return 270, 180, "h"
	}
	return 0, 360, "f"
}

// useNozzle copies a nozzle of the generic set into the plan. A test sees to it
// that every nozzle the yards name is in the set.
func useNozzle(p *plan.Plan, id string) plan.ID {
	if n, ok := catalog.FindNozzle(id); ok {
		p.Nozzles[plan.ID(id)] = n
	}
	return plan.ID(id)
}

// useBody copies a body of the generic set into the plan.
func useBody(p *plan.Plan, id string) plan.ID {
	if b, ok := catalog.FindBody(id); ok {
		p.Bodies[plan.ID(id)] = b
	}
	return plan.ID(id)
}
