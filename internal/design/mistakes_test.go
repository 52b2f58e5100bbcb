package design

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// plans is where the plans of the tests are.
const plans = "../../testdata/plans"

func load(t *testing.T, name string) *plan.Plan {
	t.Helper()
	doc, err := os.ReadFile(filepath.Join(plans, name))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return p
}

func run(t *testing.T, p *plan.Plan) *Design {
	t.Helper()
	d, err := Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// codes lists findings as "rank code", worst first.
func codes(findings []plan.Finding) []string {
	var out []string
	for _, f := range findings {
		word := string(f.Rank) + " " + f.Code
		if f.Accepted != nil {
			word += " (accepted)"
		}
		out = append(out, word)
	}
	return out
}

// Each lot has one mistake that a beginner makes, and its twin has it mended:
// the one fires its finding and nothing else, the other nothing at all.
func TestEachMistakeIsFoundAndItsMendedTwinIsClean(t *testing.T) {
	cases := []struct{ lot, want string }{
		{"01-rates-mixed", "stop " + plan.RatesMixed},
		{"02-rotor-nozzle-by-arc", "stop " + plan.RotorNozzleByArc},
		{"03-heads-too-far", "stop " + plan.SpacingWide},
		{"03-dry-patch", "stop " + plan.DryPatch},
		{"03-rows-stretched", "stop " + plan.SpacingWide},
		{"04-neighbour-faces-away", "mend " + plan.NeighbourFacesAway},
		{"05-no-corner-head", "mend " + plan.CornerBare},
		{"06-arc-wets-walk", "stop " + plan.ThrowOnPaving},
		{"06-zone-wets-walk", "stop " + plan.ThrowOnPaving},
		{"06-arc-over-gravel", "mend " + plan.ThrowOnGround},
		{"06-arc-over-undrawn", "mend " + plan.ThrowUndrawn},
		{"06-band-wetted", "mend " + plan.BandWetted},
		{"07-spray-on-wall", "mend " + plan.SprayOnWall},
		{"08-thin-strip", "stop " + plan.NarrowStrip},
		{"09-close-to-paving", "mend " + plan.HeadCloseToPaving},
		{"09-own-set-back", "mend " + plan.SetBackLocal},
		{"10-turned-down", "mend " + plan.TurnedDownFar},
		{"11-pop-up-short", "mend " + plan.PopupShort},
		{"12-tree-in-throw", "mend " + plan.ThingInThrow},
		{"13-beds-and-lawn", "mend " + plan.PlantingsMixed},
		{"14-sun-and-shade", "mend " + plan.ExposureMixed},
		{"15-over-design-flow", "stop " + plan.ZoneOverFlow},
		{"16-low-valve-flow", "note " + plan.LowValveFlow},
		{"17-flow-by-bucket", "mend " + plan.SupplyRough},
		{"17-pressure-alone", "mend " + plan.SupplyRough},
		{"18-meter-overdrawn", "mend " + plan.MeterOverdrawn},
		{"21-spray-misting", "note " + plan.SprayMisting},
		{"21-no-regulator", "mend " + plan.PressureHigh},
		{"24-no-backflow", "note " + plan.NoBackflow},
		{"30-low-heads", "note " + plan.LowHeads},
		{"34-over-gas-line", "stop " + plan.NoDigging},
		{"34-in-root-zone", "mend " + plan.RootsCut},
		{"35-valve-by-walk", "mend " + plan.ValvePlace},
		{"35-valve-in-low-spot", "mend " + plan.ValvePlace},
		{"36-splice-in-soil", "mend " + plan.SpliceUnboxed},
		{"36-little-slack", "mend " + plan.SlackShort},
		{"37-wire-too-thin", "stop " + plan.WireThin},
		{"38-stations-short", "mend " + plan.StationsShort},
		{"38-no-spare-station", "note " + plan.StationsShort},
		{"39-sensor-wetted", "mend " + plan.SensorWetted},
		{"39-sensor-under-roof", "note " + plan.SensorWetted},
		{"39-sensor-under-tree", "mend " + plan.SensorWetted},
		{"39-sensor-under-eaves", "note " + plan.SensorWetted},
		{"39-sensor-low", "note " + plan.SensorWetted},
		{"40-steep-bank", "mend " + plan.SlopeRate},
		{"40-starts-few", "mend " + plan.CyclesShort},
		{"41-two-short-nights", "mend " + plan.WindowShort},
		{"42-nothing-assigned", "mend " + plan.NothingAssigned},
		{"42-point-source", "note " + plan.NoHeadsNeeded},
		{"43-edge-shared", "mend " + plan.EdgeShared},
		{"44-outside-table", "stop " + plan.OutsideTable},
		{"44-nozzle-does-not-fit", "stop " + plan.NozzleNotFitting},
		{"45-head-without-zone", "mend " + plan.HeadWithoutZone},
		{"45-zone-without-heads", "mend " + plan.ZoneWithoutHeads},
		{"45-valve-without-place", "note " + plan.ValveWithoutPlace},
		{"24-pipe-not-potable", "mend " + plan.PipeNotPotable},
		{"32-size-not-made", "mend " + plan.SizeNotMade},
		{"32-class-under-pressure", "mend " + plan.ClassUnderPressure},
		{"33-size-grows", "mend " + plan.SizeGrows},
		{"45-pipes-loose", "mend " + plan.PipesLoose},
		{"45-heads-without-pipe", "mend " + plan.HeadsWithoutPipe},
		{"45-zone-without-pipe", "note " + plan.HeadsWithoutPipe},
		{"45-lateral-without-valve", "stop " + plan.LateralWithoutValve},
		{"45-zones-joined", "stop " + plan.ZonesJoined},
		{"45-valve-doubled", "mend " + plan.ValveDoubled},
		{"45-pipe-of-other-zone", "mend " + plan.PipeOfOtherZone},
		{"45-pipe-ends", "note " + plan.PipeEnds},
		{"45-pipe-off-place", "mend " + plan.PipeOffPlace},
		{"17-flow-by-container", "mend " + plan.SupplyRough},
		{"17-readings-crossed", "mend " + plan.SupplyRough},
		{"19-water-too-fast", "mend " + plan.VelocityHigh},
		{"20-heads-starved", "stop " + plan.HeadsStarved},
		{"21-misting-as-it-runs", "note " + plan.SprayMisting},
		{"21-heads-over-table", "mend " + plan.HeadsHigh},
		{"22-pressures-apart", "mend " + plan.PressureSpread},
		{"23-climb-forgotten", "stop " + plan.ClimbForgotten},
		{"24-double-check", "note " + plan.BackflowDoubtful},
		{"24-breaker-pushed-back", "stop " + plan.BackflowUnfit},
		{"24-fertilizer-by-breaker", "stop " + plan.BackflowUnfit},
		{"24-taps-after-device", "mend " + plan.TapsAfterDevice},
		{"25-breaker-low", "stop " + plan.BreakerLow},
		{"26-atmospheric-in-main", "stop " + plan.BreakerMisplaced},
		{"27-no-isolation", "mend " + plan.NoIsolation},
		{"31-no-drain", "mend " + plan.FreezeUnready},
		{"31-frost-not-said", "note " + plan.FreezeUnready},
		{"28-sleeve-missing", "mend " + plan.SleeveMissing},
		{"28-sleeve-small", "mend " + plan.SleeveSmall},
		{"28-sleeve-short", "mend " + plan.SleeveShort},
		{"28-bore-long", "note " + plan.BoreLong},
		{"29-wire-with-pipe", "mend " + plan.SleeveShared},
		{"29-no-spare-conductor", "note " + plan.SleeveShared},
		{"29-no-spare-sleeve", "note " + plan.SleeveShared},
		{"34-trench-by-trunk", "mend " + plan.RootsCut},
		{"34-trench-over-gas", "stop " + plan.NoDigging},
		{"34-trench-through-shed", "mend " + plan.TrenchAstray},
		{"34-trench-off-lot", "mend " + plan.TrenchAstray},
		{"35-valve-under-hedge", "mend " + plan.ValvePlace},
		{"46-existing-bought", "mend " + plan.ExistingBought},
		{"47-leaves-lot", "mend " + plan.LeavesLot},
		{"48-no-locate-request", "note " + plan.LocateMissing},
		{"49-heads-doubled", "stop " + plan.HeadsDoubled},
		{"49-areas-doubled", "mend " + plan.AreasDoubled},
	}
	tested := map[string]bool{}
	for _, c := range cases {
		t.Run(c.lot, func(t *testing.T) {
			d := run(t, load(t, "mistakes/"+c.lot+".json"))
			if got := codes(d.Findings); !slices.Equal(got, []string{c.want}) {
				t.Errorf("found %v, want %s", got, c.want)
			}
			for _, f := range d.Findings {
				checkWords(t, f)
			}
			if got := codes(run(t, load(t, "mistakes/"+c.lot+"-mended.json")).Findings); len(got) > 0 {
				t.Errorf("the mended twin has %v", got)
			}
		})
		tested[c.lot+".json"], tested[c.lot+"-mended.json"] = true, true
	}
	files, err := filepath.Glob(filepath.Join(plans, "mistakes", "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !tested[filepath.Base(f)] {
			t.Errorf("%s is in no test", f)
		}
	}
}

// checkWords holds a finding to how findings are to read.
func checkWords(t *testing.T, f plan.Finding) {
	t.Helper()
	if f.Sentence == "" || !strings.HasSuffix(f.Sentence, ".") || f.Sentence[:1] != strings.ToUpper(f.Sentence[:1]) {
		t.Errorf("%s: not a sentence: %q", f.Code, f.Sentence)
	}
	if len(f.About) == 0 || !slices.IsSorted(f.About) {
		t.Errorf("%s: about %v", f.Code, f.About)
	}
	placeless := []string{plan.NoHeadsNeeded, plan.ZoneWithoutHeads, plan.ValveWithoutPlace, plan.LocateMissing}
	if f.At == nil && !slices.Contains(placeless, f.Code) {
		t.Errorf("%s: no place to look at", f.Code)
	}
	for name, text := range map[string]string{"title": f.Title, "sentence": f.Sentence, "why": f.Why, "do": f.Do, "source": f.Source} {
		if strings.TrimSpace(text) == "" {
			t.Errorf("%s has no %s", f.Code, name)
		}
		for _, word := range []string{"nvalid", "llegal", "failed to parse", "oops", "%!", "NaN", "Inf", "{", "}", "! ", "  "} {
			if strings.Contains(text, word) {
				t.Errorf("%s: the %s says %q: %s", f.Code, name, word, text)
			}
		}
		if n := len(sentenceEnd.FindAllString(text, -1)); n > 1 {
			t.Errorf("%s: the %s has more than two sentences: %s", f.Code, name, text)
		}
	}
}

// sentenceEnd is where one sentence ends and another begins.
var sentenceEnd = regexp.MustCompile(`[.!?] [A-Z]`)

// The demo opens with two honest mistakes of different kind, and nothing else is
// wrong with it.
func TestDemoShowsItsTwoMistakesAndNoThird(t *testing.T) {
	d := run(t, load(t, "demo.json"))
	want := []string{
		"stop " + plan.RatesMixed, "stop " + plan.SpacingWide,
		"note " + plan.LowValveFlow, "note " + plan.LowHeads, "note " + plan.LowHeads, "note " + plan.NoHeadsNeeded, "note " + plan.LeavesLot,
		"note " + plan.TurnedDownFar + " (accepted)",
	}
	if diff := cmp.Diff(want, codes(d.Findings)); diff != "" {
		t.Errorf("findings differ (-want +got):\n%s", diff)
	}
	if want := []plan.Ref{"heads/h2-3", "heads/h2-4", "zones/z2"}; !slices.Equal(d.Findings[0].About, want) {
		t.Errorf("rates mixed: about %v, want %v", d.Findings[0].About, want)
	}
	if want := []plan.Ref{"areas/front-lawn", "heads/h1-6", "heads/h2-8"}; !slices.Equal(d.Findings[1].About, want) {
		t.Errorf("spacing: about %v, want %v", d.Findings[1].About, want)
	}
	for _, f := range d.Findings {
		checkWords(t, f)
	}
	for i, want := range []string{"Heads 1-1 and 1-5 of zone 1", "Heads 3-1, 3-2, 3-3, 3-4, 3-5 and 3-6 of zone 3"} {
		if got := d.Findings[3+i].Sentence; !strings.HasPrefix(got, want) {
			t.Errorf("low heads: %q does not begin %q", got, want)
		}
	}
}

func TestMendedDemoHasNotesOnly(t *testing.T) {
	want := []string{
		"note " + plan.LowValveFlow, "note " + plan.LowHeads, "note " + plan.LowHeads, "note " + plan.NoHeadsNeeded, "note " + plan.LeavesLot,
		"note " + plan.TurnedDownFar + " (accepted)",
	}
	if diff := cmp.Diff(want, codes(run(t, load(t, "demo-mended.json")).Findings)); diff != "" {
		t.Errorf("findings differ (-want +got):\n%s", diff)
	}
}

// Doing what the finding says mends it: head 2-8 goes 14 ft west, and the dry
// patch is gone.
func TestMovingHeadAsTheFindingSaysClosesTheGap(t *testing.T) {
	p := load(t, "demo.json")
	before := run(t, p)
	sentence := before.Findings[1].Sentence
	if !strings.Contains(sentence, "Move head 2-8 about 14 ft west") {
		t.Fatalf("the finding says %q", sentence)
	}
	if len(before.Coverage.Gaps) == 0 {
		t.Fatal("the demo has no dry patch")
	}
	h := p.Heads["h2-8"]
	h.X -= 14
	p.Heads["h2-8"] = h
	after := run(t, p)
	if gaps := after.Coverage.Gaps; len(gaps) > 0 {
		t.Errorf("dry patches left: %+v", gaps)
	}
	if got := codes(after.Findings); slices.Contains(got, "stop "+plan.SpacingWide) {
		t.Errorf("the spacing is still found: %v", got)
	}
}

// The note the demo opens with says that anything from 11 to 14 ft west closes
// its dry patch: 12 ft is where the head belongs, 14 what the finding says.
func TestTheDemosNoteTellsTheTruth(t *testing.T) {
	for feet := 11; feet <= 14; feet++ {
		p := load(t, "demo.json")
		h := p.Heads["h2-8"]
		h.X -= units.Feet(feet)
		p.Heads["h2-8"] = h
		d := run(t, p)
		found := codes(d.Findings)
		if len(d.Coverage.Gaps) > 0 || slices.Contains(found, "stop "+plan.SpacingWide) {
			t.Errorf("%d ft west leaves %d dry patches, found %v", feet, len(d.Coverage.Gaps), found)
		}
	}
}

// usUnits are figures in US units.
var usUnits = regexp.MustCompile(`[0-9] (ft²|in/h|gpm|psi|ft|in)\b|[0-9]['"]`)

// Every finding there is a lot for says what is wrong and where, why it matters,
// what to do and by which rule, calmly and in two sentences at most.
func TestRowA28_FindingsSayWhatWhereWhyAndWhatToDo(t *testing.T) {
	lots, err := filepath.Glob(filepath.Join(plans, "mistakes", "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, lot := range append(lots, filepath.Join(plans, "demo.json")) {
		for _, f := range run(t, load(t, strings.TrimPrefix(lot, plans+"/"))).Findings {
			checkWords(t, f)
			seen[f.Code] = true
		}
	}
	for code := range plan.Rules {
		if !seen[code] {
			t.Errorf("no lot shows %s", code)
		}
	}
}

// A plan in metres is told of in metres: what is wrong, why, what to do, and by
// which rule, of every mistake there is a lot for.
func TestFindingsAreInThePlansUnits(t *testing.T) {
	lots, err := filepath.Glob(filepath.Join(plans, "mistakes", "*.json"))
	if err != nil || len(lots) < 60 {
		t.Fatal(err, len(lots))
	}
	for _, lot := range append(lots, filepath.Join(plans, "demo.json")) {
		p := load(t, strings.TrimPrefix(lot, plans+"/"))
		p.Show = units.Metric
		for _, f := range run(t, p).Findings {
			for _, text := range []string{f.Title, f.Sentence, f.Why, f.Do, f.Source} {
				if unit := usUnits.FindString(text); unit != "" {
					t.Errorf("%s: %s speaks of %q: %s", filepath.Base(lot), f.Code, unit, text)
				}
			}
		}
	}
	p := load(t, "demo.json")
	p.Show = units.Metric
	d := run(t, p)
	if want := "13.11 m"; !strings.Contains(d.Findings[1].Sentence, want) { // 43.01 ft
		t.Errorf("%q does not name %s", d.Findings[1].Sentence, want)
	}
}

// An acceptance ends when the mistake grows.
func TestAcceptedFindingReturnsWhenAThirdHeadJoinsIt(t *testing.T) {
	p := load(t, "demo.json")
	third := p.Heads["h6-1"]
	third.Tag, third.X = "6-9", third.X+0.5
	p.Heads["h6-9"] = third
	got := codes(run(t, p).Findings)
	if !slices.Contains(got, "mend "+plan.TurnedDownFar) {
		t.Errorf("found %v", got)
	}
}

func ExampleRun() {
	doc, err := os.ReadFile(filepath.Join(plans, "demo.json"))
	if err != nil {
		panic(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		panic(err)
	}
	d, err := Run(context.Background(), p)
	if err != nil {
		panic(err)
	}
	for _, f := range d.Findings[:2] {
		fmt.Println(f.Rank, f.Title)
	}
	// Output:
	// stop Rates mixed on one valve
	// stop Dry patch: heads too far apart
}
