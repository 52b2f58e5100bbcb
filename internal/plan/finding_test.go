package plan

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"evenfall/internal/units"
)

// banned are words that tell a user nothing or blame him.
var bannedWords = []string{"invalid", "illegal", "oops", "failed to parse", "something went wrong"}

func TestRulesSayEverything(t *testing.T) {
	for code, r := range Rules {
		if r.Row < 1 || r.Row > 49 || !slices.Contains([]Rank{Stop, Mend, Notice}, r.Rank) {
			t.Errorf("%s: row %d, rank %q", code, r.Row, r.Rank)
		}
		for name, text := range map[string]string{"title": r.Title, "why": r.Why, "do": r.Do, "source": r.Source} {
			if text == "" {
				t.Errorf("%s has no %s", code, name)
			}
			for _, word := range bannedWords {
				if strings.Contains(strings.ToLower(text), word) {
					t.Errorf("%s: the %s says %q", code, name, word)
				}
			}
			if (name == "why" || name == "do") && !strings.HasSuffix(text, ".") {
				t.Errorf("%s: the %s is not a sentence: %q", code, name, text)
			}
		}
	}
	for row := 1; row <= 48; row++ {
		if !slices.ContainsFunc(slices.Collect(rulesOf()), func(r Rule) bool { return r.Row == row }) {
			t.Errorf("mistake %d has no rule", row)
		}
	}
}

// A quantity in braces reads as it stands in US units, and converted in metric
// ones; every rule's can be read.
func TestFixedWordsAreInThePlansUnits(t *testing.T) {
	for code := range Rules {
		for _, sys := range []units.System{units.US, units.Metric} {
			f := []Finding{Found(code, "")}
			InUnits(sys, f)
			for _, text := range []string{f[0].Title, f[0].Why, f[0].Do, f[0].Source} {
				if strings.ContainsAny(text, "{}") {
					t.Errorf("%s keeps a brace: %s", code, text)
				}
			}
		}
	}
	for _, c := range []struct{ words, us, metric string }{
		{"at least {12 in} off", "at least 12 in off", "at least 305 mm off"},
		{"under {48 in}", "under 48 in", "under 1.22 m"},
		{"{0.75 in/h} past {30 psi}", "0.75 in/h past 30 psi", "19 mm/h past 2.07 bar"},
		{"{10 ft}, {3 gpm}", "10 ft, 3 gpm", "3.05 m, 11.4 L/min"},
		{"no unit", "no unit", "no unit"},
	} {
		if us, metric := inUnits(units.US, c.words), inUnits(units.Metric, c.words); us != c.us || metric != c.metric {
			t.Errorf("%q reads %q and %q", c.words, us, metric)
		}
	}
}

func rulesOf() func(func(Rule) bool) {
	return func(yield func(Rule) bool) {
		for _, r := range Rules {
			if !yield(r) {
				return
			}
		}
	}
}

func TestFoundTakesItsWordsFromTheRule(t *testing.T) {
	f := Found(RatesMixed, "Zone 2 …", "heads/h2", "heads/h1", "heads/h2").Ranked(Mend).Looking(orb.Point{1, 2}).Measured("share", 0.5).Measured("gpm", 2)
	r := Rules[RatesMixed]
	want := Finding{
		Code: RatesMixed, Rank: Mend, Title: r.Title, Sentence: "Zone 2 …", Why: r.Why, Do: r.Do, Source: r.Source,
		About: []Ref{"heads/h1", "heads/h2"}, At: &orb.Point{1, 2}, Values: map[string]float64{"share": 0.5, "gpm": 2},
	}
	if diff := cmp.Diff(want, f); diff != "" {
		t.Errorf("finding differs (-want +got):\n%s", diff)
	}
	defer func() {
		if recover() == nil {
			t.Error("an unknown code passed")
		}
	}()
	Found("no-such-code", "")
}

func TestMeasuringDoesNotChangeTheOriginal(t *testing.T) {
	f := Found(RatesMixed, "").Measured("a", 1)
	g := f.Measured("b", 2)
	if len(f.Values) != 1 || len(g.Values) != 2 {
		t.Errorf("values %v and %v", f.Values, g.Values)
	}
}

func TestAcceptingHoldsForWhatWasAccepted(t *testing.T) {
	accepted := Accepted{Code: TurnedDownFar, About: []Ref{"heads/h1", "heads/h2"}, Reason: "small bed", On: "2026-05-01"}
	p := &Plan{Accepted: map[ID]Accepted{"a1": accepted, "a2": {Code: HeadWithoutZone, Reason: "later", On: "2026-05-01"}}}
	for _, c := range []struct {
		name string
		f    Finding
		want bool
	}{
		{"the same two heads", Found(TurnedDownFar, "", "heads/h1", "heads/h2"), true},
		{"one of them", Found(TurnedDownFar, "", "heads/h2"), true},
		{"a third", Found(TurnedDownFar, "", "heads/h1", "heads/h2", "heads/h3"), false},
		{"another mistake of theirs", Found(PopupShort, "", "heads/h1"), false},
		{"about the plan, accepted about heads", Found(TurnedDownFar, ""), false},
		{"about heads, accepted about the plan", Found(HeadWithoutZone, "", "heads/h1"), false},
		{"about the plan, both", Found(HeadWithoutZone, ""), true},
	} {
		in := []Finding{c.f}
		got := Accept(p, in)[0]
		if (got.Accepted != nil) != c.want || c.want && got.Rank != Notice {
			t.Errorf("%s: accepted %v, rank %s", c.name, got.Accepted, got.Rank)
		}
		if in[0].Accepted != nil {
			t.Errorf("%s: the finding given was changed", c.name)
		}
	}
}

// What was accepted as worth mending is open again when it is wrong to build.
func TestAcceptedComesBackWhenItsRankWorsens(t *testing.T) {
	for _, c := range []struct {
		accepted, now Rank
		want          bool
	}{{Mend, Mend, true}, {Mend, Notice, true}, {Mend, Stop, false}, {Notice, Mend, false}, {Stop, Stop, true}, {"", Stop, true}} {
		p := &Plan{Accepted: map[ID]Accepted{"a1": {Code: SpacingWide, About: []Ref{"heads/h1"}, Rank: c.accepted, Reason: "r", On: "2026-05-01"}}}
		got := Accept(p, []Finding{Found(SpacingWide, "", "heads/h1").Ranked(c.now)})[0]
		if (got.Accepted != nil) != c.want || !c.want && got.Rank != c.now {
			t.Errorf("accepted as %q, now %q: accepted %v, rank %q", c.accepted, c.now, got.Accepted != nil, got.Rank)
		}
	}
}

func TestFindingsAreReadWorstFirst(t *testing.T) {
	want := []Finding{
		Found(RatesMixed, "a", "zones/z1"),
		Found(RatesMixed, "a", "zones/z2"),
		Found(SpacingWide, "a").Looking(orb.Point{-5, 1}),
		Found(SpacingWide, "a").Looking(orb.Point{2, 1}),
		Found(CornerBare, "a"),
		Found(CornerBare, "b"),
		Found(LowValveFlow, "a"),
		Accept(&Plan{Accepted: map[ID]Accepted{"a": {Code: TurnedDownFar, Reason: "r", On: "2026-05-01"}}}, []Finding{Found(TurnedDownFar, "a")})[0],
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		got := slices.Clone(want)
		rng.Shuffle(len(got), func(i, j int) { got[i], got[j] = got[j], got[i] })
		SortFindings(got)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("order differs (-want +got):\n%s", diff)
		}
	}
}

func TestThingsAreNamedAsPeopleKnowThem(t *testing.T) {
	p := &Plan{
		Show:  units.US,
		Heads: map[ID]Head{"h1": {Tag: "1-1"}, "h2": {Tag: "1-2", X: 10}, "h3": {X: 20}, "gone": {Status: Remove, X: 40}},
		Zones: map[ID]Zone{"z1": {Name: "Front", Station: 1}, "z2": {Station: 2}, "z3": {Name: "Back"}, "z4": {}, "z5": {Name: "Zone 5", Station: 5}},
		Areas: map[ID]Area{"a1": {Name: "Front lawn"}, "a2": {Kind: RightOfWay}},
	}
	for _, c := range []struct{ got, want string }{
		{p.HeadName("h1"), "head 1-1"},
		{p.HeadName("h3"), "head at 20, 0 ft"},
		{p.HeadNames([]ID{"h1"}), "head 1-1"},
		{p.HeadNames([]ID{"h1", "h2"}), "heads 1-1 and 1-2"},
		{p.HeadNames([]ID{"h1", "h2", "h3"}), "heads 1-1, 1-2 and at 20, 0 ft"},
		{p.HeadNames([]ID{"h1", "h1", "h1", "h1", "h1", "h1", "h1"}), "7 heads (1-1, 1-1, 1-1, 1-1, 1-1, 1-1 and others)"},
		{p.ZoneName("z1"), "zone 1 (Front)"},
		{p.ZoneName("z2"), "zone 2"},
		{p.ZoneName("z3"), "zone Back"},
		{p.ZoneName("z4"), "zone z4"},
		{p.ZoneName("z5"), "zone 5"},
		{p.AreaName("a1"), "Front lawn"},
		{p.AreaName("a2"), "right of way a2"},
		{p.AreaName("outside"), "the ground outside every area"},
		{p.Whereabouts(orb.Point{10, 0.5}), "at head 1-2"},
		{p.Whereabouts(orb.Point{10, 7}), "7 ft north of head 1-2"},
		{p.Whereabouts(orb.Point{-14, 0}), "14 ft west of head 1-1"},
		{p.Whereabouts(orb.Point{40, 0}), "20 ft east of head at 20, 0 ft"},
		{(&Plan{Show: units.US}).Whereabouts(orb.Point{3, -4.4}), "3 ft east and -4 ft north of the origin"},
		{(&Plan{Show: units.Metric}).About(10), "3 m"},
		{Series(nil), ""},
		{Capital("über"), "Über"},
		{Capital(""), ""},
		{Plural(1, "head", "heads") + ", " + Plural(3, "head", "heads"), "1 head, 3 heads"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestCompassGoesByTrueNorth(t *testing.T) {
	origin := orb.Point{}
	for _, c := range []struct {
		north units.Degrees
		to    orb.Point
		want  string
	}{
		{0, orb.Point{1, 0}, "east"}, {0, orb.Point{1, 1}, "north-east"}, {0, orb.Point{-1, 0.1}, "west"},
		{0, orb.Point{1, -1}, "south-east"}, {0, orb.Point{0.1, -1}, "south"},
		// True north 90° anticlockwise from the top of the sheet: the sheet's left.
		{90, orb.Point{-1, 0}, "north"}, {90, orb.Point{0, 1}, "east"},
	} {
		p := &Plan{Site: Site{NorthDeg: c.north}}
		if got := p.Compass(origin, c.to); got != c.want {
			t.Errorf("north %v°, to %v: %s, want %s", c.north, c.to, got, c.want)
		}
	}
}

func TestWhatIsNotFinishedIsSaid(t *testing.T) {
	p := &Plan{
		Zones: map[ID]Zone{"z1": {Name: "Front", Station: 1}, "z2": {Name: "Back", Station: 2, ValveAt: &Spot{X: 3, Y: 4}}, "z3": {Status: Remove}},
		Heads: map[ID]Head{"h1": {Tag: "1-1", Zone: "z1"}, "h2": {X: 4, Y: 2}, "h3": {Status: Remove}},
	}
	got := slices.DeleteFunc(Check(p), func(f Finding) bool { return f.Code != HeadWithoutZone && f.Code != ZoneWithoutHeads })
	if len(got) != 2 || got[0].Code != HeadWithoutZone || got[1].Code != ZoneWithoutHeads {
		t.Fatalf("found %+v", got)
	}
	if got[0].Sentence != "Head at 4, 2 ft is in no zone." || got[1].Sentence != "Zone 2 (Back) has no heads." {
		t.Errorf("sentences %q and %q", got[0].Sentence, got[1].Sentence)
	}
	if *got[0].At != (orb.Point{4, 2}) || *got[1].At != (orb.Point{3, 4}) {
		t.Errorf("places %v and %v", *got[0].At, *got[1].At)
	}
}
