package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
)

// bareYard is a lawn beside a walk, and a narrow bed without a name, with nothing
// on them yet.
const bareYard = `{"format":"evenfall-plan/1","name":"Bare yard","show":"us",
"areas":{
 "a1":{"name":"Front lawn","kind":"planting","outline":[[0,0],[24,0],[24,16],[0,16]]},
 "a2":{"name":"Walk","kind":"paving","outline":[[24,0],[28,0],[28,16],[24,16]]},
 "a3":{"kind":"planting","planting":"flowers","outline":[[0,40],[20,40],[20,46],[0,46]]},
 "a4":{"name":"Drip bed","kind":"planting","watering":"point","outline":[[40,40],[60,40],[60,46],[40,46]]}}}`

// told is what of the printed measures the tests read.
type told struct {
	Format string `json:"format"`
	Plan   string `json:"plan_sha256"`
	Taken  int    `json:"taken"`
	Offers []struct {
		Name  string `json:"name"`
		Total struct {
			Heads int     `json:"heads"`
			DU    float64 `json:"du_low_quarter"`
			Flow  float64 `json:"flow_gpm"`
		} `json:"total"`
	} `json:"offers"`
	Areas []struct {
		Area    string `json:"area"`
		Why     string `json:"why"`
		Layouts []struct {
			Measures struct {
				Heads int     `json:"heads"`
				DU    float64 `json:"du_low_quarter"`
			} `json:"measures"`
			Heads []json.RawMessage `json:"heads"`
		} `json:"layouts"`
	} `json:"areas"`
}

func TestArrangeWritesAPlanWithHeadsAndTheirMeasures(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "arranged.json")
	args := []string{"arrange", "-", "--areas", "front LAWN,a3", "--seed", "3", "--effort", "300", "--out", out}
	got := ask(bareYard, args...)
	if got.code != 0 || got.err != "" {
		t.Fatalf("%d %s", got.code, got.err)
	}
	var said told
	if err := json.Unmarshal([]byte(got.out), &said); err != nil {
		t.Fatal(err)
	}
	arranged := readFile(t, out)
	before, err := plan.Decode([]byte(bareYard))
	if err != nil {
		t.Fatal(err)
	}
	if said.Format != "evenfall-layouts/1" || said.Plan != plan.Digest(before.Encode()) || said.Taken != 1 || len(said.Offers) == 0 || len(said.Areas) != 2 {
		t.Fatalf("%+v", said)
	}
	if n := said.Offers[0].Total.Heads; n == 0 || len(arranged.Heads) != n {
		t.Errorf("%d heads are told and %d written", n, len(arranged.Heads))
	}
	for _, a := range said.Areas {
		if len(a.Layouts) == 0 || a.Layouts[0].Measures.Heads != len(a.Layouts[0].Heads) || !(a.Layouts[0].Measures.DU > 0) {
			t.Errorf("%+v", a)
		}
	}
	for id, h := range arranged.Heads {
		if _, own := arranged.Nozzles[h.Nozzle]; !own {
			t.Errorf("%s has nozzle %s, which the plan has no row of", id, h.Nozzle)
		}
	}
	// The same question has the same answer, also on standard output.
	first, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	if again := ask(bareYard, args...); again.code != 1 || !strings.Contains(again.err, "is there already; add --force") {
		t.Errorf("%d %s", again.code, again.err)
	}
	args[len(args)-1] = "-"
	if piped := ask(bareYard, args...); piped.code != 0 || piped.out != string(first) || piped.err != got.out {
		t.Errorf("%d: the plan is the same: %v, the measures: %v", piped.code, piped.out == string(first), piped.err == got.out)
	}
	// Another offer is another plan; so it is by its name.
	last := said.Offers[len(said.Offers)-1]
	named := ask(bareYard, append(args, "--offer", strings.ToUpper(last.Name))...)
	p, err := plan.Decode([]byte(named.out))
	if err != nil || len(p.Heads) != last.Total.Heads {
		t.Errorf("%s: %d heads, %v", last.Name, last.Total.Heads, err)
	}
	if text := ask(bareYard, append(args, "--text")...); !strings.Contains(text.err, "OFFERS") || !strings.Contains(text.err, "Taken: ") || !strings.Contains(text.err, "FRONT LAWN") {
		t.Errorf("%s", text.err)
	}
}

// Stopped with layouts in hand it writes the best of them, and fails as whatever is
// stopped does; without any it writes nothing.
func TestArrangeStoppedEarlyKeepsTheBest(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		after bool // of the first layouts
		says  string
	}{
		{"with layouts", true, "stopped early; the best so far is written"},
		{"before any", false, "stopped before it was done"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			out := filepath.Join(t.TempDir(), "arranged.json")
			ctx, stop := context.WithCancel(t.Context())
			defer stop()
			propose := func(ctx context.Context, p *plan.Plan, o arrange.Options, _ func(arrange.Stage)) (*arrange.Proposal, error) {
				if !c.after {
					stop()
				}
				return arrange.Propose(ctx, p, o, func(s arrange.Stage) {
					if s.Best != nil && len(s.Best.Offers) > 0 {
						stop()
					}
				})
			}
			var printed, said strings.Builder
			code := arrangeBy(ctx, propose, []string{"-", "--areas", "a1", "--out", out}, strings.NewReader(bareYard), &printed, &said)
			if code != exitFailed || !strings.Contains(said.String(), c.says) {
				t.Fatalf("%d %s", code, said.String())
			}
			if !c.after {
				if _, err := os.Stat(out); !os.IsNotExist(err) || printed.String() != "" {
					t.Errorf("something was written: %v %s", err, printed.String())
				}
				return
			}
			var measures told
			if err := json.Unmarshal([]byte(printed.String()), &measures); err != nil || len(measures.Offers) == 0 {
				t.Fatalf("%v: %s", err, printed.String())
			}
			if p := readFile(t, out); len(p.Heads) == 0 || len(p.Heads) != measures.Offers[0].Total.Heads {
				t.Errorf("%d heads are written and %d told", len(p.Heads), measures.Offers[0].Total.Heads)
			}
		})
	}
}

func TestArrangeSaysWhyItCannot(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "arranged.json")
	for _, c := range []struct {
		stdin string
		args  []string
		code  int
		says  string
	}{
		{bareYard, []string{"-"}, exitUsage, "Name the plan file to write with --out."},
		{bareYard, []string{"--out", out}, exitUsage, "Name one plan file"},
		{bareYard, []string{"-", "--out", out, "--colour", "red"}, exitUsage, "there is no option"},
		{"{", []string{"-", "--out", out}, exitFailed, "-: "},
		{bareYard, []string{"-", "--out", out, "--areas", "Pool"}, exitFailed, `No area of the plan is called "Pool". Its planting areas are Front lawn (a1), a3 and Drip bed (a4).`},
		{bareYard, []string{"-", "--out", out, "--areas", "Walk"}, exitFailed, "Walk is not a planting area"},
		{bareYard, []string{"-", "--out", out, "--effort", "endless"}, exitFailed, "is not a number"},
		{bareYard, []string{"-", "--out", out, "--families", "mister"}, exitFailed, "no family of nozzles"},
		{bareYard, []string{"-", "--out", out, "--areas", "a1", "--effort", "50", "--offer", "9"}, exitFailed, "--offer 9: no offer has this name or number; there are 1 "},
		{bareYard, []string{"-", "--out", out, "--areas", "a4"}, exitFailed, "Drip bed"},
	} {
		if got := ask(c.stdin, append([]string{"arrange"}, c.args...)...); got.code != c.code || !strings.Contains(got.err, c.says) || got.out != "" {
			t.Errorf("%v: %d %q, want %d with %q", c.args, got.code, got.err, c.code, c.says)
		}
	}
	if _, err := os.Stat(out); !os.IsNotExist(err) {
		t.Error("something was written", err)
	}
	if got := ask("", "arrange", "-h"); got.code != 0 || got.out != arrangeUsage {
		t.Errorf("%d %s", got.code, got.out)
	}
}
