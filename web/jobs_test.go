package web

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"evenfall/internal/plan"
)

// line is one line of a job's answer.
type line struct {
	Step   string          `json:"step"`
	Share  float64         `json:"share"`
	Value  json.RawMessage `json:"value"`
	Error  string          `json:"error"`
	Status int             `json:"status"`
}

func linesOf(t *testing.T, body string) []line {
	t.Helper()
	var list []line
	for text := range strings.Lines(body) {
		var l line
		if err := json.Unmarshal([]byte(text), &l); err != nil {
			t.Fatalf("%q is not a line of JSON: %v", text, err)
		}
		list = append(list, l)
	}
	return list
}

const asLines = "Accept: " + lines

// A page that takes lines is told the steps of a job in order and gets the value
// last; the value is what any other gets at once.
func TestRowA25_JobsTellHowFarTheyAre(t *testing.T) {
	told := 0
	for _, path := range []string{"field", "windy", "estimate"} {
		f := newFixture(t)
		w := f.do("GET", "/api/plans/"+f.plan.ID+"/"+path, "", asLines)
		if got := w.Header().Get("Content-Type"); w.Code != http.StatusOK || !strings.HasPrefix(got, lines) {
			t.Fatalf("%s: %d, %s", path, w.Code, got)
		}
		list := linesOf(t, w.Body.String())
		last := list[len(list)-1]
		if last.Value == nil || len(list) < 4 {
			t.Fatalf("%s: %d lines, the last %+v", path, len(list), last)
		}
		share := -1.0
		told += len(list) - 1
		for _, l := range list[:len(list)-1] {
			if l.Step == "" || !(l.Share > share && l.Share <= 1) || l.Value != nil || l.Error != "" {
				t.Errorf("%s: after a share of %g comes %+v", path, share, l)
			}
			share = l.Share
		}
		plain := newFixture(t)
		w = plain.do("GET", "/api/plans/"+plain.plan.ID+"/"+path, "")
		if got, want := strings.TrimSpace(w.Body.String()), string(last.Value); got != want {
			t.Errorf("%s: without lines %.200s, with %.200s", path, got, want)
		}
		if f.site.Jobs() != 0 || plain.site.Jobs() != 0 {
			t.Errorf("%s: jobs go on", path)
		}
	}
	t.Logf("shown: 3 jobs told of %d steps, each with a greater share", told)
}

// A page that shows another revision than the stored one is told so, before and
// whatever it asks for.
func TestRowA25_JobsAreOfOneRevision(t *testing.T) {
	f := newFixture(t)
	for _, path := range []string{"field", "windy", "estimate"} {
		f.play(t, []scenario{
			{name: path + " of the revision", method: "GET", path: "/api/plans/PLAN/" + path + "?rev=1", status: 200, has: []string{`"rev":1`}},
			{name: path + " of another", method: "GET", path: "/api/plans/PLAN/" + path + "?rev=7", status: 412, has: []string{`"rev":1`}, header: []string{asLines}},
			{name: path + " of no plan", method: "GET", path: "/api/plans/0/" + path, status: 404, header: []string{asLines}},
		})
	}
}

// Map and readings of the what-ifs come together, with the assumption they rest
// on and nothing of another revision; the water at a place is told from the same
// map.
func TestWhatIfsSayWhatTheyRestOn(t *testing.T) {
	f := newFixture(t)
	f.play(t, []scenario{
		{name: "wind at a place before", method: "GET", path: "/api/plans/PLAN/rate?x=7&y=7&as=windy", status: 409, has: []string{"has not been worked out"}},
		{name: "nonsense at a place", method: "GET", path: "/api/plans/PLAN/rate?x=7&y=7&as=rainy", status: 409},
	})
	says := map[string][]string{
		"field": {"Heads set by hand", `3"`, "5 % of throw and flow", "5° of arc", "typical of 40 installations", "1 in 10 comes out under "},
		"windy": {"8 mph from the west", "about 16 % of its distance further downwind", "an assumption, not a measurement"},
	}
	labels := map[string]string{"field": "Field estimate, the mean of 40 installations", "windy": "Uniformity in a wind of 8 mph from the west"}
	for kind, words := range says {
		var v WhatIf
		body := f.do("GET", "/api/plans/"+f.plan.ID+"/"+kind, "").Body.Bytes()
		if err := json.Unmarshal(body, &v); err != nil {
			t.Fatal(err)
		}
		if v.Kind != kind || v.Rev != 1 || len(v.Cells) != v.Frame.NX*v.Frame.NY || len(v.Cells) == 0 || v.Gaps == nil {
			t.Errorf("%s: kind %s of revision %d with %d cells in %+v", kind, v.Kind, v.Rev, len(v.Cells), v.Frame)
		}
		for _, w := range words {
			if !strings.Contains(v.Says, w) {
				t.Errorf("%s says %q, without %q", kind, v.Says, w)
			}
		}
		if r := v.Readings; r.Evenness.Label != labels[kind] || r.Evenness.Text == "" || r.Driest.Text == "" || r.Rate.Text == "" {
			t.Errorf("%s reads %+v", kind, r)
		}
	}
	f.play(t, []scenario{
		{name: "wind at a place", method: "GET", path: "/api/plans/PLAN/rate?x=7&y=7&as=windy", status: 200, has: []string{" of the mean on Front lawn"}},
		{name: "field at a place", method: "GET", path: "/api/plans/PLAN/rate?x=7&y=7&as=field", status: 200, has: []string{" of the mean on Front lawn"}},
		{name: "a wind of its own", method: "PATCH", path: "/api/plans/PLAN", body: `{"show":"metric","site":{"wind_mph":5,"wind_from_deg":90}}`, header: []string{patchType, `If-Match: "1"`}, status: 200},
		{name: "wind at a place of the plan before", method: "GET", path: "/api/plans/PLAN/rate?x=7&y=7&as=windy", status: 409},
		{name: "windy day in metric", method: "GET", path: "/api/plans/PLAN/windy", status: 200, has: []string{"8 km/h from the north", "about 10 % of its distance further downwind", `"rev":2`}},
	})
}

// park is a plan of n heads, 5 ft apart on one lawn.
func park(n int) string {
	var heads strings.Builder
	across := 1
	for across*across < n {
		across++
	}
	for i := range n {
		fmt.Fprintf(&heads, `"h%d":{"tag":"1-%d","nozzle":"n1","body":"b1","x_ft":%d,"y_ft":%d,"sweep_deg":360,"zone":"z1"},`, i, i+1, 5*(i%across), 5*(i/across))
	}
	side := 5 * across
	doc := strings.Replace(yard, `"heads":{`, `"heads":{`+strings.TrimSuffix(heads.String(), ",")+`},"unused":{`, 1)
	start, end := strings.Index(doc, `,"unused":{`), strings.Index(doc, `"zones":`)
	doc = doc[:start] + "," + doc[end:]
	return strings.Replace(doc, `[[0,0],[15,0],[15,15],[0,15]]`, fmt.Sprintf(`[[0,0],[%d,0],[%d,%d],[0,%d]]`, side, side, side, side), 1)
}

// A job on 10,000 heads ends when its page calls it off or goes away: told by the
// counter of jobs, not by a clock. Until then the same plan's picture is computed
// beside it, since a job does not hold the engine; and another job on that plan
// has its turn afterwards.
func TestRowA25_ACalledOffJobEnds(t *testing.T) {
	f := newFixture(t)
	f.plan = f.keep(park(10_000))
	srv := httptest.NewServer(f.h)
	defer srv.Close()
	f.site.Hosts = append(f.site.Hosts, srv.Listener.Addr().String())

	ask := func(ctx context.Context, path string) (*http.Response, error) {
		r, err := http.NewRequestWithContext(ctx, "GET", srv.URL+"/api/plans/"+f.plan.ID+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Accept", lines)
		return srv.Client().Do(r)
	}
	for _, path := range []string{"/field", "/windy", "/estimate"} {
		ctx, callOff := context.WithCancel(t.Context())
		answer, err := ask(ctx, path)
		if err != nil {
			t.Fatal(err)
		}
		first, err := bufio.NewReader(answer.Body).ReadString('\n')
		if err != nil || !strings.Contains(first, `"step"`) {
			t.Fatalf("%s: the first line is %q (%v)", path, first, err)
		}
		if n := f.site.Jobs(); n != 1 {
			t.Errorf("%s: %d jobs run, want one", path, n)
		}
		if path == "/field" {
			if w := f.do("GET", "/api/plans/"+f.plan.ID+"/board", ""); w.Code != http.StatusOK {
				t.Errorf("beside the job the board answers %d", w.Code)
			}
			if n := f.site.Jobs(); n != 1 {
				t.Errorf("the job ended before the picture beside it was there (%d run): the test says nothing", n)
			}
		}
		callOff()
		answer.Body.Close()
		ends(t, f.site)
	}
	if saved, err := f.store.Load(t.Context(), f.plan.ID); err != nil || saved.Rev != 1 {
		t.Errorf("after the jobs the plan is at revision %d (%v)", saved.Rev, err)
	}
	t.Log("shown: 3 jobs on 10,000 heads called off, 0 left running")
}

// A job that waits for its turn is called off as well, and the site's end ends
// every job.
func TestRowA25_JobsEndWithTheSite(t *testing.T) {
	f := newFixture(t)
	o := f.site.desk.take(f.plan.ID, time.Now())
	o.estimating <- struct{}{} // somebody's job holds the turn
	ctx, callOff := context.WithCancel(t.Context())
	done := make(chan struct{}, 2)
	for _, r := range []*http.Request{
		httptest.NewRequestWithContext(ctx, "GET", "http://"+testHost+"/api/plans/"+f.plan.ID+"/windy", nil),
		httptest.NewRequestWithContext(t.Context(), "GET", "http://"+testHost+"/api/plans/"+f.plan.ID+"/field", nil),
	} {
		go func() {
			f.h.ServeHTTP(httptest.NewRecorder(), r)
			done <- struct{}{}
		}()
	}
	for f.site.Jobs() != 2 {
		time.Sleep(time.Millisecond) // until both are in
	}
	callOff()
	<-done
	if n := f.site.Jobs(); n != 1 {
		t.Errorf("%d jobs are left, want the one that was not called off", n)
	}
	f.site.end()
	<-done
	ends(t, f.site)
}

// ends waits until no job is left.
func ends(t *testing.T, s *Site) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute) // against hanging only
	defer cancel()
	for s.Jobs() > 0 {
		if ctx.Err() != nil {
			t.Fatal("a job that was called off goes on")
		}
		time.Sleep(time.Millisecond)
	}
}

// What walls, fences and hedges do to streams is said on the board in the plan's
// units: for the barrier and for the head (trade.md E13).
func TestRowE13_TheBoardSaysWhatStreamsDo(t *testing.T) {
	doc := strings.Replace(yard, `"zones":`, `"barriers":{"b1":{"name":"Low hedge","kind":"hedge","line":[[7,-4],[7,3]],"height_ft":1.5},"b2":{"kind":"wall","line":[[4,10],[4,20]],"height_ft":6}},"zones":`, 1)
	doc = strings.Replace(doc, `"a2":`, `"a3":{"name":"Shed","kind":"building","outline":[[12,12],[14,12],[14,14],[12,14]]},"a2":`, 1)
	f := newFixture(t)
	f.plan = f.keep(doc)
	var b Board
	if err := json.Unmarshal(f.do("GET", "/api/plans/"+f.plan.ID+"/board", "").Body.Bytes(), &b); err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for id, list := range b.Barriers {
		for _, s := range list {
			texts[string(id)+" "+string(s.Head)+" "+s.Does] = s.Text
		}
	}
	for key, words := range map[string][]string{
		"b1 h1 passes":  {"Head 1-1: passes, 2' 1\"", `up or more over the 1' 6" hedge`},
		"b2 h4 stopped": {"Head 1-4: stopped, loses ", " of its water: ", ` up at the most at the 6' 0" wall`},
	} {
		for _, w := range words {
			if !strings.Contains(texts[key], w) {
				t.Errorf("%s: %q does not hold %q (all: %v)", key, texts[key], w, texts)
			}
		}
	}
	if got := strings.Join(b.Heads["h3"].Stops, "; "); !strings.Contains(got, "Shed stops ") {
		t.Errorf("of head 1-3 it says %q", got)
	}
	if got := strings.Join(b.Heads["h1"].Stops, "; "); !strings.Contains(got, "Passes Low hedge, 2'") {
		t.Errorf("of head 1-1 it says %q", got)
	}
	p, err := plan.Decode([]byte(doc))
	if err != nil || len(p.Barriers) != len(b.Barriers) {
		t.Errorf("%d barriers on the board (%v)", len(b.Barriers), err)
	}
}
