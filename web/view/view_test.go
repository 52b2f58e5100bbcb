package view

import (
	"bytes"
	"context"
	"regexp"
	"strings"
	"testing"

	"github.com/a-h/templ"
)

const hostile = `"><script>alert(1)</script><img src=x onerror=alert(1)>`

// hostileProgram has every part of the page of a program, each with a name that would do harm.
func hostileProgram() ProgramModel {
	list := []string{hostile}
	table := Table{Columns: []string{hostile, hostile}, Numbers: []bool{false, true}, Rows: [][]string{{hostile, hostile}}}
	chart := SoilChart{
		Title: hostile, Box: "0 0 1 1", Water: hostile, Level: hostile, Limit: hostile, LimitSays: hostile, Past: list, Drops: list,
		Ticks: []SoilTick{{Says: hostile}}, Depths: []SoilTick{{Says: hostile}},
	}
	card := ProgramCard{hostile, hostile, hostile, hostile, hostile, true, true, []ProgramStation{{hostile, hostile, hostile, hostile, hostile}}}
	return ProgramModel{
		ID: "p1", Name: hostile, Date: hostile, Says: hostile, Offered: true, Why: list, Eases: []ProgramEase{{Says: hostile}}, Assumed: list,
		Month: hostile, During: hostile, Times: table, Months: []ProgramMonth{{Name: hostile, Says: hostile, Word: hostile, Shown: true, Percent: hostile, Programs: []ProgramCard{card}}, {Name: hostile, Word: hostile}},
		Year: table, Adjust: hostile, Off: hostile, Sensor: hostile, Budget: table, Areas: table, Beside: list, Plain: table, Saved: list,
		Chains: []ProgramChain{{hostile, hostile, table}}, Needs: table, Soils: table, Climate: hostile, Caution: hostile,
		Pictures: []SoilPicture{{Name: hostile, Says: hostile, Year: chart, Close: chart, CloseSays: hostile, Table: table}},
		Files:    []PaperFile{{hostile, hostile, hostile}},
	}
}

func rendered(t *testing.T) map[string]string {
	t.Helper()
	pages := map[string]templ.Component{
		"plans":   Plans(PlansModel{DataPath: hostile, Version: "1", Plans: []PlanRow{{ID: "p1", Name: hostile, Rev: 3, Contents: hostile, Changed: "today", Demo: true}}}),
		"empty":   Plans(PlansModel{DataPath: "/data"}),
		"board":   Board(BoardModel{ID: "p1", Name: hostile, Rev: 3, Demo: true}),
		"help":    Help(HelpModel{DataPath: hostile, Version: "1"}),
		"sleeves": Sleeves(SleevesModel{ID: "p1", Name: hostile, Says: hostile, Columns: []string{hostile}, Rows: [][]string{{hostile}}, Notes: []string{hostile}}),
		"quote": Quote(QuoteModel{
			ID: "p1", Name: hostile, Date: hostile, Lists: []QuoteList{{hostile, hostile, hostile, hostile}}, Parts: hostile, MarkUp: []string{hostile, hostile},
			Work: []QuoteRow{{hostile, hostile, hostile, hostile}}, Tax: []string{hostile, hostile}, Total: hostile, Short: hostile, Left: []string{hostile}, Notes: []string{hostile}, Supply: hostile,
		}),
		"papers": Papers(PapersModel{
			ID: "p1", Name: hostile, Packs: []PackChoice{{hostile, hostile, hostile}}, Papers: []PaperChoice{{Value: hostile, Name: hostile}},
			Scales: []PaperChoice{{Value: hostile, Name: hostile}}, Missing: []string{hostile}, Files: []PaperFile{{hostile, hostile, hostile}},
		}),
		"program":    Program(hostileProgram()),
		"no-program": Program(ProgramModel{ID: "p1", Name: hostile, Says: hostile, Caution: hostile}),
		"no-quote":   Quote(QuoteModel{ID: "p1", Name: hostile, Empty: true}),
		"error":      ErrorPage(ErrorModel{Status: 404, Title: hostile, What: hostile, Why: hostile, Next: hostile, Safe: hostile}),
	}
	out := map[string]string{}
	for name, c := range pages {
		var b bytes.Buffer
		if err := c.Render(context.Background(), &b); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out[name] = b.String()
	}
	return out
}

func TestPagesEscapeWhatUsersTyped(t *testing.T) {
	for name, html := range rendered(t) {
		for _, bad := range []string{"<script>alert", "<img src=x"} {
			if strings.Contains(html, bad) {
				t.Errorf("%s page holds %q unescaped", name, bad)
			}
		}
	}
}

var inline = regexp.MustCompile(`(?i)\sstyle=|\son[a-z]+=|<style|<script(?:>|\s+>)`)

func TestPagesHoldNothingInline(t *testing.T) {
	for name, html := range rendered(t) {
		safe := strings.ReplaceAll(html, "onerror=alert", "") // the hostile text, escaped
		if got := inline.FindString(safe); got != "" {
			t.Errorf("%s page has %q in its markup, which the content policy refuses", name, got)
		}
	}
}

func TestBoardHasEveryPartTheScriptsLookFor(t *testing.T) {
	board := rendered(t)["board"]
	ids := []string{
		"board", "heat", "scene", "entry", "empty", "legend", "tools", "kit", "status", "aids", "where", "under", "saved",
		"side", "readings", "findings", "selected", "drawer", "supply", "objects", "zones", "parts", "history", "live", "notice",
		"undo", "redo", "plan-name", "plan-settings", "nozzles-import", "export", "keys", "theme",
	}
	for _, id := range ids {
		if n := strings.Count(board, `id="`+id+`"`); n != 1 {
			t.Errorf("the board page has %d elements with the id %s, want 1", n, id)
		}
	}
	if !strings.Contains(board, `data-plan="p1"`) || !strings.Contains(board, "data-demo") {
		t.Error("the board page does not say which plan it shows, or that it is the demo")
	}
}

func TestPagesSayWhereTheyAre(t *testing.T) {
	for name, html := range rendered(t) {
		for _, want := range []string{`<html lang="en"`, "<title>", "<main", "<h1"} {
			if !strings.Contains(html, want) {
				t.Errorf("%s page lacks %s", name, want)
			}
		}
	}
}
