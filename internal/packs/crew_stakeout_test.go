package packs

import (
	"slices"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/stakeout"
	"evenfall/internal/units"
)

// crewSaid are the words of some sheets of the crew pack in their order, a page after another.
func crewSaid(t testing.TB, in Input, codes ...string) string {
	t.Helper()
	_, made := sheetsAlone(t, in, Asked{Kind: Crew, Paper: Letter}, codes...)
	var out []string
	for _, q := range made.Document.Pages {
		for _, s := range textsOf(q.Items) {
			out = append(out, s.S)
		}
	}
	return strings.Join(out, " ")
}

// Every flag of the demo and of the crowded plans is on the list with both its lengths,
// in walking order, and every letter is told what it stands for; locating comes first.
func TestE18_TheStakeOutSheetSaysAllOfIt(t *testing.T) {
	t.Parallel()
	for _, n := range append([]namedPlan{{"demo", demoInput(t)}}, crowdedPlans(t)...) {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			text := crewSaid(t, n.in, "C5")
			s := stakedOf(n.in, sheets.DiggingOf(n.in.Plan, n.in.Design.Digs))
			if len(s.Flags) < 20 {
				t.Fatalf("%d flags", len(s.Flags))
			}
			list := text[strings.Index(text, "In walking order"):]
			if before := text[:len(text)-len(list)]; !strings.Contains(before, "Locate first") || !strings.Contains(before, "pre-mark form") {
				t.Error("the list comes before locating")
			}
			at := 0
			for i := range s.Flags {
				f := &s.Flags[i]
				for _, words := range []string{itoa(i+1) + " " + f.Tag, n.in.Plan.Show.Length(f.A), n.in.Plan.Show.Length(f.B)} {
					k := strings.Index(squeezed(list[at:]), squeezed(words))
					if k < 0 {
						t.Fatalf("step %d, flag %s: %q is not printed in its place", i+1, f.Tag, words)
					}
				}
				at += strings.Index(list[at:], itoa(i+1)+" ")
			}
			for _, q := range s.Points {
				if !strings.Contains(squeezed(text), squeezed(q.Letter+" "+plan.Capital(q.Name))) && !q.Flag {
					t.Errorf("nobody says what %s is: %q", q.Letter, q.Name)
				}
			}
		})
	}
}

// squeezed is a text without spaces: words of a cell are broken where a line ends.
func squeezed(s string) string { return strings.Join(strings.Fields(s), "") }

// Where nothing fixed is drawn, the sheet proposes stakes and shows them within the plan.
func TestE18_StakesOfTheCrewAreOnTheSheet(t *testing.T) {
	t.Parallel()
	in := changed(t, func(p *plan.Plan) {
		p.Site.Lot, p.Barriers = nil, nil
		for id, a := range p.Areas {
			if a.Kind == plan.Building || a.Kind == plan.Paving {
				delete(p.Areas, id)
			}
		}
	})
	b, made := sheetsAlone(t, in, Asked{Kind: Crew, Paper: Letter}, "C5")
	text := crewSaid(t, in, "C5")
	if !strings.Contains(text, "Nothing fixed is drawn") || !strings.Contains(text, "Stake that you set") {
		t.Errorf("the sheet says nothing of stakes")
	}
	v := b.pages[0].view
	for _, q := range b.staked().Points {
		if q.Own && !v.Box.Contains(v.ToPage(q.At)) {
			t.Errorf("stake %s stands off the page", q.Letter)
		}
	}
	if len(made.Sheets) != 1 {
		t.Errorf("%d sheets", len(made.Sheets))
	}
}

// A plan with nothing to set out, heads that are there and heads that go.
func TestE18_WhatGetsNoFlag(t *testing.T) {
	t.Parallel()
	if text := crewSaid(t, designed(t, plan.Empty("Nothing", units.Metric)), "C5", "C6"); !strings.Contains(text, "Nothing is to be set out") || !strings.Contains(text, "No head is drawn yet.") {
		t.Errorf("an empty plan: %q", text)
	}
	text := crewSaid(t, changed(t, func(p *plan.Plan) {
		h := p.Heads["h1-2"]
		h.Status = plan.Remove
		p.Heads["h1-2"] = h
		h = p.Heads["h1-3"]
		h.Status = plan.Existing
		p.Heads["h1-3"] = h
	}), "C5", "C6")
	for _, want := range []string{"Heads to take out", "About 19 ft south of the south-west corner of Service walk", "1-3 (there)"} {
		if !strings.Contains(squeezed(text), squeezed(want)) {
			t.Errorf("%q is not said", want)
		}
	}
}

// The setting sheet has every head with both edges of its arc; what all heads of a zone
// share is said once.
func TestTheSettingSheetHasEveryHead(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	text := squeezed(crewSaid(t, in, "C6"))
	s := stakeout.Of(in.Plan, in.Design.Digs)
	aims := stakeout.Aims(in.Plan, s)
	n := 0
	for _, id := range plan.SortedIDs(in.Plan.Heads) {
		if in.Plan.Heads[id].Status.Stands() && !strings.Contains(text, in.Plan.Heads[id].Tag) {
			t.Errorf("head %s is not on the sheet", in.Plan.Heads[id].Tag)
		}
		for _, words := range []string{aims[id].Left, aims[id].Right} {
			if strings.HasPrefix(words, "along") || strings.HasPrefix(words, "toward head") { // letters are those of the whole pack
				n++
				if !strings.Contains(text, squeezed(words)) {
					t.Errorf("head %s: %q is not said", id, words)
				}
			}
		}
	}
	if n < 50 || !strings.Contains(text, squeezed("Turned down: full. Pressure: 45.0 psi. Body: Gear-drive body 4 in.")) {
		t.Errorf("%d edges; what zone 3 shares is not said", n)
	}
	if !strings.Contains(text, squeezed("new sod adds about")) {
		t.Error("nothing of finished grade")
	}
}

// What is said once over the setting list of a zone, with the heads that differ, gives
// each head the value that the whole list has for it.
func TestWhatIsSaidOnceIsTrueOfEveryHead(t *testing.T) {
	t.Parallel()
	once, apart := 0, 0
	for _, in := range []Input{demoInput(t), designed(t, hundredHeads())} {
		for _, z := range sheets.Setting(in.Plan, in.Design.Coverage, stakeout.Of(in.Plan, in.Design.Digs)) {
			g, said := settingGrid(z.Table)
			for i, c := range z.Table.Columns {
				name, unit, _ := strings.Cut(c.Name, ", ")
				if at := slices.Index(g.Head, c.Name); at >= 0 {
					for k, row := range z.Table.Rows {
						if g.Rows[k][at] != row[i].String() {
							t.Errorf("%s: %q is printed for %q", z.Table.Title, g.Rows[k][at], row[i])
						}
					}
					continue
				}
				_, words, is := strings.Cut(said, name+": ")
				if words, _, _ = strings.Cut(words, ". "); words == "" { // a column of nothing
					for _, row := range z.Table.Rows {
						if row[i].String() != "" {
							t.Errorf("%s: %s of %s is not said", z.Table.Title, name, row[0])
						}
					}
					continue
				}
				if !is {
					t.Errorf("%s says nothing of %s: %q", z.Table.Title, name, said)
				}
				parts := strings.Split(strings.TrimSuffix(words, "."), "; ")
				of := map[string]string{}
				for _, p := range parts[1:] {
					at := strings.LastIndex(p, " at ")
					for _, tag := range strings.Split(p[at+4:], ", ") {
						of[tag] = p[:at]
						apart++
					}
				}
				once++
				for _, row := range z.Table.Rows {
					got, other := of[row[0].String()]
					if !other {
						got = parts[0]
					}
					if want := strings.TrimSpace(row[i].String() + " " + unit); got != want {
						t.Errorf("%s, head %s: %s is said to be %q, it is %q", z.Table.Title, row[0], name, got, want)
					}
				}
			}
		}
	}
	if once < 15 || apart < 10 {
		t.Errorf("%d columns are said once, %d heads apart", once, apart)
	}
}
