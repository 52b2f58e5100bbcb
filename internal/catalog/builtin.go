package catalog

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"sync"

	"evenfall/internal/units"
)

// genericSource is what the built-in rows say of themselves.
const genericSource = "Evenfall's generic set: common practice, made to behave like its family; no maker's figures"

// Entry is a nozzle with the id it has in the catalogue. Ids keep to letters,
// digits, - and _, so that a plan may use them as they are; in them a decimal
// point is written _.
type Entry struct {
	ID string `json:"id"`
	Nozzle
	Metric string `json:"-"` // a built-in row's name in metric plans; see NameIn
}

// BodyEntry is a body with the id it has in the catalogue.
type BodyEntry struct {
	ID string `json:"id"`
	Body
	Metric string `json:"-"` // a built-in row's name in metric plans; see NameIn
}

// entry is a built-in nozzle under its names.
func entry(id string, name naming, n Nozzle) Entry {
	n.Name = name(units.US)
	n.Low = builtinLow()
	return Entry{id, n, name(units.Metric)}
}

// Nozzles returns the built-in nozzles, sorted by id. The caller owns the
// slice, but not the rows inside: copy before changing them.
func Nozzles() []Entry { return append([]Entry(nil), builtinNozzles()...) }

// FindNozzle returns the built-in nozzle of an id.
func FindNozzle(id string) (Nozzle, bool) {
	all := builtinNozzles()
	i := sort.Search(len(all), func(i int) bool { return all[i].ID >= id })
	if i == len(all) || all[i].ID != id {
		return Nozzle{}, false
	}
	return all[i].Nozzle, true
}

var builtinNozzles = sync.OnceValue(func() []Entry {
	var all []Entry
	all = append(all, sprays()...)
	all = append(all, strips()...)
	all = append(all, streams()...)
	all = append(all, rotors()...)
	sort.Slice(all, func(i, j int) bool { return all[i].ID < all[j].ID })
	return all
})

// What the families are planned at: head-to-head rates in inches an hour, and
// the pressures of the rows with the best one. Common practice: sprays about
// 1.5-2 in/h, streams 0.4-0.6 in/h; sprays run best at 30 psi, streams at 40,
// gear rotors at 45.
const (
	sprayRate  units.InchesPerHour = 1.6
	streamRate units.InchesPerHour = 0.42

	sprayBest  units.PSI = 30
	streamBest units.PSI = 40
	rotorBest  units.PSI = 45
)

var (
	sprayBand  = []units.PSI{20, 25, 30, 35, 40, 45} // past 40 a spray mists
	streamBand = []units.PSI{30, 35, 40, 45, 50, 55}
	rotorBand  = []units.PSI{30, 35, 40, 45, 50, 55, 60, 65}
)

// throwPower is the power of the pressure a throw grows by, 0.25-0.3 in
// practice (chosen within it).
const throwPower = 0.28

// The threads that decide which body takes which nozzle.
const (
	SprayThread = "spray" // spray, strip and stream nozzles
	RotorThread = "rotor" // nozzles that clip into a gear-driven rotor
)

// arcName is one of the fixed arcs, as it is asked for at the counter.
type arcName struct {
	code, name string
	sweep      units.Degrees
}

var fixedArcs = []arcName{
	{"q", "quarter", 90},
	{"t", "third", 120},
	{"h", "half", 180},
	{"tt", "two-thirds", 240},
	{"tq", "three-quarter", 270},
	{"f", "full", 360},
}

// fullCircle is the full circle's flow of a nozzle of the given throw at a
// head-to-head rate: q = rate·R²/96.25, with 96.25 = 60·231/144 (in³ in a
// gallon over in² in a square foot).
func fullCircle(rate units.InchesPerHour, throw units.Feet) float64 {
	return float64(rate) * float64(throw*throw) / 96.25
}

// rows makes a table over the band from the throw and flow at the best
// pressure. Flow follows the orifice law q ∝ √p, to a thousandth of a gpm.
// Throw grows by throwPower, to a quarter foot. A spray's or stream's size is
// its greatest throw: past the best pressure (grows false) more pressure makes
// finer drops and no more distance.
func rows(band []units.PSI, best units.PSI, throw units.Feet, flow float64, grows bool) []Row {
	out := make([]Row, 0, len(band))
	for _, p := range band {
		over := float64(p / best)
		far := float64(throw) * math.Pow(over, throwPower)
		if !grows {
			far = min(far, float64(throw))
		}
		out = append(out, Row{
			Pressure: p,
			Throw:    units.Feet(math.Round(far*4) / 4),
			Flow:     units.GPM(math.Round(flow*math.Sqrt(over)*1000) / 1000),
		})
	}
	return out
}

// hundredth rounds a flow as tables print it.
func hundredth(q float64) float64 { return math.Round(q*100) / 100 }

// sprays are fixed and adjustable fans, 5 to 15 ft. A fixed nozzle's row is
// its own flow, an adjustable one's is the full circle's.
func sprays() []Entry {
	var out []Entry
	for _, size := range []units.Feet{5, 6, 8, 10, 12, 15} {
		full := hundredth(fullCircle(sprayRate, size))
		for _, a := range fixedArcs {
			if size < 8 && (a.code == "t" || a.code == "tt" || a.code == "tq") {
				continue // small sizes come in the common arcs only
			}
			n := spray(size, full*float64(a.sweep)/360)
			n.ArcLeast, n.ArcMost = a.sweep, a.sweep
			out = append(out, entry(fmt.Sprintf("spray-%g-%s", float64(size), a.code), sized("Spray", size, a.name), n))
		}
		n := spray(size, full)
		n.ArcLeast, n.ArcMost, n.FlowFollowsArc = 1, 360, true
		out = append(out, entry(fmt.Sprintf("spray-%g-adj", float64(size)), sized("Spray", size, "adjustable"), n))
	}
	return out
}

// sized names a nozzle by its throw: "Spray 10 ft, quarter".
func sized(family string, throw units.Feet, which string) naming {
	return func(sys units.System) string { return family + " " + sys.NominalLength(throw) + ", " + which }
}

// spray is one fan. Turned down, its flow falls only as its throw does, so its
// rate rises: 10 ft set to 7 ft waters 49 % of the ground with 70 % of the
// flow, 1.43 times the rate.
func spray(size units.Feet, flow float64) Nozzle {
	trajectory := units.Degrees(28)
	if size < 8 {
		trajectory = 15
	}
	return Nozzle{
		Family: Spray, Generic: true, Source: genericSource,
		Trajectory: trajectory, Profile: Profile{Kind: ProfileLinear},
		TurnDown: TurnDown{UsualShare: 0.75, LeastShare: 0.5, FlowPower: 1},
		BestPSI:  sprayBest, Rows: rows(sprayBand, sprayBest, size, flow, false),
		Thread: SprayThread,
	}
}

// behindStrip is the ground a strip nozzle wets behind its own line: 0.4 ft
// (5 in), the usual set-back of an edge head.
const behindStrip units.Feet = 0.4

// strips wet a rectangle 4, 5 or 6 ft wide, 15 ft long to each side they throw
// to, all at one rate: the flow goes with the width.
func strips() []Entry {
	var out []Entry
	for _, wide := range []units.Feet{6, 5, 4} {
		suffix := ""
		if wide != 6 {
			suffix = fmt.Sprintf("-w%g", float64(wide))
		}
		out = append(out, stripsOf(wide, suffix)...)
	}
	return out
}

// stripsOf is the set of one width.
func stripsOf(wide units.Feet, suffix string) []Entry {
	near, far, half := behindStrip, wide-behindStrip, wide/2
	kinds := []struct {
		id, name string
		long     int
		shape    StripShape
	}{
		{"strip-end-left-15", "end, strip to the left", 15, StripShape{Ahead: true, Left: far, Right: near}},
		{"strip-end-right-15", "end, strip to the right", 15, StripShape{Ahead: true, Left: near, Right: far}},
		{"strip-end-15", "end, from the middle", 15, StripShape{Ahead: true, Left: half, Right: half}},
		{"strip-side-30", "side", 30, StripShape{Ahead: true, Back: true, Left: far, Right: near}},
		{"strip-centre-30", "centre", 30, StripShape{Ahead: true, Back: true, Left: half, Right: half}},
	}
	var out []Entry
	for _, k := range kinds {
		flow := hundredth(0.65 * float64(wide) / 6 * float64(k.long) / 15) // 1.39 in/h
		n := spray(15, flow)
		n.Family, n.Strip = Strip, &k.shape
		name := func(sys units.System) string {
			across, unit, _ := strings.Cut(sys.NominalLength(wide), " ")
			long, _, _ := strings.Cut(sys.NominalLength(units.Feet(k.long)), " ")
			return fmt.Sprintf("Strip %s x %s %s, %s", across, long, unit, k.name)
		}
		out = append(out, entry(k.id+suffix, name, n))
	}
	return out
}

// streams are multi-stream nozzles of 16, 20 and 25 ft in three arc classes.
// Turned down, the flow falls with the square of the throw: they keep their
// rate, which is what they are bought for.
func streams() []Entry {
	classes := []struct {
		suffix, name string
		least, most  units.Degrees
	}{
		{"", "90° to 210°", 90, 210},
		{"-270", "210° to 270°", 210, 270},
		{"-360", "full", 360, 360},
	}
	var out []Entry
	for _, size := range []units.Feet{16, 20, 25} {
		flow := hundredth(fullCircle(streamRate, size))
		for _, c := range classes {
			out = append(out, entry(fmt.Sprintf("stream-%g%s", float64(size), c.suffix), sized("Stream", size, c.name), Nozzle{
				Family: Stream, Generic: true, Source: genericSource,
				ArcLeast: c.least, ArcMost: c.most, FlowFollowsArc: c.least != c.most,
				Trajectory: 25, Profile: Profile{Kind: ProfileLinear},
				TurnDown: TurnDown{UsualShare: 0.75, LeastShare: 0.5, FlowPower: 2},
				BestPSI:  streamBest, Rows: rows(streamBand, streamBest, size, flow, false),
				Thread: SprayThread,
			}))
		}
	}
	return out
}

// rotors are gear-driven single streams, 28 to 45 ft. The number of a rotor
// nozzle is its flow in gpm at the best pressure, and the flow stays what it is
// whatever the arc: for one rate all over, a quarter takes the first nozzle of
// its size, a half the second, three quarters the third, a full circle the
// fourth.
func rotors() []Entry {
	var out []Entry
	for _, r := range []struct{ size, quarter float64 }{
		{28, 0.65}, {30, 0.75}, {35, 1.0}, {40, 1.3}, {45, 1.65},
	} {
		for parts := 1.0; parts <= 4; parts++ {
			flow := hundredth(r.quarter * parts)
			number := plain(flow)
			name := func(sys units.System) string {
				return sized("Rotor", units.Feet(r.size), sys.NominalFlow(units.GPM(flow))+" nozzle")(sys)
			}
			out = append(out, entry(fmt.Sprintf("rotor-%g-%s", r.size, strings.ReplaceAll(number, ".", "_")), name, Nozzle{
				Family: Rotor, Generic: true, Source: genericSource,
				ArcLeast: 40, ArcMost: 360,
				Trajectory: 25, Profile: Profile{Kind: ProfileLinear},
				TurnDown: TurnDown{UsualShare: 0.75, LeastShare: 0.5, FlowPower: 0},
				BestPSI:  rotorBest, Rows: rows(rotorBand, rotorBest, units.Feet(r.size), flow, true),
				Thread: RotorThread,
			}))
		}
	}
	return out
}
