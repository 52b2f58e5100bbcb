package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// quantity is what a number measures, and so how it is shown in a sentence.
type quantity int

const (
	plain quantity = iota
	whole
	feet
	inches
	psi
	gpm
	fps
	gallons
	seconds
	degrees
	share
	mph
)

// show prints a number of the quantity in the plan's units.
func (q quantity) show(sys units.System, v float64) string {
	switch q {
	case feet:
		return sys.Length(units.Feet(v))
	case inches:
		return sys.Inches(units.Inches(v))
	case psi:
		return sys.Pressure(units.PSI(v))
	case gpm:
		return sys.Flow(units.GPM(v))
	case fps:
		return sys.Velocity(units.FeetPerSecond(v))
	case gallons:
		return sys.Volume(units.Gallons(v))
	case seconds:
		return sys.Time(units.Seconds(v))
	case mph:
		return sys.Speed(units.MPH(v))
	case degrees:
		return strconv.FormatFloat(v, 'g', -1, 64) + "°"
	}
	if math.Abs(v) < 1e15 {
		return strconv.FormatFloat(v, 'f', -1, 64) // no 1e+08
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// span is the range a number may lie in. The ends belong to it unless open.
type span struct {
	low, high         float64
	openLow, openHigh bool
	in                quantity
}

func (r span) holds(v float64) bool {
	return (v > r.low || v == r.low && !r.openLow) && (v < r.high || v == r.high && !r.openHigh)
}

// limits says the range in words: "more than 0 psi and at most 300 psi".
func (r span) limits(sys units.System) string {
	low, high := r.in.show(sys, r.low), r.in.show(sys, r.high)
	from, to := "at least "+low, "at most "+high
	if r.openLow {
		from = "more than " + low
	}
	if r.openHigh {
		to = "less than " + high
	}
	return from + " and " + to
}

// The ranges of the document's numbers. They are chosen: wide enough for any
// property, narrow enough that no figure computed from them overflows and a
// slipped decimal point is told. A zero that is allowed next to "more than"
// means "not given" and is left out when written.
var (
	place10km = span{low: -32_808, high: 32_808, in: feet} // 10 km either way
	latitude  = span{low: -90, high: 90, in: degrees}
	longitude = span{low: -180, high: 180, in: degrees}
	aboveSea  = span{low: -1_500, high: 30_000, in: feet}
	level     = span{low: -10_000, high: 10_000, in: feet}
	turn      = span{low: -360, high: 360, openLow: true, openHigh: true, in: degrees}
	direction = span{low: 0, high: 360, openHigh: true, in: degrees}
	windSpeed = span{low: 0, high: MostWindMPH, in: mph}
	sweep     = span{low: 0, high: 360, in: degrees} // 0 only where there is no arc
	lip       = span{low: 0, high: 10, in: feet}
	keptOff   = span{low: 0, high: 100, in: feet} // by local rules
	cell      = span{low: 0, high: 10, in: feet}
	height    = span{low: 0, high: 1_000, openLow: true, in: feet}
	trunk     = span{low: 0, high: 400, openLow: true, in: inches}
	radius    = span{low: 0, high: 300, in: feet}
	tieLength = span{low: 0, high: 100_000, openLow: true, in: feet}
	throw     = span{low: 0, high: 250, openLow: true, in: feet}
	setBack   = span{low: 0, high: 100, in: feet}
	mowing    = span{low: 0, high: 24, in: inches}
	slope     = span{low: 0, high: 5, in: share}
	pressure  = span{low: 0, high: 300, in: psi}
	// readPressure is what a gauge showed.
	readPressure = span{low: 0, high: 300, openLow: true, in: psi}
	// deviceHeight is how high a backflow device stands; below ground for one in a box.
	deviceHeight = span{low: -20, high: 100, in: feet}
	flow         = span{low: 0, high: 10_000, in: gpm}
	pipeSizeOr0  = span{low: 0, high: 48, in: inches}
	pipeLength   = span{low: 0, high: 32_808, in: feet}
	velocity     = span{low: 0, high: float64(units.MaxVelocity), in: fps}
	container    = span{low: 0, high: float64(units.MaxVolume), in: gallons}
	fillTime     = span{low: 0, high: float64(units.MaxTime), in: seconds}
	hourOfDay    = span{low: 0, high: 23, in: whole}
	monthOfYear  = span{low: 0, high: 12, in: whole}
	terminals    = span{low: 0, high: 500, in: whole}
	weekly       = span{low: 0, high: 20, in: inches}
	monthET      = span{low: 0, high: 30, in: inches}
	monthRain    = span{low: 0, high: 400, in: inches}
	warmth       = span{low: -130, high: 140} // °F
	etZones      = span{low: 0, high: 18, in: whole}
	everyDays    = span{low: 0, high: 31, in: whole}
	weatherLines = span{low: 0, high: 20_000, in: whole}
	vapour       = span{low: 0, high: 20} // kPa
	sunshine     = span{low: 0, high: 50} // MJ/m² a day
	netSunshine  = span{low: -50, high: 50}
	windSpeed2m  = span{low: 0, high: 500, in: mph}
	dayET        = span{low: -10, high: 10, in: inches}
	plantFactor  = span{low: 0, high: 1.5, in: share}
	placeFactor  = span{low: 0, high: 2, in: share}
	rootDepth    = span{low: 0, high: 240, in: inches}
	wholeShare   = span{low: 0, high: 1, in: share}
	programsHeld = span{low: 0, high: 20, in: whole}
	startsHeld   = span{low: 0, high: 40, in: whole}
	uniformity   = span{low: 0, high: 1, openLow: true, in: share}
	opacity      = span{low: 0, high: 1, in: share}
	runMinutes   = span{low: 0, high: 1_440}
	catchML      = span{low: 0, high: 100_000}
	throat       = span{low: 0, high: 1_000} // square inches
	inOrder      = span{low: 0, high: 100_000, in: whole}
	resistance   = span{low: 0, high: 1e8} // ohms
	heldMinutes  = span{low: 0, high: 100_000}
	catchDepth   = span{low: 0, high: 100, in: inches}
	tilt         = span{low: 0, high: 90, in: degrees}
	depthUnder   = span{low: 0, high: 240, in: inches}
	wireGauge    = span{low: 0, high: 18, in: whole} // AWG; 0: not chosen
	money        = span{low: 0, high: 1e8}
	markUp       = span{low: 0, high: 10, in: share}
	rentalDays   = span{low: 0, high: 1_000}
	overGround   = span{low: 0, high: 1_000, in: feet}
	pictureRes   = span{low: 0, high: 1_000, openLow: true}
	pictureSide  = span{low: 0, high: MaxPictureSide, in: whole}
	picturePx    = span{low: 0, high: MaxPictureSide}
)

// words are the values a member may take.
type words []string

// The words of the document.
var (
	systems        = words{string(units.US), string(units.Metric)}
	statuses       = words{string(New), string(Existing), string(Remove)}
	areaKinds      = words{string(Planting), string(Building), string(Paving), string(Ground), string(RightOfWay), string(NoDig), string(Water)}
	covers         = words{string(Turf), string(Flowers), string(Shrubs), string(Groundcover), string(Vegetables), string(TreeBed)}
	soils          = words{"sand", "loamy_sand", "sandy_loam", "loam", "silt_loam", "clay_loam", "clay"}
	exposures      = words{string(Sun), string(PartShade), string(Shade)}
	waterings      = words{string(Overhead), string(PointSource), string(ByHand), string(NoWatering)}
	barrierKinds   = words{string(Wall), string(Fence), string(Hedge)}
	supplyKinds    = words{string(TownMeter), string(HousePipe), string(Well), string(Pond), string(Reclaimed)}
	ranks          = words{string(Stop), string(Mend), string(Notice)}
	freezeKinds    = words{"none", "blow_out", "manual_drain", "automatic_drain"}
	pushBacks      = words{"pump", "second_source"}
	measuredPlaces = words{"connection", "outside_tap", "hydrant"}
	meterDials     = words{"still", "moved"}
	canScales      = words{"volume", "depth"}
	runWhens       = words{"start_up", "before", "after", "check"}
	gaugePlaces    = words{"head", "valve", "tap"}
	headFaults     = words{Tilted, Sunk, Blocked, Worn, Leaking, Stuck, WrongNozzle, OffTarget, Hidden}
	tapPlaces      = words{"before_regulator", "after_regulator"}
	pipeMaterials  = words{string(catalog.PVC), string(catalog.PE), string(catalog.Copper), string(catalog.Steel)}
	pipeJoints     = words{"cement", "insert", "solder", "thread"}
	deviceKinds    = words{string(catalog.Meter), string(catalog.Isolation), string(catalog.Backflow), string(catalog.ZoneValve), string(catalog.MasterValve), string(catalog.Filter), string(catalog.SwingJoint)}
	backflowKinds  = words{string(catalog.PressureBreaker), string(catalog.SpillResistantBreaker), string(catalog.AtmosphericBreaker), string(catalog.DoubleCheck), string(catalog.ReducedPressure)}
	nodeKinds      = words{"joint", "valve", "head", "connection", "backflow", "drain"}
	wireLays       = words{"trench", "building"}
	cables         = words{"single", "multi"}
	sleeveLoads    = words{"pipe", "wire", "spare"}
	sleeveMethods  = words{"before_paving", "water_bore", "saw_cut", "other_bore"}
	taxed          = words{"parts", "all"}
	sensorKinds    = words{"rain", "flow", "soil"}
	turfKinds      = words{"cool", "warm"}
	stages         = words{Established, NewSod, Sown}
	targets        = words{ByMultiplier, ByLowQuarter, ByMean}
	adjustments    = words{"percent", "none"}
	weekdays       = words{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}
	nozzleFamilies = words{"spray", "stream", "rotor", "strip"}
	profileKinds   = words{"linear", "flat", "table"}
)

func (w words) has(s string) bool { return slices.Contains(w, s) }

// list says the words in a sentence: "wall, fence or hedge".
func (w words) list() string {
	n := len(w) - 1
	return fmt.Sprintf("%s or %s", strings.Join(w[:n], ", "), w[n])
}
