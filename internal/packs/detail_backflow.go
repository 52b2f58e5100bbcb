package packs

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// assembly is a backflow device as it is drawn: how high it stands and why.
type assembly struct {
	kind    catalog.BackflowKind
	name    string
	chosen  bool    // the plan names it
	stands  float64 // of its critical level, or of its relief opening, above its own ground, inches
	given   bool    // the plan says so
	highest float64 // ground of the highest head above the device's, inches
	above   float64 // of that, as the rule has it; 0: the rule knows none
	head    string  // the highest
	out     pipeSeen
}

// assemblyOf is the plan's own device, or a pressure vacuum breaker where none is chosen.
func (b *builder) assemblyOf() assembly {
	a := assembly{kind: catalog.PressureBreaker, name: "Pressure vacuum breaker", stands: 12, out: b.pipeOf(true)}
	if id, d, ok := b.p.BackflowDevice(); ok {
		a.kind, a.name, a.chosen = d.Backflow, b.p.DeviceName(id), true
	}
	switch a.kind {
	case catalog.AtmosphericBreaker:
		a.stands = 6
	case catalog.DoubleCheck:
		a.stands = 12
	}
	if r, ok := pressure.BreakerHeight(b.p); ok {
		a.stands, a.above = float64(r.Need.Inches()), float64(r.Above.Inches())
		a.highest, a.head = float64((r.Level - r.Ground).Inches()), b.p.HeadName(r.Highest)
	}
	if given := b.p.Supply.BackflowHeightFt; given != nil && float64(given.Inches()) > 0 {
		a.stands, a.given = float64(given.Inches()), true
	}
	return a
}

// backflowDetail is the backflow device as it stands, seen from the side.
func (b *builder) backflowDetail() *detail {
	a := b.assemblyOf()
	under := b.figure(plan.DepthMain)
	if a.kind == catalog.AtmosphericBreaker {
		under = b.figure(plan.DepthLateral)
		a.out = b.pipeOf(false)
	}
	y := -under - a.out.outside/2
	low := y - 2
	k := max(1, min(a.stands/24, 6)) // what is far off is drawn with wider room about it
	d := &detail{title: a.name, what: "Seen from the side", box: orb.Bound{Min: orb.Point{-9 - 2.6*k, low}, Max: orb.Point{11.5, max(a.stands, a.highest) + 4.4}}}
	level := a.kind == catalog.ReducedPressure || a.kind == catalog.DoubleCheck
	if level {
		d.box.Min[0], d.box.Max[0] = -13-2.6*k, 13.8
	}
	left, right := -d.box.Min[0]-2.6*k, d.box.Max[0]
	d.earth(orb.Point{-left, low}, orb.Point{right, low}, orb.Point{right, 0}, orb.Point{-left, 0})
	d.grade(-left, right, 0)
	if level {
		b.levelAssembly(d, a, y)
	} else {
		b.breakerAssembly(d, a, y)
	}
	d.upright(-left, 0, -under, -left-1.1*k, b.inches(under)+"| cover")
	d.notes = append(d.notes, b.backflowNotes(a)...)
	return d
}

// breakerAssembly is a vacuum breaker: up one leg, through it, down the other.
func (b *builder) breakerAssembly(d *detail, a assembly, y float64) {
	od, top := a.out.outside, a.stands
	inlet, outlet := -5.0, 7.5
	atmospheric := a.kind == catalog.AtmosphericBreaker
	d.tube(cutPen, plastic, od, orb.Point{-9, y}, orb.Point{inlet, y}, orb.Point{inlet, top - 0.8})
	d.tube(cutPen, plastic, od, orb.Point{inlet + 1.2, top}, orb.Point{outlet, top}, orb.Point{outlet, y}, orb.Point{11.5, y})
	for _, c := range []orb.Point{{inlet, y}, {outlet, y}} {
		d.collar(c[0], c[1]+0.9, 90, 0.6, od+0.4, plastic)
	}
	d.collar(outlet-0.9, top, 0, 0.6, od+0.4, plastic)
	d.collar(outlet, top-0.9, 90, 0.6, od+0.4, plastic)

	// The body with its bonnet.
	d.shape(cutPen, drawing.White, orb.Point{inlet - 0.95, top - 2.6}, orb.Point{inlet + 0.95, top - 2.6}, orb.Point{inlet + 1.35, top - 1}, orb.Point{inlet + 2.4, top - 0.95}, orb.Point{inlet + 2.4, top + 0.95},
		orb.Point{inlet + 1.5, top + 1}, orb.Point{inlet + 1.5, top + 1.7}, orb.Point{inlet - 1.5, top + 1.7}, orb.Point{inlet - 1.5, top - 0.6}, orb.Point{inlet - 1.35, top - 1})
	d.shape(cutPen, solid, orb.Point{inlet - 2, top + 1.7}, orb.Point{inlet + 2, top + 1.7}, orb.Point{inlet + 1.8, top + 2.7}, orb.Point{inlet + 0.8, top + 3.4}, orb.Point{inlet - 0.8, top + 3.4}, orb.Point{inlet - 1.8, top + 2.7})
	d.line(axisPen, orb.Point{-9, top}, orb.Point{11.5, top})
	d.tell(inlet+0.9, top+2.9, "Bonnet free: it spits as it fills")
	// Seals that show where water goes.
	if low := top - 7.5; !atmospheric {
		d.union(inlet, top-3.6, 90, od)
		d.ballValve(inlet, max(low, 1.8), 90, od)
		d.ballValve(0.6, top, 0, od)
		d.union(4.4, top, 0, od)
		d.cock(inlet-1.5, top-0.2, 180)
		d.cock(inlet+1.9, top-0.95, 270)
		d.tellLeft(inlet-2.3, top-0.2, "Test cocks, closed: for the tester alone")
		d.tellLeft(inlet-1, max(low, 1.8), "Inlet shut-off, full bore")
		d.tell(0.9, top+1, "Outlet shut-off")
		d.tell(4.7, top-0.6, "Unions on both sides")
		d.tellLeft(inlet, y+a.out.outside+2.5, b.beforeWords())
	} else {
		d.tellLeft(inlet, min(top-4, 2.5), "From the zone valve: one breaker after each; no shut-off behind it")
	}
	port := min(max(top*0.45, 3.2), top-4)
	if b.p.Supply.Freeze == "blow_out" && !atmospheric && top > 8 {
		d.rect(seenPen, plastic, outlet-od/2-0.25, port-1, outlet+od/2+0.25, port+1)
		d.collar(outlet+od/2+0.9, port, 0, 1.4, 0.95, plastic)
		d.collar(outlet+od/2+1.8, port, 0, 0.6, 1.4, solid)
		d.tell(outlet+od/2+1.8, port, "Blow-out port, capped, after the device")
	}
	d.tell(9.6, y+od/4, a.out.name)
	if b.p.Supply.BackflowAt != nil || top > 14 {
		d.strap(inlet, 0.35*top+1.5, od)
		d.strap(outlet, 0.2*top+1.2, od)
	}
	b.heights(d, a, "Critical level")
}

// levelAssembly is a reduced-pressure or double check assembly, level between two legs.
func (b *builder) levelAssembly(d *detail, a assembly, y float64) {
	od := a.out.outside
	relief := a.kind == catalog.ReducedPressure
	axis := a.stands
	if relief {
		axis += 3.2 // the opening stands under the body
	}
	inlet, outlet := -10.6, 10.4
	d.box.Max[1] = max(d.box.Max[1], axis+6)
	d.tube(cutPen, plastic, od, orb.Point{-13, y}, orb.Point{inlet, y}, orb.Point{inlet, axis}, orb.Point{outlet, axis}, orb.Point{outlet, y}, orb.Point{13.8, y})
	for _, x := range []float64{inlet, outlet} {
		d.collar(x, y+0.9, 90, 0.6, od+0.4, plastic)
		d.collar(x, axis-0.9, 90, 0.6, od+0.4, plastic)
	}
	d.ballValve(-7.2, axis, 0, od)
	d.ballValve(7.2, axis, 0, od)
	d.union(-9.2, axis, 0, od)
	d.union(9.1, axis, 0, od)
	d.shape(cutPen, drawing.White, orb.Point{-5.6, axis - 1}, orb.Point{5.6, axis - 1}, orb.Point{6, axis}, orb.Point{5.6, axis + 1}, orb.Point{4.6, axis + 2.1}, orb.Point{2.2, axis + 2.1}, orb.Point{1.4, axis + 1.1}, orb.Point{-1.4, axis + 1.1},
		orb.Point{-2.2, axis + 2.1}, orb.Point{-4.6, axis + 2.1}, orb.Point{-5.6, axis + 1}, orb.Point{-6, axis})
	for _, x := range []float64{-5.2, -1.3, 1.3, 5.2} {
		d.cock(x, axis+1.1, 90)
	}
	if relief {
		d.shape(cutPen, drawing.White, orb.Point{-1.6, axis - 1}, orb.Point{1.6, axis - 1}, orb.Point{1.2, axis - 2.2}, orb.Point{0.8, axis - 3.2}, orb.Point{-0.8, axis - 3.2}, orb.Point{-1.2, axis - 2.2})
		d.line(seenPen, orb.Point{-2, axis - 5.2}, orb.Point{-0.9, axis - 6.6}, orb.Point{-0.9, 0.4})
		d.line(seenPen, orb.Point{2, axis - 5.2}, orb.Point{0.9, axis - 6.6}, orb.Point{0.9, 0.4})
		d.tell(0.8, axis-2.8, "Relief opening: it drops water when it must; leave air between it and any drain")
	}
	d.tellLeft(-7.4, axis+0.4, "Inlet shut-off, full bore")
	d.tellLeft(inlet, y+od+2.5, b.beforeWords())
	d.tell(7.3, axis+0.7, "Outlet shut-off")
	d.tell(5, axis+1.9, "Four test cocks, closed: for the tester alone")
	d.tell(9.2, axis-0.7, "Unions on both sides")
	port := axis * 0.45
	if b.p.Supply.Freeze == "blow_out" {
		d.rect(seenPen, plastic, outlet-od/2-0.25, port-1, outlet+od/2+0.25, port+1)
		d.collar(outlet+od/2+0.9, port, 0, 1.4, 0.95, plastic)
		d.collar(outlet+od/2+1.8, port, 0, 0.6, 1.4, solid)
		d.tell(outlet+od/2+1.8, port, "Blow-out port, capped, after the device")
	}
	d.tell(12.6, y+od/4, a.out.name)
	if relief {
		d.line(hiddenPen, orb.Point{-13, a.stands}, orb.Point{-0.8, a.stands})
	}
	b.heights(d, a, "")
}

// heights measures how high a device stands, over its own ground and over that of the
// highest head.
func (b *builder) heights(d *detail, a assembly, what string) {
	k := max(1, min(a.stands/24, 6))
	text := b.sys.Length(units.Feet(a.stands / 12))
	if !a.given && a.above == 0 {
		text += practiceMark
	}
	left, right := d.box.Min[0]+2.6*k, d.box.Max[0]
	d.upright(left, 0, a.stands, left-1.1*k, text+"| above its ground")
	if what != "" {
		d.tell(right-0.3, a.stands, what)
	}
	if a.above == 0 || a.head == "" || a.highest < 1 {
		return
	}
	d.line(hiddenPen, orb.Point{left, a.highest}, orb.Point{right, a.highest})
	d.tellLeft(left+1, a.highest, "Level of the ground at "+a.head+", the highest")
	d.upright(2.7, a.highest, a.stands, 2.7, b.sys.Length(units.Feet((a.stands-a.highest)/12)))
}

// beforeWords is what pipe may stand before the device.
func (b *builder) beforeWords() string {
	if !b.p.Supply.Kind.Drunk() {
		return "Pipe from the supply"
	}
	return "Before the device: pipe rated for drinking water only"
}

func (b *builder) backflowNotes(a assembly) []string {
	var out []string
	if !a.chosen {
		out = append(out, "No device is chosen on the plan: this is an example. The water supplier and local code say which kind it may be.")
	}
	need, ok := pressure.BreakerHeight(b.p)
	switch {
	case ok && a.given && pressure.TooLow(*b.p.Supply.BackflowHeightFt, need.Need):
		out = append(out, fmt.Sprintf("TOO LOW as planned: %s is needed, %s above the ground of %s.", b.sys.Length(need.Need), b.inches(a.above), a.head))
	case ok:
		out = append(out, fmt.Sprintf("The critical level stands at least %s above the highest outlet, heads down, and above all pipe after it.", b.inches(a.above)))
	case a.kind == catalog.ReducedPressure:
		out = append(out, b.fixed("The relief opening stands at least {12 in} above ground and above any water that may stand there."))
	case a.kind == catalog.AtmosphericBreaker:
		out = append(out, b.fixed("The critical level stands at least {6 in} above the highest outlet of its zone."))
	case a.kind != catalog.DoubleCheck:
		out = append(out, b.fixed("The critical level stands at least {12 in} above the highest outlet, heads down, and above all pipe after it."))
	default:
		out = append(out, "Used only where the water supplier allows it.")
	}
	if a.kind == catalog.AtmosphericBreaker {
		out = append(out, "It stands under pressure no longer than 12 hours in 24.")
	} else {
		out = append(out, "Tested by a licensed tester before it is used, and every year.")
	}
	if f := b.p.Supply.Freeze; f != "" && f != "none" {
		out = append(out, "An insulated cover keeps light frost off; it does not take the place of draining.")
	}
	return append(out, "PVC in the sun turns brittle: above ground use copper, brass or steel, or paint and cover it as local code allows.")
}

// ballValve is a shut-off seen from the side, along a direction.
func (d *detail) ballValve(x, y, dirDeg, pipe float64) {
	d.collar(x, y, dirDeg, 2.2, pipe+0.3, drawing.White)
	u, v := polar(0.85, dirDeg)
	d.collar(x-u, y-v, dirDeg, 0.6, pipe+0.6, drawing.White)
	d.collar(x+u, y+v, dirDeg, 0.6, pipe+0.6, drawing.White)
	// Its lever, along the pipe: open.
	n, m := polar(pipe/2+0.55, dirDeg+90)
	d.line(cutPen, orb.Point{x + n*0.5, y + m*0.5}, orb.Point{x + n, y + m}, orb.Point{x + n + 2.1*u, y + m + 2.1*v})
}

// cock is a test cock that stands off a body in a direction.
func (d *detail) cock(x, y, dirDeg float64) {
	u, v := polar(1, dirDeg)
	d.collar(x+0.45*u, y+0.45*v, dirDeg, 0.9, 0.4, drawing.White)
	d.collar(x+0.75*u, y+0.75*v, dirDeg, 0.3, 0.7, solid)
}

// strap is where a leg is held to what stands behind it.
func (d *detail) strap(x, y, pipe float64) {
	d.rect(seenPen, solid, x-pipe/2-0.7, y-0.3, x+pipe/2+0.7, y+0.3)
	d.rect(finePen, plastic, x-pipe/2, y-0.3, x+pipe/2, y+0.3)
}
