package web

import (
	"encoding/json"

	"evenfall/internal/plan"
)

// ProofView is what the page in the yard and the bench of proof show: the value of GET
// /api/plans/{id}/proof. Every figure in it is ready to read, in the plan's units; what the
// user enters is written into the plan by the page, as steps.
type ProofView struct {
	Rev    int64        `json:"rev"` // of the stored plan it was made from
	Start  ProofStart   `json:"start"`
	Wires  ProofWires   `json:"wires"`
	Heads  []ProofHead  `json:"heads"` // in walking order
	Audits []ProofAudit `json:"audits"`
	Built  []ProofBuilt `json:"built"`
}

// ProofStart is the start-up log.
type ProofStart struct {
	Says  string      `json:"says"` // how far it is: "4 of 9 steps, 2 of 6 zones run"
	Steps []ProofStep `json:"steps"`
	Tests []ProofTest `json:"tests"`
	Zones []ProofZone `json:"zones"` // by station
}

// ProofStep is a step of the start-up, in order.
type ProofStep struct {
	ID      plan.ID `json:"id"` // key of proof.checks
	Title   string  `json:"title"`
	How     string  `json:"how"`
	Caution string  `json:"caution"`
	On      string  `json:"on"` // civil date it was done; "" not yet
	By      string  `json:"by"`
	Note    string  `json:"note"`
}

// ProofTest is a pressure test and what is to be made of it.
type ProofTest struct {
	ID    plan.ID `json:"id"` // key of proof.pressure_tests
	Says  string  `json:"says"`
	Holds bool    `json:"holds"`
	Known bool    `json:"known"` // false: not enough was entered to tell
}

// ProofZone is a zone to be run by hand, and its runs.
type ProofZone struct {
	ID        plan.ID    `json:"id"`
	Station   string     `json:"station"` // "3"; "" none given
	Name      string     `json:"name"`
	Flow      string     `json:"flow"`       // predicted: "9.2 gpm"; "" unknown
	Pressure  string     `json:"pressure"`   // predicted at Head while it runs; "" unknown
	Head      plan.ID    `json:"head"`       // where to read the pressure: the head with the least
	HeadTag   string     `json:"head_tag"`   //
	Static    string     `json:"static"`     // predicted at the connection
	MeterTime string     `json:"meter_time"` // what the meter should take for a stated volume: "5 gal in 33 s"
	Unknown   string     `json:"unknown"`    // why nothing is predicted; "" where it is
	Runs      []ProofRun `json:"runs"`
}

// ProofRun is one run beside what was predicted.
type ProofRun struct {
	ID     plan.ID       `json:"id"`     // key of zones/{id}/runs
	Says   string        `json:"says"`   // "8.1 gpm, 12 % under; 31 psi at 3-7, 8 psi under"
	Good   bool          `json:"good"`   // within what measuring can tell
	Known  bool          `json:"known"`  // false: nothing to hold against one another
	Likely []ProofLikely `json:"likely"` // most likely first
}

// ProofLikely is what a difference most likely means.
type ProofLikely struct {
	Cause string `json:"cause"`
	Why   string `json:"why"`
	Do    string `json:"do"`
}

// ProofWires is the finding of wires.
type ProofWires struct {
	Says      string          `json:"says"` // how far it is, and the touches and readings still needed at most
	Next      *ProofNext      `json:"next"` // null: all found, or nothing to go on
	Wires     []ProofWire     `json:"wires"`
	Terminals []ProofTerminal `json:"terminals"` // the map, by station, the common first
	Warnings  []string        `json:"warnings"`
	Caution   string          `json:"caution"`
}

// ProofNext is what to do next, with the fewest touches.
type ProofNext struct {
	Kind string  `json:"kind"` // read: the resistance between From and To | touch: power Wire | note: put in the wires first
	From plan.ID `json:"from"`
	To   plan.ID `json:"to"`
	Wire plan.ID `json:"wire"`
	Says string  `json:"says"`
}

// ProofWire is a conductor and what it was found to be.
type ProofWire struct {
	ID    plan.ID `json:"id"`
	Mark  string  `json:"mark"`
	Is    string  `json:"is"`    // "Zone 3, Side lawn", "Common", "Spare or broken", "Not found yet"
	Zone  plan.ID `json:"zone"`  // "" none
	Kind  string  `json:"kind"`  // zone | common | master | spare | several | shorted | unknown
	Goes  string  `json:"goes"`  // the terminal it belongs on; "" none
	Moves string  `json:"moves"` // "Move from 2 to 3"; "" where it is right, or on none
	Warn  string  `json:"warn"`
}

// ProofTerminal is one line of the terminal map.
type ProofTerminal struct {
	Terminal string  `json:"terminal"` // "Common", "1"
	Zone     string  `json:"zone"`
	Wire     string  `json:"wire"` // its mark; "" not found
	Ohms     string  `json:"ohms"` // of its coil; "" not read
	Warn     string  `json:"warn"`
	WireID   plan.ID `json:"wire_id"`
}

// ProofHead is a head on the walk of setting nozzles.
type ProofHead struct {
	ID     plan.ID  `json:"id"`
	Tag    string   `json:"tag"`
	Zone   string   `json:"zone"`
	Where  string   `json:"where"` // how it is found from the last one
	Nozzle string   `json:"nozzle"`
	Arc    string   `json:"arc"`  // "180°"
	Edge   string   `json:"edge"` // where the left edge of its arc looks
	Throw  string   `json:"throw"`
	Turn   string   `json:"turn"`   // how far it is turned down; "" not
	SetOn  string   `json:"set_on"` // civil date; "" not set yet
	Faults []string `json:"faults"` // in words
	Note   string   `json:"note"`
	X      float64  `json:"x_ft"`
	Y      float64  `json:"y_ft"`
}

// ProofAudit is one audit in a line; AuditView is the whole of it.
type ProofAudit struct {
	ID   plan.ID `json:"id"` // "" for the one audit of older documents
	Says string  `json:"says"`
	Read int     `json:"read"` // cans that have been read
	Cans int     `json:"cans"`
}

// ProofBuilt is a thing whose built place was measured, with its dimensions.
type ProofBuilt struct {
	Ref   plan.Ref `json:"ref"`
	What  string   `json:"what"` // "Head 3-5"
	On    string   `json:"on"`
	Moved string   `json:"moved"` // "6 in east of where it was drawn"; "" as drawn
	Dims  string   `json:"dims"`  // how it is found from fixed corners
}

// AuditView is one audit reckoned: the value of GET /api/plans/{id}/audit?audit=ID.
type AuditView struct {
	Rev     int64           `json:"rev"`
	ID      plan.ID         `json:"id"`
	Known   bool            `json:"known"` // false: Says tells what is missing
	Says    string          `json:"says"`
	Figures []AuditFigure   `json:"figures"`
	Cans    []AuditCan      `json:"cans"`
	Faults  []AuditFault    `json:"faults"`          // heads at fault, surest first
	Heads   []AuditFault    `json:"heads"`           // every head that reaches a can
	Unsure  []string        `json:"unsure"`          // what these cans cannot tell, in sentences
	Uses    string          `json:"uses"`            // what taking the DU into the watering plan changes, in a sentence
	Patch   json.RawMessage `json:"patch,omitempty"` // that does so
	Label   string          `json:"label"`
	Rules   []string        `json:"rules"` // of an audit, that this one does not keep
	Notes   []string        `json:"notes"` // what was taken for the prediction: pressures, wind, minutes
}

// AuditFigure is a figure with its form and source.
type AuditFigure struct {
	Name     string `json:"name"`
	Measured string `json:"measured"`
	Expected string `json:"expected"` // predicted at the same cans; "" none
	Form     string `json:"form"`
}

// AuditCan is one can: what it caught beside what was predicted there.
type AuditCan struct {
	ID        plan.ID `json:"id"`
	X         float64 `json:"x_ft"`
	Y         float64 `json:"y_ft"`
	Number    int     `json:"number"` // in walking order, from 1
	Catch     string  `json:"catch"`
	Depth     string  `json:"depth"`
	Predicted string  `json:"predicted"`
	Measured  *int    `json:"measured_byte"`     // on the scale of the map, as its bytes are: of the mean catch; null not read
	Expected  *int    `json:"predicted_byte"`    // of the mean prediction; null none
	Percent   string  `json:"percent"`           // of the mean catch
	Foreseen  string  `json:"predicted_percent"` // of the mean prediction; "" none
	Out       bool    `json:"out"`
	Low       bool    `json:"low"`   // of the driest quarter
	Where     string  `json:"where"` // how its place is found: "near 2-3"; "" not said
}

// AuditFault is what the catches say of one head.
type AuditFault struct {
	Head    plan.ID `json:"head"`
	Tag     string  `json:"tag"`
	Output  string  `json:"output"`  // "52 % of what it should give (38 to 66 %)"
	Tilt    string  `json:"tilt"`    // "leans 9° to the south (5 to 13°)"; "" none to speak of
	Verdict string  `json:"verdict"` // "gives about half", "cannot be told"
	Look    string  `json:"look"`    // what to look at on it
	Sure    bool    `json:"sure"`
}

// CansView is a layout of cans offered: the value of GET /api/plans/{id}/cans?area=ID&by=grid|heads&count=N.
type CansView struct {
	Rev   int64           `json:"rev"`
	Says  string          `json:"says"`
	Rules []string        `json:"rules"` // by which they were set out, with sources
	Audit plan.ID         `json:"audit"` // its id in the patch
	Cans  []AuditCan      `json:"cans"`
	Patch json.RawMessage `json:"patch,omitempty"`
	Label string          `json:"label"`
}

// RetrofitView is what an old system would gain by mending: the value of GET
// /api/plans/{id}/retrofit, a job.
type RetrofitView struct {
	Rev     int64           `json:"rev"`
	Offered bool            `json:"offered"`
	Says    string          `json:"says"`
	Census  []RetrofitCount `json:"census"`
	Zones   []RetrofitZone  `json:"zones"`
	Mends   []RetrofitMend  `json:"mends"` // most water saved first
	Assumed []string        `json:"assumed"`
}

// RetrofitCount is how many heads were found in a state.
type RetrofitCount struct {
	State string    `json:"state"`
	Count int       `json:"count"`
	Heads []plan.ID `json:"heads"`
	Tags  string    `json:"tags"`
}

// RetrofitZone is a zone before and after.
type RetrofitZone struct {
	ID    plan.ID `json:"id"`
	Name  string  `json:"name"`
	Flow  string  `json:"flow"`     // before, after
	Press string  `json:"pressure"` //
	DU    string  `json:"du"`
	Water string  `json:"water"` // a year, before and after
	Saves string  `json:"saves"`
}

// RetrofitMend is one thing to do.
type RetrofitMend struct {
	Says  string    `json:"says"`
	Saves string    `json:"saves"` // gallons a year by itself, in this order
	Heads []plan.ID `json:"heads"`
	Why   string    `json:"why"`
}
