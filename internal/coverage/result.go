package coverage

import (
	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Result is what the water does on one plan: calm air, ideal nozzles, planned
// pressures. Slices are sorted by ID.
type Result struct {
	CellFt    units.Feet `json:"cell_ft"` // raster cell the figures were taken at
	LipFt     units.Feet `json:"edge_lip_ft"`
	WallLipFt units.Feet `json:"wall_lip_ft"`

	Areas []AreaReading `json:"areas"` // planting areas watered overhead
	Zones []ZoneReading `json:"zones"`
	Heads []HeadReading `json:"heads"`

	FlowGPM     units.GPM   `json:"flow_gpm"`      // all heads together
	OnTargetGPM units.GPM   `json:"on_target_gpm"` // landed on planting watered overhead
	StoppedGPM  units.GPM   `json:"stopped_gpm"`   // caught by walls, fences, trunks
	OffTarget   []OffTarget `json:"off_target"`    // by surface hit, largest first
	Stopped     []Stopped   `json:"stopped"`       // by thing that caught it, largest first
	Gaps        []Gap       `json:"gaps"`          // dry places, largest first

	Barriers []BarrierReading `json:"barriers"` // what streams do at walls, fences and hedges, by id

	LeftOut []LeftOut `json:"left_out"` // heads whose water is in no figure
}

// LeftOut is a head that cannot be reckoned: its table does not hold what it is
// set to, or it names a nozzle the plan does not have. Nothing is guessed; its
// water is in no figure.
type LeftOut struct {
	Head     plan.ID `json:"head"`
	Quantity string  `json:"quantity"` // pressure | arc | throw | nozzle | flow | profile
	Sentence string  `json:"sentence"` // what is wrong and what to do
}

// Stopped is water that a thing caught before it landed.
type Stopped struct {
	By    plan.Ref    `json:"by"` // barriers/…, areas/… (a building) or trees/…
	GPM   units.GPM   `json:"gpm"`
	Share units.Ratio `json:"share_of_flow"`
	Heads []plan.ID   `json:"heads"` // whose water it was, most first
}

// Evenness is how evenly one piece of ground is watered. Shares are 0 to 1.
type Evenness struct {
	AreaSqFt units.SqFeet        `json:"area_sqft"` // ground in the sums, lip left out
	Mean     units.InchesPerHour `json:"mean_in_per_h"`
	Least    units.InchesPerHour `json:"least_in_per_h"`
	Most     units.InchesPerHour `json:"most_in_per_h"`
	Driest2  units.Ratio         `json:"driest_2_share"` // mean of the driest 2 % over the mean
	DU       units.Ratio         `json:"du_low_quarter"`
	CU       units.Ratio         `json:"cu"`
	SC       float64             `json:"scheduling_coefficient"` // mean over the driest window; see doc.go
	DryShare units.Ratio         `json:"dry_share"`              // below half the mean
	WetShare units.Ratio         `json:"wet_share"`              // above one and a half times the mean
	TwoHeads units.Ratio         `json:"reached_by_two_share"`
}

// AreaReading is one planting area watered overhead.
type AreaReading struct {
	ID       plan.ID             `json:"id"`
	Evenness                     // lip left out
	WithLip  LipReading          `json:"with_lip"`
	FlowRate units.InchesPerHour `json:"rate_by_flow_in_per_h"` // 96.25 x water landed / area
	Driest   *orb.Point          `json:"driest_at,omitempty"`   // middle of the driest window
	Zones    []plan.ID           `json:"zones,omitempty"`       // zones whose water lands here
}

// LipReading is the same ground with its edge lip counted in.
type LipReading struct {
	AreaSqFt units.SqFeet        `json:"area_sqft"`
	Mean     units.InchesPerHour `json:"mean_in_per_h"`
	DU       units.Ratio         `json:"du_low_quarter"`
	Driest2  units.Ratio         `json:"driest_2_share"`
}

// ZoneReading is one zone with everything its valve runs.
type ZoneReading struct {
	ID      plan.ID   `json:"id"`
	Heads   int       `json:"heads"`
	FlowGPM units.GPM `json:"flow_gpm"`
	// The precipitation rate three ways.
	RateByFlow    units.InchesPerHour `json:"rate_by_flow_in_per_h"`      // 96.25 x flow / ground the zone waters
	RateBySpacing units.InchesPerHour `json:"rate_by_spacing_in_per_h"`   // spacing form, median of its heads; 0: none has a row beside it
	HeadToHead    units.InchesPerHour `json:"rate_head_to_head_in_per_h"` // middle of its heads' HeadReading.OwnRate: what they are matched against
	RateByGrid    units.InchesPerHour `json:"rate_by_grid_in_per_h"`      // mean of the map over the ground it waters
	// Matched: how far the farthest head is from the zone's rate, as a share, both
	// by OwnRate. A matched set is matched at its table throws; what turning down
	// does to the rate is a finding of its own.
	WorstOff   units.Ratio `json:"worst_rate_off"`
	WorstHead  plan.ID     `json:"worst_head,omitempty"`
	TurnedDown int         `json:"turned_down,omitzero"` // heads whose throw is turned down
	Plantings  []string    `json:"plantings"`            // kinds of ground watered, in words: planting, exposure, soil
	Areas      []plan.ID   `json:"areas"`                // planting areas its heads stand for
	Evenness   *Evenness   `json:"evenness,omitempty"`
}

// HeadReading is one head as it will run.
type HeadReading struct {
	ID         plan.ID             `json:"id"`
	Pressure   units.PSI           `json:"pressure_psi"`
	TableThrow units.Feet          `json:"table_throw_ft"` // at that pressure, not turned down
	Throw      units.Feet          `json:"throw_ft"`       // as set
	FlowGPM    units.GPM           `json:"flow_gpm"`
	Rate       units.InchesPerHour `json:"rate_in_per_h"`     // head-to-head: 96.25 x full-circle flow / throw²
	OwnRate    units.InchesPerHour `json:"own_rate_in_per_h"` // the same before its throw is turned down: what a zone is matched by
	OnTarget   units.GPM           `json:"on_target_gpm"`
	Stopped    units.GPM           `json:"stopped_gpm"`
	Area       plan.ID             `json:"area,omitempty"`   // planting area most of its water lands on
	Landed     []Landing           `json:"landed,omitempty"` // where its water lands, most first; with Stopped, all of its flow
	Caught     []Catch             `json:"caught,omitempty"` // what makes up Stopped, most first
	Nearest    *Neighbour          `json:"nearest,omitempty"`
}

// Catch is the water of one head that one thing stops.
type Catch struct {
	By    plan.Ref    `json:"by"` // barriers/…, areas/… (a building) or trees/…
	Share units.Ratio `json:"share_of_flow"`
}

// Landing is the water of one head on one surface.
type Landing struct {
	Surface plan.ID   `json:"surface"` // area id, Undrawn, Band or Outside
	GPM     units.GPM `json:"gpm"`
}

// Neighbour is the nearest other head inside a head's arc.
type Neighbour struct {
	Head       plan.ID     `json:"head"`
	DistanceFt units.Feet  `json:"distance_ft"`
	OverThrow  units.Ratio `json:"distance_over_throw"`
	// RowFt is how far the next row of heads stands, square to the line to the
	// nearest; 0 when no head faces one.
	RowFt units.Feet `json:"row_ft,omitzero"`
}

// OffTarget is water that lands where no overhead planting is.
type OffTarget struct {
	Surface plan.ID     `json:"surface"` // area id, Undrawn, Band or Outside
	Kind    plan.Kind   `json:"kind"`    // "" for these three
	Name    string      `json:"name"`
	GPM     units.GPM   `json:"gpm"`
	Share   units.Ratio `json:"share_of_flow"`
	Heads   []plan.ID   `json:"heads"` // those that put it there, most first
}

// Gap is a dry place: connected ground under half its area's mean, at least
// 4 square feet of it, lip left out.
type Gap struct {
	Area     plan.ID             `json:"area"`
	AreaSqFt units.SqFeet        `json:"area_sqft"`
	At       orb.Point           `json:"at"` // well inside the gap, to point at
	Bound    orb.Bound           `json:"bound"`
	Outline  orb.MultiPolygon    `json:"outline"`
	MeanRate units.InchesPerHour `json:"mean_in_per_h"`
}

// Estimate is the field estimate: evenness under seeded small errors of
// installation (see FieldEstimate), for one area.
type Estimate struct {
	ID   plan.ID     `json:"id"`
	Mean units.Ratio `json:"du_mean"`
	P10  units.Ratio `json:"du_p10"` // one in ten installations comes out below this
	Off  units.Ratio `json:"off_target_mean"`
}
