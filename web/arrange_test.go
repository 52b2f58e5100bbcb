package web

import (
	"bufio"
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/arrange"
	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// madeUp is a proposal of one area: four heads in the corners of the yard, moved
// a foot inwards for each n.
func madeUp(n int) *arrange.Proposal {
	patch := plan.Patch(`{"heads":{"h9":{"nozzle":"n1","body":"b1","x_ft":7,"y_ft":7,"sweep_deg":360}}}`)
	in := float64(n)
	heads := []arrange.Placed{
		{ID: "h1", At: orb.Point{in, in}, Sweep: 90, Throw: 15, Nozzle: "n1", Body: "b1", Flow: 0.9},
		{ID: "h2", At: orb.Point{15 - in, in}, Start: 90, Sweep: 90, Throw: 14, Turned: true, Nozzle: "n1", Body: "b1", Flow: 0.8},
		{ID: "h3", At: orb.Point{7, 7}, Sweep: 360, Throw: 8, Nozzle: "spray-8-f", Body: "body-4", Flow: 1.6, Stays: true},
		{ID: "h4", At: orb.Point{1, 14}, Throw: 9, Nozzle: "strip-end-15", Body: "body-4"},
	}
	m := arrange.Measures{
		Heads: 4, DU: 0.91, CU: 0.93, FieldMean: 0.82, FieldP10: 0.78, Driest2: 0.55, Mean: 1.6, Flow: 3.3, PastEdge: 0.042, Settings: 3, HeadToHead: 0.9, Minutes: 61.4,
		Past: []arrange.Past{{Surface: "a2", Name: "Walk", Kind: plan.Paving, Share: 0.03}, {Surface: "undrawn", Share: 0.012}},
	}
	return &arrange.Proposal{
		Answers: []arrange.Answer{{Area: "a1", Layouts: []arrange.Layout{{
			Area: "a1", Family: catalog.Spray, Tidy: true, Heads: heads, Measures: m, Says: "Four heads at the corners.", Patch: patch,
		}}}},
		Offers:      []arrange.Offer{{Name: "Neatest", Says: "Equal steps.", Picks: []arrange.Pick{{Area: "a1"}}, Total: m, Patch: patch, Label: "Arrange Front lawn"}},
		Evaluations: 1000 * (n + 1), Notes: []string{"Made up."},
	}
}

// searches puts made-up searches in the place of the site's.
func (f *fixture) searches(change func(*proposers)) { change(&f.site.search) }

func (f *fixture) asks(path string, into any) int {
	f.t.Helper()
	w := f.do("GET", "/api/plans/"+f.plan.ID+path, "")
	if err := json.Unmarshal(w.Body.Bytes(), into); err != nil {
		f.t.Fatalf("%s: %v: %.200s", path, err, w.Body)
	}
	return w.Code
}

func TestLayoutsAreToldInWordsWithWhatDrawsThem(t *testing.T) {
	f := newFixture(t)
	var asked arrange.Options
	f.searches(func(s *proposers) {
		s.arrange = func(_ context.Context, _ *plan.Plan, o arrange.Options, _ func(arrange.Stage)) (*arrange.Proposal, error) {
			asked = o
			return madeUp(0), nil
		}
	})
	var v ArrangeView
	if code := f.asks("/arrange?rev=1&areas=a1&families=spray&hard=1&seed=5", &v); code != http.StatusOK {
		t.Fatal(code, v)
	}
	if len(asked.Areas) != 1 || asked.Areas[0] != "a1" || asked.Seed != 5 || asked.Hard != 0.01 || asked.Families[0] != catalog.Spray {
		t.Errorf("asked %+v", asked)
	}
	if !v.Offered || !v.Whole || v.Rev != 1 || v.Says != "1 offer for 1 area." || v.Evaluations != "1,000 layouts weighed" || v.Caution == "" {
		t.Errorf("%+v", v)
	}
	figures := map[string]Figure{}
	for i, c := range v.Columns {
		figures[c.ID] = v.Offers[0].Figures[i]
	}
	for id, want := range map[string]Figure{
		"heads": {"4", 4, ""}, "evenness": {"91 %", 0.91, "good"}, "field_low": {"78 %", 0.78, ""}, "past": {"4.2 %", 0.042, ""},
		"hard": {"3.0 %", 0.03, "poor"}, "flow": {"3.30 gpm", 3.3, ""}, "minutes": {"62 min", 61.4, ""},
	} {
		if figures[id] != want {
			t.Errorf("%s: %+v, want %+v", id, figures[id], want)
		}
	}
	a := v.Answers[0]
	if a.Name != "Front lawn" || len(a.Rings) != 1 || len(a.Rings[0]) != 5 || len(a.Layouts) != 1 {
		t.Fatalf("%+v", a)
	}
	y := a.Layouts[0]
	if y.Kind != "sprays" || y.Label != "Arrange Front lawn" || y.Past[0] != (LabelledText{"Walk", "3.0 %"}) || y.Past[1] != (LabelledText{"Ground not drawn", "1.2 %"}) || len(y.Patch) == 0 {
		t.Errorf("%+v", y)
	}
	for i, says := range []string{"Spray 15: 90° at 15' 0\"", "Spray 15: 90° at 14' 0\", turned down", "Spray 8 ft, full: 360° at 8' 0\"; it stays"} {
		if y.Heads[i].Says != says {
			t.Errorf("head %d: %q, want %q", i, y.Heads[i].Says, says)
		}
	}
	if y.Heads[3].Strip == nil || !y.Heads[2].Stays || y.Heads[0].Strip != nil {
		t.Errorf("%+v", y.Heads)
	}
	m := y.Map
	if m == nil || m.NX > 64 || m.NY > 64 || len(m.Cells) != m.NX*m.NY {
		t.Fatalf("%+v", m)
	}
	middle := m.Cells[int((7-m.Y)/m.Cell)*m.NX+int((7-m.X)/m.Cell)]
	if middle < 1 || middle > 200 || m.Cells[0] != 0 {
		t.Errorf("in the middle of the lawn the map has %d, in its corner %d", middle, m.Cells[0])
	}
}

// Better answers come on lines of their own while it is sought, each whole in
// itself: the first at once, the last as the value, and nothing after it. A page
// that takes no lines gets the value alone.
func TestBetterLayoutsReplaceEachOther(t *testing.T) {
	f := newFixture(t)
	f.searches(func(s *proposers) {
		s.arrange = func(_ context.Context, _ *plan.Plan, _ arrange.Options, tell func(arrange.Stage)) (*arrange.Proposal, error) {
			tell(arrange.Stage{Done: 0, Total: 100, Words: "Front lawn"})
			for n := range 50 {
				tell(arrange.Stage{Done: 2 * n, Total: 100, Words: "Front lawn", Best: madeUp(n)})
			}
			return madeUp(50), nil
		}
	})
	w := f.do("GET", "/api/plans/"+f.plan.ID+"/arrange", "", asLines)
	bests, steps := 0, 0
	list := strings.Split(strings.TrimSpace(w.Body.String()), "\n")
	for i, text := range list {
		var l struct {
			Step  string       `json:"step"`
			Best  *ArrangeView `json:"best"`
			Value *ArrangeView `json:"value"`
		}
		if err := json.Unmarshal([]byte(text), &l); err != nil {
			t.Fatal(err)
		}
		switch {
		case l.Best != nil:
			bests++
			if l.Best.Whole || !l.Best.Offered || len(l.Best.Offers) != 1 || bests == 1 && l.Best.Evaluations != "1,000 layouts weighed" {
				t.Errorf("line %d: %+v", i, l.Best)
			}
		case l.Value != nil:
			if i != len(list)-1 || !l.Value.Whole || l.Value.Evaluations != "51,000 layouts weighed" {
				t.Errorf("line %d of %d: %+v", i, len(list), l.Value)
			}
		default:
			steps++
		}
	}
	if bests < 1 || bests > 50 || steps < 10 {
		t.Errorf("%d better ones and %d steps in %d lines", bests, steps, len(list))
	}
	var v ArrangeView
	if code := f.asks("/arrange", &v); code != http.StatusOK || !v.Whole {
		t.Errorf("without lines: %d %+v", code, v)
	}
}

// An answer on the way makes a few maps and keeps those it has; the whole one has
// them all.
func TestMapsOfManyLayoutsComeAFewAtATime(t *testing.T) {
	p, err := plan.Decode([]byte(yard))
	if err != nil {
		t.Fatal(err)
	}
	found := madeUp(0)
	y := found.Answers[0].Layouts[0]
	found.Answers[0].Layouts = nil
	const n = 2*newMaps + 3
	for i := range n {
		heads := append([]arrange.Placed{}, y.Heads...)
		heads[0].At[0] = float64(i) / 10
		other := y
		other.Heads = heads
		found.Answers[0].Layouts = append(found.Answers[0].Layouts, other)
	}
	words := layoutWords{p: p, rev: 1, maps: mapsOf(p)}
	for round, whole := range []bool{false, false, true} {
		made := 0
		for _, y := range words.view(t.Context(), found, whole).Answers[0].Layouts {
			if y.Map != nil {
				made++
			}
		}
		if want := []int{newMaps, 2 * newMaps, n}[round]; made != want {
			t.Errorf("round %d: %d maps, want %d", round, made, want)
		}
	}
}

// A page that calls a search off has the last it was told, and the search ends.
func TestACalledOffSearchEndsAndKeepsWhatItTold(t *testing.T) {
	f := newFixture(t)
	f.searches(func(s *proposers) {
		s.arrange = func(ctx context.Context, _ *plan.Plan, _ arrange.Options, tell func(arrange.Stage)) (*arrange.Proposal, error) {
			tell(arrange.Stage{Done: 1, Total: 100, Best: madeUp(0)})
			<-ctx.Done()
			return madeUp(0), ctx.Err()
		}
	})
	srv := httptest.NewServer(f.h)
	defer srv.Close()
	f.site.Hosts = append(f.site.Hosts, srv.Listener.Addr().String())
	ctx, callOff := context.WithCancel(t.Context())
	r, err := http.NewRequestWithContext(ctx, "GET", srv.URL+"/api/plans/"+f.plan.ID+"/arrange?rev=1", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Accept", lines)
	answer, err := srv.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	first, err := bufio.NewReader(answer.Body).ReadString('\n')
	if err != nil || !strings.HasPrefix(first, `{"best":{`) {
		t.Fatalf("%v: %.100s", err, first)
	}
	callOff()
	answer.Body.Close()
	ends(t, f.site)
	if saved, err := f.store.Load(t.Context(), f.plan.ID); err != nil || saved.Rev != 1 {
		t.Errorf("revision %d, %v", saved.Rev, err)
	}
}

func TestNoLayoutIsAnAnswerWithItsReason(t *testing.T) {
	f := newFixture(t)
	f.searches(func(s *proposers) {
		s.arrange = func(_ context.Context, _ *plan.Plan, o arrange.Options, _ func(arrange.Stage)) (*arrange.Proposal, error) {
			if len(o.Areas) == 0 {
				return nil, &arrange.Refusal{At: "areas/a1", Sentence: "the heads that stay are of two rates."}
			}
			return &arrange.Proposal{Answers: []arrange.Answer{{Area: "a1", Why: "No place keeps its distance."}}}, nil
		}
	})
	var v ArrangeView
	if code := f.asks("/arrange", &v); code != http.StatusOK || v.Offered || v.Says != "The heads that stay are of two rates." || v.At != "areas/a1" || v.Offers == nil || v.Answers == nil {
		t.Errorf("%d %+v", code, v)
	}
	v = ArrangeView{}
	if code := f.asks("/arrange?areas=a1", &v); code != http.StatusOK || v.Offered || v.Says != "No place keeps its distance." || len(v.Answers) != 1 {
		t.Errorf("%d %+v", code, v)
	}
}

// What is asked wrongly is refused in a sentence before anything is sought; of
// another revision it is told so.
func TestSearchesRefuseWhatTheyCannotRead(t *testing.T) {
	f := newFixture(t)
	for _, path := range []string{"arrange", "improve", "group"} {
		f.play(t, []scenario{
			{name: path + " of another revision", method: "GET", path: "/api/plans/PLAN/" + path + "?rev=7", status: 412, has: []string{`"rev":1`}},
			{name: path + " of no plan", method: "GET", path: "/api/plans/0/" + path, status: 404},
			{name: path + " of no area", method: "GET", path: "/api/plans/PLAN/" + path + "?areas=a9", status: 422, has: []string{"No area of the plan is called"}},
			{name: path + " of a walk", method: "GET", path: "/api/plans/PLAN/" + path + "?areas=Walk", status: 422, has: []string{"is not a planting area"}},
			{name: path + " with too much effort", method: "GET", path: "/api/plans/PLAN/" + path + "?effort=1e9", status: 422, has: []string{"from 1 to"}},
			{name: path + " with no seed", method: "GET", path: "/api/plans/PLAN/" + path + "?seed=x", status: 422, has: []string{"is not a number"}},
		})
	}
	f.play(t, []scenario{
		{name: "options of another revision", method: "GET", path: "/api/plans/PLAN/arrange/options?rev=7", status: 412},
		{name: "a share past all", method: "GET", path: "/api/plans/PLAN/arrange?hard=120", status: 422, has: []string{"from 0 to 100"}},
		{name: "a limit of nothing", method: "GET", path: "/api/plans/PLAN/group?limit=0", status: 422, has: []string{"from 0.1"}},
	})
}

func TestOptionsTellAreasStockAndRules(t *testing.T) {
	f := newFixture(t)
	f.plan = f.keep(strings.Replace(yard, `"site":`, `"options":{"local_rules":{"setback_paving":{"feet":0.5,"source":"County code 12"}}},"site":`, 1))
	var v ArrangeOptions
	if code := f.asks("/arrange/options?rev=1", &v); code != http.StatusOK {
		t.Fatal(code)
	}
	if len(v.Areas) != 1 {
		t.Fatalf("%+v", v.Areas)
	}
	a := v.Areas[0]
	if a.ID != "a1" || a.Name != "Front lawn" || a.Cover != "turf" || !a.Can || a.Heads != 4 || a.Says != "4 heads make room" || a.Width == "" || a.Family == "" || a.Suggests == "" || a.Size != "225 ft²" {
		t.Errorf("%+v", a)
	}
	own := 0
	for _, s := range v.Families {
		if s.Name == "" || s.Says == "" || len(s.Nozzles) == 0 {
			t.Errorf("%+v", s)
		}
		for _, n := range s.Nozzles {
			if n.Own {
				own++
				if n.ID != "n1" || n.Used != 4 || n.Says != "any arc, throw 15' 0\", 3.70 gpm for the full circle at 30 psi" {
					t.Errorf("%+v", n)
				}
			}
			if n.Name == "" || n.Says == "" {
				t.Errorf("%+v", n)
			}
		}
	}
	if len(v.Families) != 4 || own != 1 {
		t.Errorf("%d families, %d own nozzles", len(v.Families), own)
	}
	for _, list := range [][]ChoiceView{v.Angles, v.Throws, v.Efforts} {
		usual := 0
		for _, c := range list {
			if c.Usual {
				usual++
			}
		}
		if usual != 1 {
			t.Errorf("%d usual ones in %+v", usual, list)
		}
	}
	if len(v.Rules) != len(plan.LocalRuleRows()) {
		t.Errorf("%d rules", len(v.Rules))
	}
	for _, r := range v.Rules {
		if edited := r.ID == plan.SetBackPaving; r.Edited != edited || edited && (r.Value != `6"` || r.Source != "County code 12" || r.Usual != `4"`) || r.Words == "" || r.Source == "" {
			t.Errorf("%+v", r)
		}
	}
	if v.Group.GPM <= 0 || v.Group.Days != 3 || v.Seed != 1 || len(v.Limits) != 3 {
		t.Errorf("%+v", v)
	}
	// Asked with its own values, it is taken.
	for _, c := range append(v.Angles, v.Throws...) {
		if _, err := arrange.Asked(plan.Empty("x", "us"), func(name string) string {
			if name == "angle" && c.Words == c.Value+"°" {
				return c.Value
			}
			return ""
		}); err != nil {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
