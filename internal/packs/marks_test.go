package packs

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

func boardText(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../web/editor/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Zones have the same shapes on paper as on the board: the board's own text is read.
func TestShapesOfZonesAreTheBoards(t *testing.T) {
	t.Parallel()
	src := boardText(t, "scene/marks.ts")
	_, list, ok := strings.Cut(src, "const shapes: readonly")
	if !ok {
		t.Fatal("marks.ts has no list of shapes")
	}
	list, _, _ = strings.Cut(list, "];")
	board := regexp.MustCompile(`\{ name: "(\w+)", d: (.*) \},`).FindAllStringSubmatch(list, -1)
	if len(board) != len(zoneShapes) {
		t.Fatalf("the board has %d shapes, paper %d", len(board), len(zoneShapes))
	}
	for i, s := range zoneShapes {
		made := fmt.Sprintf("round(%g)", s.r)
		switch {
		case s.path != "":
			made = fmt.Sprintf("%q", s.path)
		case s.sides > 0:
			made = fmt.Sprintf("polygon(%d, %g, %g)", s.sides, s.turnDeg, s.r)
		}
		if board[i][1] != s.name || board[i][2] != made {
			t.Errorf("shape %d is %s %s on paper, %s %s on the board", i, s.name, made, board[i][1], board[i][2])
		}
	}
	if want := fmt.Sprintf("export const ZONE_COLOURS = %d;", len(zoneInks)); !strings.Contains(src, want) {
		t.Errorf("marks.ts does not say %q", want)
	}
}

// Zones have the board's colours on light paper.
func TestColoursOfZonesAreTheBoards(t *testing.T) {
	t.Parallel()
	board := regexp.MustCompile(`--zone-(\d): light-dark\(#([0-9a-f]{6}),`).FindAllStringSubmatch(boardText(t, "css/tokens.css"), -1)
	if len(board) != len(zoneInks) {
		t.Fatalf("the board has %d colours, paper %d", len(board), len(zoneInks))
	}
	for i, k := range zoneInks {
		r, g, b, _ := k.Parts()
		if got := fmt.Sprintf("%02x%02x%02x", r, g, b); board[i][1] != fmt.Sprint(i+1) || board[i][2] != got {
			t.Errorf("zone %d is #%s on paper, --zone-%s #%s on the board", i+1, got, board[i][1], board[i][2])
		}
	}
}

// Every shape lies about its middle, and is about as large as the others.
func TestShapesAreOfOneSize(t *testing.T) {
	t.Parallel()
	for _, s := range zoneShapes {
		ring := s.outline()
		if ring == nil {
			continue
		}
		most := 0.0
		for _, q := range ring {
			most = max(most, math.Hypot(q[0], q[1]))
		}
		if most < 9 || most > 13.1 {
			t.Errorf("%s reaches %.1f from its middle", s.name, most)
		}
	}
	drop := zoneShapes[7].outline()
	if low := slices.MinFunc(drop, func(a, b orb.Point) int { return cmp.Compare(a[1], b[1]) }); math.Abs(low[1]+11) > 0.01 {
		t.Errorf("the drop's round end is at %v, want 11 below the middle", low)
	}
}

// Zones take shapes by station, those without one last by name as people count.
func TestZonesAreInTheOrderOfTheirStations(t *testing.T) {
	t.Parallel()
	p := &plan.Plan{Zones: map[plan.ID]plan.Zone{
		"a": {Name: "Bed 10"}, "b": {Name: "Bed 2"}, "c": {Station: 3}, "d": {Station: 1}, "e": {Station: 12},
	}}
	if got := zonesInOrder(p); !slices.Equal(got, []plan.ID{"d", "c", "e", "b", "a"}) {
		t.Errorf("the order is %v", got)
	}
	marks := zoneMarks(p)
	if marks["e"].number != "12" || marks["b"].number != "4" || marks["c"].shape().name != "square" {
		t.Errorf("marks are %v", marks)
	}
}
