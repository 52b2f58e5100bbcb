package web

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"evenfall/internal/coverage"
	"evenfall/internal/packs"
	"evenfall/internal/plan"
	"evenfall/internal/season"
)

// The watering plan is worked out once for all papers and files of a revision, and for
// none that is not written from it.
func TestTheProgramIsWorkedOutOnceForAllPapers(t *testing.T) {
	f := newFixture(t)
	f.plan = f.keep(demoDoc(t))
	var asked atomic.Int32
	ours := f.site.search.water
	f.site.search.water = func(ctx context.Context, p *plan.Plan, e []coverage.Estimate, tell coverage.Progress) (*season.Program, error) {
		asked.Add(1)
		return ours(ctx, p, e, tell)
	}
	at := "/plans/" + f.plan.ID
	for i, path := range []string{"/packs/crew.pdf", "/files/plan.json", "/files/parts.csv", "/packs/owner.pdf", "/packs/owner/pages/3.txt", "/packs/owner.pdf?paper=a4", "/files/program.csv"} {
		w := f.do("GET", at+path, "")
		if w.Code != http.StatusOK {
			t.Fatalf("%s: %d %s", path, w.Code, w.Body)
		}
		want := int32(0)
		if i >= 3 {
			want = 1
		}
		if n := asked.Load(); n != want {
			t.Errorf("after %s it was worked out %d times, want %d", path, n, want)
		}
		if strings.HasSuffix(path, "3.txt") && !strings.Contains(w.Body.String(), "Minutes of the stations") {
			t.Errorf("the program card reads\n%s", w.Body)
		}
	}
}

// A program that cannot be worked out, or takes too long, keeps nobody from the papers:
// the card says why. What is called off ends.
func TestPapersDoWithoutAProgram(t *testing.T) {
	f := newFixture(t)
	f.plan = f.keep(demoDoc(t))
	f.site.search.water = func(context.Context, *plan.Plan, []coverage.Estimate, coverage.Progress) (*season.Program, error) {
		return nil, errors.New("there is no weather on the moon")
	}
	w := f.do("GET", "/plans/"+f.plan.ID+"/packs/owner/pages/3.txt", "")
	said := strings.Join(strings.Fields(w.Body.String()), " ")
	if w.Code != http.StatusOK || !strings.Contains(said, "there is no weather on the moon") || !strings.Contains(said, "A first figure") {
		t.Errorf("%d: the card says\n%s", w.Code, said)
	}
	f.site.search.water = func(ctx context.Context, _ *plan.Plan, _ []coverage.Estimate, _ coverage.Progress) (*season.Program, error) {
		<-ctx.Done()
		return nil, ctx.Err()
	}
	saved, err := f.store.Load(context.Background(), f.plan.ID)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(saved.Doc)
	if err != nil {
		t.Fatal(err)
	}
	q := question{&opened{id: f.plan.ID}, saved.Rev, p}
	ctx, cancel := context.WithTimeout(context.Background(), 200*time.Millisecond)
	defer cancel()
	in, err := f.site.wateredInTime(ctx, q, packs.Input{Plan: p}, nil)
	if err != nil || in.Program != nil || !strings.Contains(in.NoProgram, "longer than papers wait") {
		t.Errorf("of a program without end it says %q, %v", in.NoProgram, err)
	}
	off, cancel := context.WithCancel(context.Background())
	cancel()
	if in, err := f.site.wateredInTime(off, q, packs.Input{Plan: p}, nil); err == nil {
		t.Errorf("called off it goes on: %q", in.NoProgram)
	}
}
