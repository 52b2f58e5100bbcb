package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// head is all before the entities: units, extent, dashes and layers.
func (d *dxf) head(metric bool) string {
	h := &dxf{}
	units, measurement := 2, 0 // feet; dashes by the imperial tables
	if metric {
		units, measurement = 6, 1 // metres
	}
	ext := d.ext
	if ext.Min[0] > ext.Max[0] {
		ext = orb.Bound{}
	}
	variable := func(name string) { h.words(9, name) }
	h.section("HEADER")
	variable("$ACADVER")
	h.words(1, "AC1009")
	variable("$INSUNITS")
	h.whole(70, units)
	variable("$MEASUREMENT")
	h.whole(70, measurement)
	variable("$LUNITS")
	h.whole(70, 2) // decimal
	variable("$LUPREC")
	h.whole(70, 3)
	variable("$LTSCALE")
	h.real(40, 1)
	for _, v := range []struct {
		name string
		at   orb.Point
		deep bool
	}{{"$EXTMIN", ext.Min, true}, {"$EXTMAX", ext.Max, true}, {"$LIMMIN", ext.Min, false}, {"$LIMMAX", ext.Max, false}} {
		variable(v.name)
		h.real(10, v.at[0])
		h.real(20, v.at[1])
		if v.deep {
			h.real(30, 0)
		}
	}
	h.words(0, "ENDSEC")
	h.section("TABLES")
	h.table("LTYPE", 1+len(d.dashes))
	h.lineType("CONTINUOUS", "Solid line", nil)
	for i, pattern := range d.dashes {
		h.lineType(dashName(i), "Dashes of the sheet", pattern)
	}
	h.words(0, "ENDTAB")
	h.table("LAYER", len(d.layers))
	for _, l := range d.layers {
		if l.colour == 0 {
			l.colour = 7
		}
		h.words(0, "LAYER")
		h.words(2, l.valid)
		h.whole(70, 0)
		h.whole(62, l.colour)
		h.words(6, "CONTINUOUS")
	}
	h.words(0, "ENDTAB")
	h.table("STYLE", 1)
	h.words(0, "STYLE")
	h.words(2, "STANDARD")
	h.whole(70, 0)
	h.real(40, 0)
	h.real(41, 1)
	h.real(50, 0)
	h.whole(71, 0)
	h.real(42, 0.2)
	h.words(3, "txt")
	h.words(4, "")
	h.words(0, "ENDTAB")
	h.words(0, "ENDSEC")
	h.section("ENTITIES")
	return string(h.b)
}

func (d *dxf) section(name string) {
	d.words(0, "SECTION")
	d.words(2, name)
}

func (d *dxf) table(name string, entries int) {
	d.words(0, "TABLE")
	d.words(2, name)
	d.whole(70, entries)
}

func (d *dxf) lineType(name, about string, pattern []float64) {
	d.words(0, "LTYPE")
	d.words(2, name)
	d.whole(70, 0)
	d.words(3, about)
	d.whole(72, 'A')
	d.whole(73, len(pattern))
	sum := 0.0
	for _, v := range pattern {
		sum += v
	}
	d.real(40, sum)
	for i, v := range pattern {
		if i%2 == 1 {
			v = -v
		}
		d.real(49, v)
	}
}

// numbered are the colours of the release that ours are told by, from memory of its
// table: the first six are pure, every tenth from 10 to 240 is a step of 15° round the
// circle of colours and 4 past it half as bright, the last are greys.
var numbered = func() (out []struct {
	number  int
	r, g, b float64
}) {
	add := func(n int, r, g, b float64) {
		out = append(out, struct {
			number  int
			r, g, b float64
		}{n, r, g, b})
	}
	add(7, 0, 0, 0)
	for i, v := range []float64{132, 173, 214, 255} { // darker ones would not be seen on a black screen
		add(252+i, v, v, v)
	}
	for i, c := range [][3]float64{{255, 0, 0}, {255, 255, 0}, {0, 255, 0}, {0, 255, 255}, {0, 0, 255}, {255, 0, 255}} {
		add(1+i, c[0], c[1], c[2])
	}
	for i := range 24 {
		part := func(shift float64) float64 { // of a colour at this place of the circle
			hue := math.Mod(float64(i)*15+shift, 360)
			return 255 * min(max(math.Abs(hue-180)/60-1, 0), 1)
		}
		r, g, b := part(0), part(240), part(120)
		add(10+10*i, r, g, b)
		add(14+10*i, r/2, g/2, b/2)
	}
	return out
}()

// nearestColour is the number of the release's colour that is nearest to an ink.
func nearestColour(k Ink) int {
	r, g, b, draws := k.Parts()
	if !draws {
		return 7
	}
	best, at := math.Inf(1), 7
	for _, c := range numbered {
		dr, dg, db := float64(r)-c.r, float64(g)-c.g, float64(b)-c.b
		if d := dr*dr + dg*dg + db*db; d < best {
			best, at = d, c.number
		}
	}
	return at
}
