package catalog

import (
	"math"
	"sort"
	"strconv"
	"strings"
	"sync"

	"evenfall/internal/units"
)

// DeviceEntry is a device with the id it has in the catalogue.
type DeviceEntry struct {
	ID string `json:"id"`
	Device
	Metric string `json:"-"` // a built-in row's name in metric plans; see NameIn
}

// Devices returns the built-in devices, sorted by id. The caller owns the slice,
// but not the curves inside: copy before changing them.
func Devices() []DeviceEntry { return append([]DeviceEntry(nil), builtinDevices()...) }

// FindDevice returns the built-in device of an id.
func FindDevice(id string) (Device, bool) {
	all := builtinDevices()
	i := sort.Search(len(all), func(i int) bool { return all[i].ID >= id })
	if i == len(all) || all[i].ID != id {
		return Device{}, false
	}
	return all[i].Device, true
}

// LossAt is the pressure a device takes at a flow. From nothing at no flow to the
// first point, and from point to point, it grows with the square of the flow, as
// losses in turbulent flow do. Past the last point it goes on by that square
// through the last point and known is false: its table says nothing there.
func (d Device) LossAt(q units.GPM) (loss units.PSI, known bool) {
	if q < 0 {
		loss, known = d.LossAt(-q)
		return -loss, known
	}
	from := LossPoint{}
	for _, to := range d.Loss {
		if q <= to.Flow {
			part := float64(q*q-from.Flow*from.Flow) / float64(to.Flow*to.Flow-from.Flow*from.Flow)
			return units.PSI(between(float64(from.Loss), float64(to.Loss), part)), true
		}
		from = to
	}
	if from.Flow == 0 {
		return 0, false
	}
	over := float64(q / from.Flow)
	return units.PSI(float64(from.Loss) * over * over), false
}

// replaceSource is what a curve says that no table stands behind.
const replaceSource = "A default to replace by the maker's curve: from memory of common practice, no citable figure"

var builtinDevices = sync.OnceValue(func() []DeviceEntry {
	var all []DeviceEntry
	all = append(all, meters()...)
	all = append(all, isolations()...)
	all = append(all, backflows()...)
	all = append(all, valves()...)
	all = append(all, others()...)
	sort.Slice(all, func(i, j int) bool { return all[i].ID < all[j].ID })
	return all
})

// device is a built-in device of one nominal size: its id ends in the size and
// its name in it as people say it.
func device(id, name string, nominal units.Inches, suffix string, d Device) DeviceEntry {
	d.Generic, d.Nominal = true, nominal
	d.Name = name + " " + units.US.PipeSize(nominal)
	size := strings.ReplaceAll(strconv.FormatFloat(float64(nominal), 'f', -1, 64), ".", "_")
	return DeviceEntry{ID: id + "-" + size + suffix, Device: d, Metric: name + " " + units.Metric.PipeSize(nominal)}
}

const meterSource = "AWWA standard pressure loss of displacement meters, as reprinted on a one-page table; its last row is the greatest safe flow"

// meters are displacement meters. Their curves end at the safe flow.
func meters() []DeviceEntry {
	points := func(flowThenLoss ...float64) []LossPoint {
		var out []LossPoint
		for i := 0; i < len(flowThenLoss); i += 2 {
			out = append(out, LossPoint{units.GPM(flowThenLoss[i]), units.PSI(flowThenLoss[i+1])})
		}
		return out
	}
	var out []DeviceEntry
	for _, m := range []struct {
		nominal units.Inches
		safe    units.GPM
		loss    []LossPoint
	}{
		{.625, 20, points(4, .6, 6, 1.3, 8, 2.3, 10, 3.7, 12, 5.1, 14, 7.2, 15, 8.3, 16, 9.4, 18, 12, 20, 15)},
		{.75, 30, points(4, .5, 6, .7, 8, 1, 10, 1.6, 12, 2.2, 14, 3.1, 15, 3.6, 16, 4.1, 18, 5.2, 20, 6.5, 24, 9.5, 28, 13, 30, 15)},
		{1, 50, points(4, .1, 6, .3, 8, .5, 10, .7, 12, .9, 14, 1.1, 15, 1.2, 16, 1.4, 18, 1.8, 20, 2.2, 24, 3.4, 28, 4.6, 30, 5.3, 36, 7.8, 40, 9.6, 50, 15)},
		{1.5, 100, points(16, .4, 18, .6, 20, .8, 24, 1.2, 28, 1.6, 30, 1.8, 36, 2.7, 40, 3.3, 50, 4.9, 60, 7.2, 80, 12.8, 100, 20)},
		{2, 160, points(30, .7, 36, 1, 40, 1.3, 50, 1.9, 60, 2.7, 80, 4.9, 100, 7.8, 120, 11.3, 160, 20)},
	} {
		out = append(out, device("meter", "Water meter", m.nominal, "", Device{Kind: Meter, Source: meterSource, MostGPM: m.safe, Loss: m.loss}))
	}
	return out
}

// deviceSizes are the sizes the other devices are made in.
var deviceSizes = []units.Inches{.75, 1, 1.25, 1.5, 2}

// scaled is a 1 in curve for another size: the same losses at the same velocity,
// so at flows that grow with the area. Chosen, for want of tables.
func scaled(oneInch []LossPoint, nominal units.Inches) []LossPoint {
	out := make([]LossPoint, len(oneInch))
	for i, p := range oneInch {
		out[i] = LossPoint{units.GPM(math.Round(float64(p.Flow*units.GPM(nominal*nominal))*10) / 10), p.Loss}
	}
	return out
}

// isolations are valves to shut the system off by.
func isolations() []DeviceEntry {
	var out []DeviceEntry
	for _, size := range deviceSizes {
		out = append(out, device("isolation-ball", "Ball valve", size, "", Device{
			Kind: Isolation, Source: replaceSource + "; a full-port valve takes less", Replace: true,
			MostPSI: 200, Loss: scaled([]LossPoint{{12, .3}, {25, 1.3}}, size),
		}))
		inside := isolationInside[size]
		// 0.2 velocity heads at 5 ft/s.
		at5 := units.GPM(math.Round(5*float64(inside*inside)/0.4085*10) / 10)
		v := 0.4085 * float64(at5) / float64(inside*inside)
		loss := math.Round(0.2*v*v/64.348*0.4333*1e4) / 1e4
		out = append(out, device("isolation-gate", "Gate valve", size, "", Device{
			Kind: Isolation, Source: "0.2 velocity heads fully open: EPANET 2.2 manual, minor loss coefficients", MostPSI: 200,
			Loss: []LossPoint{{at5, units.PSI(loss)}},
		}))
	}
	return out
}

// isolationInside is the bore a gate valve is reckoned with: that of iron pipe.
var isolationInside = map[units.Inches]units.Inches{.75: .824, 1: 1.049, 1.25: 1.380, 1.5: 1.610, 2: 2.067}

// backflows are the devices that keep a yard's water out of what people drink.
// Their springs take a few psi as soon as anything flows.
func backflows() []DeviceEntry {
	kinds := []struct {
		id, name string
		kind     BackflowKind
		loss     []LossPoint
	}{
		{"backflow-pvb", "Pressure vacuum breaker", PressureBreaker, []LossPoint{{2, 2.5}, {5, 2.8}, {10, 3.3}, {12, 3.5}, {15, 4}, {20, 5}, {30, 7.8}}},
		{"backflow-svb", "Spill-resistant vacuum breaker", SpillResistantBreaker, []LossPoint{{2, 3}, {5, 3.3}, {10, 3.8}, {12, 4}, {15, 4.6}, {20, 5.8}, {30, 9}}},
		{"backflow-avb", "Atmospheric vacuum breaker", AtmosphericBreaker, []LossPoint{{2, .8}, {5, 1}, {10, 1.6}, {12, 2}, {15, 2.7}, {20, 4.2}, {30, 9}}},
		{"backflow-dc", "Double check assembly", DoubleCheck, []LossPoint{{2, 3}, {5, 3.5}, {12, 4.5}, {20, 5.5}, {30, 7.5}, {50, 12}}},
		{"backflow-rp", "Reduced-pressure assembly", ReducedPressure, []LossPoint{{2, 9.5}, {5, 10.5}, {12, 12}, {20, 13}, {30, 14}, {50, 18}}},
	}
	var out []DeviceEntry
	for _, k := range kinds {
		for _, size := range deviceSizes {
			out = append(out, device(k.id, k.name, size, "", Device{
				Kind: Backflow, Backflow: k.kind, Source: replaceSource, Replace: true, MostPSI: 150, Loss: scaled(k.loss, size),
			}))
		}
	}
	return out
}

// zoneLoss is a 1 in diaphragm valve: its spring takes some at any flow.
var zoneLoss = []LossPoint{{1, 1.5}, {5, 2}, {10, 2.6}, {12, 3}, {15, 3.7}, {20, 5}, {30, 9}}

// valves open zones. The low-flow one closes surely from a quarter gpm, with the
// filter it needs for it; the others need a few gpm to close by.
func valves() []DeviceEntry {
	var out []DeviceEntry
	for _, size := range []units.Inches{.75, 1, 1.5, 2} {
		least := units.GPM(math.Round(3 * float64(size*size)))
		most := units.GPM(math.Round(30 * float64(size*size)))
		d := Device{Kind: ZoneValve, Source: replaceSource, Replace: true, LeastGPM: least, MostGPM: most, LeastPSI: 15, MostPSI: 150, Loss: scaled(zoneLoss, size)}
		out = append(out, device("valve", "Zone valve", size, "", d))
		d.Kind = MasterValve
		out = append(out, device("master-valve", "Master valve", size, "", d))
	}
	return append(out, device("valve", "Low-flow zone valve", 1, "-low", Device{
		Kind: ZoneValve, Source: replaceSource, Replace: true, LeastGPM: .25, MostGPM: 15, LeastPSI: 15, MostPSI: 150, Loss: scaled(zoneLoss, 1)[:5],
	}))
}

// others are filters, and what stands under a head: a riser, swing pipe with its
// four elbows, and the body.
func others() []DeviceEntry {
	var out []DeviceEntry
	for _, size := range deviceSizes {
		out = append(out, device("filter-screen", "Screen filter", size, "", Device{
			Kind: Filter, Source: replaceSource + "; a clean screen", Replace: true, MostPSI: 150, Loss: scaled([]LossPoint{{12, 1}, {25, 4.3}}, size),
		}))
	}
	for _, j := range []struct {
		nominal units.Inches
		loss    []LossPoint
	}{{.5, []LossPoint{{3, 1}, {6, 4}}}, {.75, []LossPoint{{6, 1}, {12, 4}}}, {1, []LossPoint{{12, 1}, {25, 4.3}}}} {
		out = append(out, device("swing-joint", "Swing joint", j.nominal, "", Device{
			Kind: SwingJoint, Source: replaceSource + "; riser, swing pipe and body, 1 psi at 3 gpm in 1/2 in", Replace: true, Loss: j.loss,
		}))
	}
	return out
}
