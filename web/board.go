package web

import (
	"github.com/paulmach/orb"

	"evenfall/internal/parts"
	"evenfall/internal/plan"
)

// Board is what follows from one plan, ready to be shown: every figure is a
// string in the plan's own system of units. Bare numbers stand only where the
// page draws with them.
type Board struct {
	Rev      int64                `json:"rev"` // of the stored plan it was made from
	Seq      uint32               `json:"seq"` // of the preview it answers; 0 outside the live channel
	Frame    FrameView            `json:"frame"`
	Readings Readings             `json:"readings"`
	More     []LabelledText       `json:"more"`
	Lip      string               `json:"lip"` // what the figures leave out of the map, in words
	Areas    []AreaView           `json:"areas"`
	Zones    []ZoneView           `json:"zones"`
	Heads    map[plan.ID]HeadView `json:"heads"`
	// Barriers says, by wall, fence or hedge, what each stream that comes to it
	// does there.
	Barriers map[plan.ID][]StreamView `json:"barriers"`
	Off      []OffView                `json:"off_target"`
	Gaps     []GapView                `json:"gaps"`
	Findings []plan.Finding           `json:"findings"`
	Parts    *parts.List              `json:"parts"`
	Costs    *CostView                `json:"costs"`
	// As says what map, readings and dry places are of: "" the drawing, "running"
	// the pressures the heads really have; Says is what that rests on.
	As        string               `json:"as,omitempty"`
	Says      string               `json:"says,omitempty"`
	Pipes     map[plan.ID]PipeView `json:"pipes"`
	PipeKeys  PipeKeys             `json:"pipe_keys"`
	Pressures []PressureView       `json:"pressures"`
	Supply    *SupplyView          `json:"supply"`
	Ground    []ContourView        `json:"ground,omitempty"` // by rising level
	// Digs is nil unless the page shows it.
	Digs *DigsView `json:"digs,omitempty"`
	// MinutesSays is what the minutes of the zones rest on, "" without zones.
	MinutesSays string `json:"minutes_says,omitempty"`
}

// FrameView is the raster of the map, in feet; row 0 is the southernmost.
type FrameView struct {
	X    float64 `json:"x_ft"`
	Y    float64 `json:"y_ft"`
	Cell float64 `json:"cell_ft"`
	NX   int     `json:"nx"`
	NY   int     `json:"ny"`
}

// Reading is one figure in words.
type Reading struct {
	Text  string     `json:"text"`
	Label string     `json:"label,omitempty"`
	Rank  string     `json:"rank,omitempty"` // good | fair | poor
	At    *orb.Point `json:"at,omitempty"`   // where to look
}

// Readings are the figures always in view.
type Readings struct {
	Evenness Reading `json:"evenness"`
	Driest   Reading `json:"driest"`
	Rate     Reading `json:"rate"`
	Flow     Reading `json:"flow"`
}

// LabelledText is a figure with its name.
type LabelledText struct {
	Label string `json:"label"`
	Text  string `json:"text"`
}

// AreaView is one planting area watered overhead.
type AreaView struct {
	ID       plan.ID `json:"id"`
	Name     string  `json:"name"`
	Size     string  `json:"size"`
	Evenness string  `json:"evenness"` // distribution uniformity, low quarter
	CU       string  `json:"cu"`
	SC       string  `json:"sc"`
	Rate     string  `json:"rate"`
	FlowRate string  `json:"rate_flow"`
	Mean     string  `json:"mean"`
	Least    string  `json:"least"`
	Most     string  `json:"most"`
	Driest2  string  `json:"driest2"`
	Dry      string  `json:"dry"`
	Wet      string  `json:"wet"`
	TwoHeads string  `json:"two_heads"`
	WithLip  string  `json:"with_lip"`
	Zones    string  `json:"zones"`
}

// ZoneView is one zone.
type ZoneView struct {
	ID          plan.ID `json:"id"`
	Name        string  `json:"name"`
	Station     int     `json:"station"`
	Heads       int     `json:"heads"`
	Flow        string  `json:"flow"`
	RateFlow    string  `json:"rate_flow"`
	RateSpacing string  `json:"rate_spacing"`
	RateGrid    string  `json:"rate_grid"`
	Matched     string  `json:"matched"`
	MatchedRank string  `json:"matched_rank"` // good | mend | stop, "" when there is nothing to match
	Plantings   string  `json:"plantings"`
	Areas       string  `json:"areas"`
	Evenness    string  `json:"evenness"`
	// Minutes is how long it runs in a week at peak, about: Board.MinutesSays says
	// what that rests on. "" where nothing falls.
	Minutes string `json:"minutes"`
}

// HeadView is one head as it will run.
type HeadView struct {
	Flow         string  `json:"flow"`
	Throw        string  `json:"throw"`
	TableThrow   string  `json:"table_throw"`
	ThrowFt      float64 `json:"throw_ft"`       // for drawing
	TableThrowFt float64 `json:"table_throw_ft"` // likewise
	Rate         string  `json:"rate"`
	Nearest      string  `json:"nearest"`
	Pressure     string  `json:"pressure"`
	OnTarget     string  `json:"on_target"`
	Stopped      string  `json:"stopped"`
	Area         string  `json:"area"`
	// Stops is what stops its water or is passed over, a line each.
	Stops []string `json:"stops,omitempty"`
	// With its zone running; "" where that is not worked out.
	State   string `json:"state,omitempty"`   // good | low | high | starved
	Running string `json:"running,omitempty"` // what it gets and gives
	Trouble string `json:"trouble,omitempty"` // what is wrong with that
}

// StreamView is one head's stream at a wall, fence or hedge.
type StreamView struct {
	Head plan.ID `json:"head"`
	Does string  `json:"does"` // passes | partly | stopped
	Text string  `json:"text"`
}

// OffView is water that lands where no overhead planting is.
type OffView struct {
	ID    plan.ID   `json:"id"`
	Name  string    `json:"name"`
	Text  string    `json:"text"`
	GPM   string    `json:"gpm"`
	Share string    `json:"share"`
	Heads []plan.ID `json:"heads"`
	Rank  string    `json:"rank"` // good | mend | stop
}

// GapView is a dry place.
type GapView struct {
	Area    plan.ID    `json:"area"`
	Text    string     `json:"text"`
	At      orb.Point  `json:"at"`
	Outline []orb.Ring `json:"outline"` // outsides and holes alike, to be drawn as lines
}
