package web

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// BackflowView is the device that keeps the system's water out of the drinking
// water: what it is, the order of the pieces with it, and how high it must stand.
type BackflowView struct {
	Kind    string      `json:"kind"` // "" while none is chosen
	Name    string      `json:"name"`
	Against string      `json:"against"` // what it protects from
	Chain   []ChainView `json:"chain"`
	Place   string      `json:"place"`  // where it stands, in a sentence
	Unfit   string      `json:"unfit"`  // why it does not guard against what stands after it; "" where it does
	Height  string      `json:"height"` // against the highest outlet, with its figures
	Rank    string      `json:"rank"`   // of the height: good | mend | "" where nothing is known or asked
	Decide  string      `json:"decide"` // what local code and licensed testers decide
}

// ChainView is one piece of the way from the street to the heads.
type ChainView struct {
	Code string `json:"code"`
	Name string `json:"name"`
	Each bool   `json:"each"` // one for every zone
	Safe bool   `json:"safe"` // the device itself
}

// backflowRule is what holds for one kind of device. Chains by trade.md E3;
// heights of the breakers and the free air under a reduced-pressure device by 30
// TAC 344.50(b) as printed by the City of Paris, Texas; of the spill-resistant
// breaker as of the pressure breaker (common practice).
type backflowRule struct {
	name    string
	against string
	place   string
	overIn  units.Inches // above the highest outlet
	airIn   units.Inches // above its own ground
}

var backflowRules = map[catalog.BackflowKind]backflowRule{
	catalog.PressureBreaker: {
		"Pressure vacuum breaker", "Stops water being sucked back. It does not stop water that is pushed back: no pump and no other supply may stand after it.",
		"One for the whole system, after the isolation valve and before every zone valve. It may spit when it fills, so it stands outdoors.", 12, 0},
	catalog.SpillResistantBreaker: {
		"Spill-resistant vacuum breaker", "Stops water being sucked back, not water that is pushed back.",
		"One for the whole system, before every zone valve; it does not spit, so it may stand where that would do harm.", 12, 0},
	catalog.AtmosphericBreaker: {
		"Atmospheric vacuum breaker", "Stops water being sucked back, not water that is pushed back.",
		"One after every zone valve, with no valve after it, and under pressure for at most 12 hours in 24.", 6, 0},
	catalog.DoubleCheck: {
		"Double check assembly", "Stops water sucked or pushed back, but not where it would harm health: many places do not allow it for lawns.",
		"One for the whole system, before every zone valve, where a tester can reach it.", 0, 0},
	catalog.ReducedPressure: {
		"Reduced-pressure assembly", "Stops water sucked or pushed back. The one for fertilizer in the water, a pump or a second supply.",
		"One for the whole system, before every zone valve, above the ground with a drain: it lets water out when it works.", 0, 12},
}

// BackflowKindView is one kind of device, to choose by.
type BackflowKindView struct {
	Kind    catalog.BackflowKind `json:"kind"`
	Name    string               `json:"name"`
	Against string               `json:"against"`
	Place   string               `json:"place"`
	Height  string               `json:"height"`
	Chain   []ChainView          `json:"chain"`
}

// backflowOrder is the order the kinds are shown in: the usual ones first.
var backflowOrder = []catalog.BackflowKind{
	catalog.PressureBreaker, catalog.SpillResistantBreaker, catalog.AtmosphericBreaker, catalog.ReducedPressure, catalog.DoubleCheck,
}

// backflowKinds are all kinds, each with its chain in a usual system.
func backflowKinds() []BackflowKindView {
	usual := maker{p: &plan.Plan{}}
	views := make([]BackflowKindView, 0, len(backflowOrder))
	for _, k := range backflowOrder {
		r := backflowRules[k]
		v := BackflowKindView{Kind: k, Name: r.name, Against: r.against, Place: r.place, Chain: usual.chain(k)}
		switch {
		case r.overIn > 0:
			v.Height = fmt.Sprintf("At least %g in (%.0f mm) above the highest outlet.", float64(r.overIn), r.overIn.Millimetres())
		case r.airIn > 0:
			v.Height = fmt.Sprintf("At least %g in (%.0f mm) above its own ground.", float64(r.airIn), r.airIn.Millimetres())
		default:
			v.Height = "Not bound to the heads."
		}
		views = append(views, v)
	}
	return views
}

// decides is what neither this program nor its user decides.
const decides = "Local code decides which kinds are allowed and where, and whether a licensed person must install it. A licensed tester tests it before use and, as a rule, every year. Nothing for drinking or hoses may be taken off after it, and pipe before it must be rated for drinking water."

func (m *maker) backflow() BackflowView {
	kind := backflowKind(m.p)
	rule, known := backflowRules[kind]
	v := BackflowView{Kind: string(kind), Chain: m.chain(kind), Decide: decides}
	if !known {
		v.Name, v.Against = m.p.Supply.Backflow, "No device is chosen: nothing keeps this water out of what people drink."
		if v.Name != "" {
			v.Against = "The device is named in words only. Choose it from the list, so that its place, its height and what it takes are known."
		}
		return v
	}
	v.Name, v.Against, v.Place = rule.name, rule.against, rule.place
	v.Unfit = pressure.Unfit(m.p)
	v.Height, v.Rank = m.breakerHeight(rule)
	return v
}

// chain is the way of the water, in order. Pieces that the plan does not name
// are in it where every system has them.
func (m *maker) chain(kind catalog.BackflowKind) []ChainView {
	s := m.p.Supply
	list := []ChainView{}
	add := func(code, name string) { list = append(list, ChainView{Code: code, Name: name}) }
	switch s.Kind {
	case plan.Well:
		add("source", "Well pump")
	case plan.Pond:
		add("source", "Pond pump with intake screen")
	case plan.Reclaimed:
		add("source", "Reclaimed water, marked purple")
	case plan.HousePipe:
		add("source", "Pipe of the house")
	default:
		add("source", "Street main")
		add("meter", "Meter")
		add("service", "Service line")
	}
	if s.Regulator {
		add("regulator", "Pressure regulator")
	}
	add("isolation", "Isolation valve")
	if s.Filter != "" {
		add("filter", "Filter")
	}
	whole := func() {
		list = append(list, ChainView{Code: "backflow", Name: backflowRules[kind].name, Safe: true})
	}
	if kind != "" && kind != catalog.AtmosphericBreaker {
		whole()
	}
	if s.Freeze == "blow_out" { // in the main before the valves, as the parts list has it
		add("blow_out", "Blow-out port")
	}
	switch s.PushBack {
	case "pump":
		add("push_back", "Booster pump")
	case "second_source":
		add("push_back", "Second source joins")
	}
	if s.Injection {
		add("injection", "Injector of fertilizer or chemicals")
	}
	if s.TapsAfter {
		add("taps", "Taps for drinking or hoses")
	}
	if s.MasterValve != "" {
		add("master_valve", "Master valve")
	}
	add("main", "Main")
	list = append(list, ChainView{Code: "valve", Name: "Zone valve", Each: true})
	if kind == catalog.AtmosphericBreaker {
		list = append(list, ChainView{Code: "backflow", Name: backflowRules[kind].name, Each: true, Safe: true})
	}
	list = append(list, ChainView{Code: "lateral", Name: "Laterals and heads", Each: true})
	return list
}

// breakerHeight holds the device's height against the highest outlet, from that
// outlet's ground, heads retracted.
func (m *maker) breakerHeight(rule backflowRule) (says, rank string) {
	has := m.p.Supply.BackflowHeightFt
	if rule.airIn > 0 {
		says = fmt.Sprintf("It stands at least %s above its own ground, whatever the heads do.", m.sys.Inches(rule.airIn))
		return m.against(says, has, rule.airIn.Feet())
	}
	if rule.overIn == 0 {
		return "Its height is not bound to the heads.", ""
	}
	b, ok := pressure.BreakerHeight(m.p)
	if !ok {
		return fmt.Sprintf("It stands at least %s above the highest outlet, heads retracted. Set it and the heads on the plan to have their ground counted.", m.sys.Inches(rule.overIn)), ""
	}
	says = fmt.Sprintf("The head that decides, %s, stands on ground %s the device’s. With the %s above it, the critical level must be at least %s above the device’s own ground.",
		m.p.HeadName(b.Highest), m.higher(b.Level-b.Ground), m.sys.Inches(b.Above.Inches()), m.sys.Length(max(b.Need, 0)))
	if b.Level < b.Ground { // the rule's height counts from the pipe right behind the device
		says = fmt.Sprintf("No head it serves stands on ground as high as the device’s: %s comes nearest, %s it. So the device’s own pipe decides: the critical level must be at least %s above the device’s own ground, where that pipe lies.",
			m.p.HeadName(b.Highest), m.higher(b.Level-b.Ground), m.sys.Length(b.Need))
	}
	if len(m.p.Elevations) == 0 {
		says = fmt.Sprintf("It stands at least %s above the highest outlet. No spot heights are set, so the ground counts as level: on a slope set some.", m.sys.Inches(rule.overIn))
	}
	return m.against(says, has, max(b.Need, 0))
}

// higher says how one ground lies to another: "1' 7" above".
func (m *maker) higher(rise units.Feet) string {
	if rise < 0 {
		return m.sys.Length(-rise) + " below"
	}
	return m.sys.Length(rise) + " above"
}

// against adds to a rule what the plan says of the device's height.
func (m *maker) against(says string, has *units.Feet, need units.Feet) (string, string) {
	switch {
	case has == nil:
		return says + " The plan does not say how high it stands.", ""
	case pressure.TooLow(*has, need):
		return says + fmt.Sprintf(" It stands at %s: %s too low.", m.sys.Length(*has), m.sys.Length(need-*has)), "mend"
	}
	return says + fmt.Sprintf(" It stands at %s: high enough.", m.sys.Length(*has)), good
}

// FreezeView is how the system is kept from freezing, and what that takes.
type FreezeView struct {
	Says  string   `json:"says"`
	Parts []string `json:"parts"`
}

// freezeViews: common practice; pressures of air by trade.md A7.
var freezeViews = map[string]FreezeView{
	"":                {"Not said yet: where the ground freezes, water left in the pipe breaks it.", nil},
	"none":            {"The ground does not freeze here, or the pipe lies below the frost.", nil},
	"blow_out":        {"Each zone is blown out with air in autumn: it is the volume that does it, not the pressure. At the hose at most 80 psi (5.5 bar) on PVC and 50 psi (3.4 bar) on polyethylene, never through the backflow device, with nobody near a head.", []string{blowOutPort + "after the backflow device"}},
	"manual_drain":    {"The pipe falls to drains that are opened by hand in autumn.", []string{"stop-and-waste valve below the frost", "manual drain valve at each low point", "gravel sump under each drain"}},
	"automatic_drain": {"Drains open by themselves after each run and lose a pipeful of water each time.", []string{"automatic drain valve at each low point", "gravel sump under each drain"}},
}

const blowOutPort = "blow-out port with valve and cap, "

func freezeView(method string, kind catalog.BackflowKind) FreezeView {
	v := freezeViews[method]
	if method == "blow_out" && kind == catalog.AtmosphericBreaker {
		v.Parts = []string{blowOutPort + "in the main before the zone valves; each breaker is opened first, as its maker says"}
	}
	v.Parts = orEmpty(v.Parts)
	return v
}
