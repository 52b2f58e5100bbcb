package catalog

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"evenfall/internal/units"
)

const goodHeader = "name,family,arc_least_deg,arc_most_deg,pressure_psi,throw_ft,flow_gpm\n"

func TestExampleTableIsRead(t *testing.T) {
	f, err := os.Open("../../testdata/catalog/example.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	got := ReadNozzles(f)
	if len(got.Errors) > 0 {
		t.Fatal(got.Errors)
	}
	if len(got.Rows) != 4 {
		t.Fatalf("%d nozzles, want 4", len(got.Rows))
	}
	half := Entry{ID: "my-12-half", Nozzle: Nozzle{
		Name: "Shop spray 12 ft, half", Family: Spray, Source: "Shop sheet, page 4",
		ArcLeast: 180, ArcMost: 180, Trajectory: 28, Profile: Profile{Kind: ProfileLinear},
		TurnDown: TurnDown{0.75, 0.5, 1}, BestPSI: 30, Thread: SprayThread,
		Rows: []Row{{20, 10, 0.92}, {30, 12, 1.13}, {40, 13, 1.3}},
	}}
	if diff := cmp.Diff(half, got.Rows[0]); diff != "" {
		t.Errorf("first nozzle (-want +got):\n%s", diff)
	}
	stream, strip, rotor := got.Rows[1], got.Rows[2], got.Rows[3]
	if !stream.FlowFollowsArc || stream.TurnDown.FlowPower != 2 || len(stream.Profile.Shares) != 5 {
		t.Errorf("stream: %+v", stream)
	}
	if strip.Strip == nil || *strip.Strip != (StripShape{Ahead: true, Left: 3.7, Right: 0.3}) {
		t.Errorf("strip: %+v", strip.Strip)
	}
	if rotor.FlowFollowsArc || rotor.Thread != RotorThread || rotor.BestPSI != 45 {
		t.Errorf("rotor: %+v", rotor)
	}
}

func TestBuiltinSetGoesOutAndComesBack(t *testing.T) {
	var b bytes.Buffer
	want := Nozzles()
	if err := WriteNozzles(&b, want); err != nil {
		t.Fatal(err)
	}
	got := ReadNozzles(&b)
	if len(got.Errors) > 0 {
		t.Fatal(got.Errors[0].Error())
	}
	for i := range want {
		want[i].Generic, want[i].Metric = false, "" // what is imported is the user's own
	}
	if diff := cmp.Diff(want, got.Rows); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestWaysATableMayBeWritten(t *testing.T) {
	want := []Row{{30, 12, 1}, {40, 13, 1.2}}
	for name, text := range map[string]string{
		"plain":            goodHeader + "A,spray,90,90,30,12,1\nA,,,,40,13,1.2\n",
		"line ends CRLF":   strings.ReplaceAll(goodHeader+"A,spray,90,90,30,12,1\nA,,,,40,13,1.2\n", "\n", "\r\n"),
		"line ends CR":     strings.ReplaceAll(goodHeader+"A,spray,90,90,30,12,1\nA,,,,40,13,1.2\n", "\n", "\r"),
		"byte order mark":  "\ufeff" + goodHeader + "A,spray,90,90,30,12,1\nA,,,,40,13,1.2\n",
		"quoted, blanks":   goodHeader + "\"A\", SPRAY ,90,90,\"30\",12,1\n\n,,,,,,\nA,,,,40,13,1.2,,\n",
		"any order":        goodHeader + "A,spray,90,90,40,13,1.2\nA,spray,90,90,30,12,1\n",
		"columns moved":    "flow_gpm,throw_ft,pressure_psi,arc_most_deg,arc_least_deg,family,NAME\n1,12,30,90,90,spray,A\n1.2,13,40,,,,A\n",
		"short later line": "pressure_psi,throw_ft,flow_gpm,name,family,arc_least_deg,arc_most_deg\n30,12,1,A,spray,90,90\n40,13,1.2,A\n",
	} {
		got := ReadNozzles(strings.NewReader(text))
		if len(got.Errors) > 0 {
			t.Errorf("%s: %s", name, got.Errors[0].Error())
			continue
		}
		if len(got.Rows) != 1 || got.Rows[0].ID != "n-a" || !cmp.Equal(got.Rows[0].Rows, want) {
			t.Errorf("%s: got %+v", name, got.Rows)
		}
	}
}

func TestMetricColumns(t *testing.T) {
	got := ReadNozzles(strings.NewReader(
		"name,family,arc_least_deg,arc_most_deg,pressure_bar,throw_m,flow_l_per_min,best_bar\nA,rotor,40,360,3,10,10,3\n"))
	if len(got.Errors) > 0 {
		t.Fatal(got.Errors[0].Error())
	}
	r := got.Rows[0].Rows[0]
	// 3 bar = 43.511 psi, 10 m = 32.808 ft, 10 l/min = 2.6417 gpm.
	near := func(a, b float64) bool { return a-b < 5e-4 && b-a < 5e-4 }
	if !near(float64(r.Pressure), 43.5113) || !near(float64(r.Throw), 32.8084) || !near(float64(r.Flow), 2.6417) {
		t.Errorf("got %+v", r)
	}
}

func TestWhatIsWrongIsToldByLineAndColumn(t *testing.T) {
	for _, tt := range []struct {
		name, text   string
		line         int
		column, says string
	}{
		{"empty", "", 0, "", "The file is empty"},
		{"only a header", goodHeader, 0, "", "no nozzles under it"},
		{"semicolons", strings.ReplaceAll(goodHeader, ",", ";"), 1, "", "separated by semicolons"},
		{"tabs", strings.ReplaceAll(goodHeader, ",", "\t"), 1, "", "separated by tabs"},
		{"unknown column", "name,colour\n", 1, "colour", "No column is named \"colour\""},
		{"column twice", "name,name\n", 1, "name", "hold the same thing"},
		{"column twice in two units", "name,family,throw_ft,throw_m\n", 1, "throw_m", "throw_ft and throw_m hold the same thing"},
		{"column missing", "name,family,pressure_psi,throw_ft\n", 1, "flow_gpm", "The column flow_gpm is missing"},
		{"decimal comma", goodHeader + "A,spray,90,90,30,\"12,5\",1\n", 2, "throw_ft", "has a comma"},
		{"comma splits a number", goodHeader + "A,spray,90,90,30,12,5,1\n", 2, "", "a comma too many"},
		{"word for a number", goodHeader + "A,spray,90,90,30,far,1\n", 2, "throw_ft", "is not a number"},
		{"no number", goodHeader + "A,spray,90,90,30,NaN,1\n", 2, "throw_ft", "is not a number"},
		{"huge", goodHeader + "A,spray,90,90,30,1e999,1\n", 2, "throw_ft", "too large"},
		{"empty number", goodHeader + "A,spray,90,90,30,,1\n", 2, "throw_ft", "A number is missing"},
		{"no name", goodHeader + ",spray,90,90,30,12,1\n", 2, "name", "names no nozzle"},
		{"family", goodHeader + "A,drip,90,90,30,12,1\n", 2, "family", "no family of nozzles"},
		{"same pressure twice", goodHeader + "A,spray,90,90,30,12,1\nA,,,,30,12,1\n", 3, "pressure_psi", "already, on line 2"},
		{"contradiction", goodHeader + "A,spray,90,90,30,12,1\nA,stream,,,40,13,1\n", 3, "family", "but line 2 has \"spray\""},
		{"arc missing", goodHeader + "A,spray,,90,30,12,1\n", 2, "arc_least_deg", "A number is missing"},
		{"arc too wide", goodHeader + "A,spray,90,400,30,12,1\n", 2, "arc_most_deg", "at most 360°"},
		{"throw negative", goodHeader + "A,spray,90,90,30,12,1\nA,,,,40,-13,1.2\n", 3, "throw_ft", "above 0"},
		{"strip without sides", goodHeader + "A,strip,,,30,12,1\n", 2, "strip_left_ft", "A number is missing"},
		{"strip's side on a spray", "strip_left_ft," + goodHeader + "3,A,spray,90,90,30,12,1\n", 2, "strip_left_ft", "Only a strip nozzle"},
		{"yes or no", "flow_follows_arc," + goodHeader + "perhaps,A,spray,90,90,30,12,1\n", 2, "flow_follows_arc", "neither yes nor no"},
		{"profile", "profile," + goodHeader + "round,A,spray,90,90,30,12,1\n", 2, "profile", "is no profile"},
		{"formula", goodHeader + "=A1,spray,90,90,30,12,1\n", 2, "name", "take for a formula"},
		{"line break in a name", goodHeader + "\"A\nB\",spray,90,90,30,12,1\n", 2, "name", "write it on one line"},
		{"id", "id," + goodHeader + "9 lives,A,spray,90,90,30,12,1\n", 2, "id", "cannot be an id"},
		{"one id, two nozzles", goodHeader + "A 1,spray,90,90,30,12,1\nA-1,spray,90,90,30,12,1\n", 3, "id", "begins on line 2"},
		{"best outside", "best_psi," + goodHeader + "60,A,spray,90,90,30,12,1\n", 2, "best_psi", "its table runs from 30 to 30 psi"},
		{"quote not closed", goodHeader + "\"A,spray,90,90,30,12,1\n", 2, "", "not closed"},
		{"stray quote", goodHeader + "A\",spray,90,90,30,12,1\n", 2, "", "not quoted"},
		{"UTF-16", "\xff\xfen\x00", 0, "", "UTF-16"},
		{"not UTF-8", goodHeader + "\xe9,spray,90,90,30,12,1\n", 0, "", "not text in UTF-8"},
		{"too large", strings.Repeat("x", MaxTableBytes+1), 0, "", "larger than 1 MiB"},
		{"too many lines", goodHeader + strings.Repeat("A,spray,90,90,30,12,1\n", MaxTableRows+1), 0, "", "more than 5000 lines"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := ReadNozzles(strings.NewReader(tt.text))
			if len(got.Errors) == 0 || got.Rows != nil {
				t.Fatalf("got %d rows, %d errors; want none and some", len(got.Rows), len(got.Errors))
			}
			e := got.Errors[0]
			if e.Line != tt.line || e.Column != tt.column || !strings.Contains(e.Sentence, tt.says) {
				t.Errorf("got %q, want line %d, column %q: %q", e.Error(), tt.line, tt.column, tt.says)
			}
		})
	}
}

func TestOneWrongLineKeepsTheWholeTableOut(t *testing.T) {
	got := ReadNozzles(strings.NewReader(goodHeader + "A,spray,90,90,30,12,1\nB,spray,90,90,30,x,y\n"))
	if got.Rows != nil || len(got.Errors) != 2 {
		t.Errorf("got %d rows, %v; want none and two errors", len(got.Rows), got.Errors)
	}
}

func TestErrorsAreCountedPastTheMostThatAreTold(t *testing.T) {
	got := ReadNozzles(strings.NewReader(goodHeader + strings.Repeat("A,spray,90,90,x,12,1\n", 60)))
	last := got.Errors[len(got.Errors)-1]
	if len(got.Errors) != maxRowErrors+1 || !strings.Contains(last.Sentence, "more things are wrong") {
		t.Errorf("got %d errors, the last %q", len(got.Errors), last.Error())
	}
}

func TestReadingThatBreaksOffImportsNothing(t *testing.T) {
	broken := iotest.ErrReader(errors.New("the disk is gone"))
	got := ReadNozzles(broken)
	if got.Rows != nil || len(got.Errors) != 1 || !strings.Contains(got.Errors[0].Sentence, "the disk is gone") {
		t.Errorf("got %+v", got)
	}
}

// Any sound nozzle goes out and comes back the same.
func TestNozzlesRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := []Entry{{ID: "n-x", Nozzle: drawNozzle(t)}}
		if err := want[0].Validate(); err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := WriteNozzles(&b, want); err != nil {
			t.Fatal(err)
		}
		got := ReadNozzles(&b)
		if len(got.Errors) > 0 {
			t.Fatal(got.Errors[0].Error())
		}
		if diff := cmp.Diff(want, got.Rows); diff != "" {
			t.Fatalf("(-want +got):\n%s", diff)
		}
	})
}

func drawNozzle(t *rapid.T) Nozzle {
	n := Nozzle{
		Name:       rapid.StringMatching(`[A-Za-z0-9][a-z ,"'=é]{0,20}[a-z]`).Draw(t, "name"),
		Family:     rapid.SampledFrom([]Family{Spray, Stream, Rotor, Strip}).Draw(t, "family"),
		Source:     "S",
		Trajectory: units.Degrees(rapid.Float64Range(0, 60).Draw(t, "trajectory")),
		Profile:    Profile{Kind: ProfileTable, Shares: []float64{1, rapid.Float64Range(0, 9).Draw(t, "share"), 0}},
		TurnDown:   TurnDown{0.8, 0.4, rapid.Float64Range(0, 2).Draw(t, "power")},
		Thread:     "T",
	}
	p := 10.0
	for range rapid.IntRange(1, 6).Draw(t, "rows") {
		p += rapid.Float64Range(0.1, 10).Draw(t, "dp")
		n.Rows = append(n.Rows, Row{units.PSI(p),
			units.Feet(rapid.Float64Range(0.01, 50).Draw(t, "throw")), units.GPM(rapid.Float64Range(0.01, 20).Draw(t, "flow"))})
	}
	n.BestPSI = n.Rows[0].Pressure
	if n.Family == Strip {
		n.Strip = &StripShape{Ahead: true, Back: rapid.Bool().Draw(t, "back"), Left: 2.5, Right: units.Feet(rapid.Float64Range(0, 5).Draw(t, "right"))}
		return n
	}
	n.ArcLeast = units.Degrees(rapid.Float64Range(1, 180).Draw(t, "least"))
	n.ArcMost = n.ArcLeast + units.Degrees(rapid.Float64Range(0, 180).Draw(t, "more"))
	n.FlowFollowsArc = rapid.Bool().Draw(t, "follows")
	return n
}

// Whatever is sent, reading answers with sound nozzles or with sentences, and
// what it took it takes again after writing it out.
func FuzzReadNozzles(f *testing.F) {
	example, err := os.ReadFile("../../testdata/catalog/example.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(example)
	f.Add([]byte(goodHeader + "A,spray,90,90,30,12,1\nA,,,,40,13,1.2\n"))
	f.Add([]byte("\ufeff" + goodHeader + "\"A\",strip,,,30,\"1,2\",1\r\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		got := ReadNozzles(bytes.NewReader(text))
		if (len(got.Errors) == 0) != (len(got.Rows) > 0) {
			t.Fatalf("%d rows and %d errors", len(got.Rows), len(got.Errors))
		}
		for _, e := range got.Errors {
			if e.Sentence == "" || e.Line < 0 {
				t.Fatalf("error without words: %+v", e)
			}
		}
		if len(got.Rows) == 0 {
			return
		}
		var b bytes.Buffer
		if err := WriteNozzles(&b, got.Rows); err != nil {
			t.Fatal(err)
		}
		again := ReadNozzles(&b)
		if diff := cmp.Diff(got.Rows, again.Rows); diff != "" {
			t.Fatalf("after writing out (-first +again):\n%s\n%v", diff, again.Errors)
		}
	})
}
