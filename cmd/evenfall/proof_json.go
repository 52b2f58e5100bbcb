package main

import (
	"evenfall/internal/plan"
)

// The print of evenfall proof --json. Its schema is made from these types and the words
// after them. Parts that were not asked for are left out.

type proofAnswer struct {
	Format   string         `json:"format" jsonschema:"evenfall-proof/1"`
	Name     string         `json:"name" jsonschema:"of the plan"`
	Plan     string         `json:"plan_sha256" jsonschema:"of the plan's canonical form"`
	Start    *proofStart    `json:"start_up,omitempty"`
	Wires    *proofWires    `json:"wires,omitempty"`
	Heads    []proofHead    `json:"heads,omitzero" jsonschema:"in walking order"`
	Built    []proofBuilt   `json:"as_built,omitzero"`
	Audits   []proofAudit   `json:"audits,omitzero"`
	Retrofit *proofRetrofit `json:"retrofit,omitempty"`
}

type proofStart struct {
	Says  string      `json:"says"`
	Steps []proofStep `json:"steps" jsonschema:"in order"`
	Tests []proofTest `json:"pressure_tests"`
	Zones []proofZone `json:"zones" jsonschema:"by station"`
}

type proofStep struct {
	ID      plan.ID `json:"id" jsonschema:"key of proof.checks in the plan"`
	Title   string  `json:"title"`
	How     string  `json:"how"`
	Caution string  `json:"caution,omitempty"`
	Done    string  `json:"done_on,omitempty" jsonschema:"civil date; absent: not yet"`
	By      string  `json:"by,omitempty"`
	Note    string  `json:"note,omitempty"`
}

type proofTest struct {
	ID    plan.ID `json:"id"`
	On    string  `json:"on,omitempty"`
	Of    string  `json:"of" jsonschema:"what was tested, in words"`
	Says  string  `json:"says"`
	Known bool    `json:"known" jsonschema:"false: not enough was entered to tell"`
	Holds bool    `json:"holds"`
}

type proofZone struct {
	ID        plan.ID    `json:"id"`
	Name      string     `json:"name"`
	Station   int        `json:"station" jsonschema:"0: none given"`
	Flow      figure     `json:"flow_gpm" jsonschema:"predicted; 0: not known"`
	Head      plan.ID    `json:"head,omitempty" jsonschema:"where to read the pressure"`
	Pressure  figure     `json:"pressure_psi" jsonschema:"predicted at that head; 0: not known"`
	Static    figure     `json:"static_psi" jsonschema:"predicted at the connection; 0: not known"`
	MeterGal  figure     `json:"meter_gal" jsonschema:"a round volume to be timed at the meter; 0: none"`
	MeterTime figure     `json:"meter_s" jsonschema:"what it should take"`
	Unknown   string     `json:"unknown,omitempty" jsonschema:"why nothing is predicted, or how far to trust it"`
	Runs      []proofRun `json:"runs"`
}

type proofRun struct {
	ID      plan.ID       `json:"id"`
	On      string        `json:"on,omitempty"`
	When    string        `json:"when,omitempty" jsonschema:"start_up, before, after or check; absent: start_up"`
	Flow    figure        `json:"flow_gpm" jsonschema:"measured; 0: not"`
	Running figure        `json:"running_psi" jsonschema:"measured; 0: not"`
	Static  figure        `json:"static_psi" jsonschema:"measured; 0: not"`
	Says    string        `json:"says,omitempty"`
	Known   bool          `json:"known" jsonschema:"false: nothing to hold against one another"`
	Good    bool          `json:"good" jsonschema:"within what measuring can tell"`
	Likely  []proofLikely `json:"likely" jsonschema:"what a difference most likely means, first the likeliest"`
}

type proofLikely struct {
	Cause  string `json:"cause"`
	Says   string `json:"says"`
	Why    string `json:"why"`
	Do     string `json:"do"`
	Weight figure `json:"weight" jsonschema:"how well the readings fit it, as a share of all causes looked at"`
}

type proofWires struct {
	Says      string          `json:"says"`
	Next      *proofNext      `json:"next,omitempty" jsonschema:"what to do next, with the fewest touches, then readings; absent: nothing"`
	Touches   int             `json:"touches_left" jsonschema:"at most, if nothing is at fault"`
	Readings  int             `json:"readings_left" jsonschema:"as touches_left; while the common is not known there may be more"`
	Wires     []proofWire     `json:"wires" jsonschema:"in the order they were noted"`
	Terminals []proofTerminal `json:"terminals" jsonschema:"the map: the common first, then by station, then wires that belong on none"`
	Warnings  []string        `json:"warnings"`
	Caution   string          `json:"caution"`
}

type proofNext struct {
	Kind string  `json:"kind" jsonschema:"note: put in the wires first; read: the resistance between from and to; touch: power wire"`
	From plan.ID `json:"from,omitempty"`
	To   plan.ID `json:"to,omitempty"`
	Wire plan.ID `json:"wire,omitempty"`
	Says string  `json:"says"`
}

type proofWire struct {
	ID    plan.ID   `json:"id"`
	Mark  string    `json:"mark"`
	Kind  string    `json:"kind" jsonschema:"zone, common, master, spare (or broken), several, shorted, unknown"`
	Zones []plan.ID `json:"zones"`
	Is    string    `json:"is"`
	Left  bool      `json:"by_elimination" jsonschema:"nothing shows it but that everything else is found"`
	Goes  string    `json:"belongs_on,omitempty"`
	Moves string    `json:"moves,omitempty"`
	Ohms  *figure   `json:"ohms,omitempty" jsonschema:"to the common; absent: not read, or open"`
	Open  bool      `json:"open" jsonschema:"it was read to the common, and the meter showed no path"`
	Warn  string    `json:"warning,omitempty"`
}

type proofTerminal struct {
	Terminal string    `json:"terminal"`
	Zones    []plan.ID `json:"zones"`
	Zone     string    `json:"for"`
	Wires    []plan.ID `json:"wires"`
	Wire     string    `json:"marks,omitempty"`
	Ohms     string    `json:"reads,omitempty"`
	Warn     string    `json:"warning,omitempty"`
}

type proofHead struct {
	ID     plan.ID  `json:"id"`
	Tag    string   `json:"tag"`
	Zone   plan.ID  `json:"zone,omitempty"`
	X      figure   `json:"x_ft"`
	Y      figure   `json:"y_ft"`
	Where  string   `json:"where" jsonschema:"how it is found from the one before"`
	Nozzle string   `json:"nozzle"`
	Arc    string   `json:"arc"`
	Edge   string   `json:"left_edge"`
	Throw  string   `json:"throw"`
	Turn   string   `json:"turned_down,omitempty"`
	SetOn  string   `json:"set_on,omitempty" jsonschema:"civil date; absent: not set yet"`
	Faults []string `json:"faults"`
	Note   string   `json:"note,omitempty"`
}

type proofBuilt struct {
	Thing plan.Ref   `json:"thing"`
	What  string     `json:"what"`
	On    string     `json:"on"`
	X     figure     `json:"x_ft"`
	Y     figure     `json:"y_ft"`
	Moved string     `json:"moved,omitempty" jsonschema:"absent: as drawn"`
	Depth figure     `json:"depth_in" jsonschema:"0: not measured"`
	Says  string     `json:"found_by"`
	Dims  []proofDim `json:"dimensions"`
	Note  string     `json:"note,omitempty"`
}

type proofDim struct {
	From  string `json:"from" jsonschema:"a fixed point"`
	Feet  figure `json:"ft"`
	Along string `json:"along,omitempty" jsonschema:"the edge it is measured along; absent: straight"`
	Off   figure `json:"off_ft" jsonschema:"square off that edge"`
	Check bool   `json:"check" jsonschema:"to check the others by"`
}

type proofAudit struct {
	ID      plan.ID         `json:"id" jsonschema:"empty: the one audit of older documents"`
	Name    string          `json:"name"`
	On      string          `json:"on,omitempty"`
	Says    string          `json:"says"`
	Known   bool            `json:"known" jsonschema:"false: says tells what is missing"`
	DU      figure          `json:"du_low_quarter" jsonschema:"measured"`
	DUThere figure          `json:"predicted_du_low_quarter" jsonschema:"at the same cans; 0: nothing can be predicted"`
	Figures []proofFigure   `json:"figures"`
	Cans    []proofCan      `json:"cans" jsonschema:"in walking order"`
	Heads   []proofHeadRead `json:"heads" jsonschema:"every head that reaches a can"`
	Unsure  []string        `json:"cannot_tell"`
	Rules   []string        `json:"not_kept" jsonschema:"rules of an audit that this one does not keep"`
	Uses    string          `json:"uses,omitempty"`
}

type proofFigure struct {
	Name     string `json:"name"`
	Measured string `json:"measured"`
	Expected string `json:"predicted,omitempty"`
	Form     string `json:"form"`
}

type proofCan struct {
	ID       plan.ID `json:"id"`
	Number   int     `json:"number"`
	X        figure  `json:"x_ft"`
	Y        figure  `json:"y_ft"`
	Catch    string  `json:"catch,omitempty" jsonschema:"as it was read; absent: not"`
	Depth    *figure `json:"depth_in,omitempty"`
	Expected *figure `json:"predicted_in,omitempty"`
	Out      bool    `json:"left_out"`
	Low      bool    `json:"driest_quarter"`
}

type proofHeadRead struct {
	Head   plan.ID `json:"head"`
	Share  figure  `json:"output_share" jsonschema:"of what it should give"`
	Low    figure  `json:"output_low" jsonschema:"of its 90 % range"`
	High   figure  `json:"output_high"`
	Tilt   figure  `json:"tilt_deg" jsonschema:"0: none to speak of"`
	Toward figure  `json:"tilt_toward_deg" jsonschema:"anticlockwise from the plan's east"`
	Fault  bool    `json:"fault"`
	Sure   bool    `json:"sure"`
	Says   string  `json:"says"`
}

type proofRetrofit struct {
	Offered bool                `json:"offered" jsonschema:"false: says tells what is missing"`
	Says    string              `json:"says"`
	PerYear bool                `json:"per_year" jsonschema:"false: water is of the week at peak"`
	Before  figure              `json:"before_gal"`
	After   figure              `json:"after_gal"`
	Census  []proofCensus       `json:"census"`
	Zones   []proofRetrofitZone `json:"zones"`
	Mends   []proofMend         `json:"mends" jsonschema:"the most water saved first"`
	Assumed []string            `json:"assumed"`
}

type proofCensus struct {
	State string    `json:"state"`
	Heads []plan.ID `json:"heads"`
}

type proofRetrofitZone struct {
	ID       plan.ID `json:"id"`
	Before   figure  `json:"before_gal"`
	After    figure  `json:"after_gal"`
	Flow     string  `json:"flow,omitempty"`
	Pressure string  `json:"pressure,omitempty"`
	DU       string  `json:"du,omitempty"`
}

type proofMend struct {
	Says  string    `json:"says"`
	Saves figure    `json:"saves_gal" jsonschema:"after those before it in the list"`
	Heads []plan.ID `json:"heads"`
	Why   string    `json:"why"`
}
