//go:build browser

package walk

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// weatherByMonth is a station invented: means of many years, in the units of its columns.
const weatherByMonth = `# an invented station, means of many years
month,tmax_f,tmin_f,rh_max_pct,rh_min_pct,sun_h,wind_mph,rain_in
1,41,22,80,55,5.1,5,0.6
2,47,26,79,50,6.0,6,0.7
3,56,33,78,45,7.2,7,1.8
4,66,42,77,42,8.3,7,2.4
5,76,52,80,46,9.0,6,3.6
6,87,62,78,44,10.4,6,3.4
7,93,67,75,40,11.0,5,3.1
8,91,65,76,42,10.1,5,3.0
9,82,56,77,43,8.9,5,2.2
10,69,44,77,43,7.8,5,1.6
11,54,32,78,50,5.8,5,0.9
12,43,24,80,56,4.9,5,0.7
`

// chooseWeather opens the dialog of weather files and hands it one.
func (p *tab) chooseWeather(text string) {
	p.t.Helper()
	if !eval[bool](p, `!!document.querySelector("dialog[open] #weather-file")`) {
		p.wateringPart("climate")
		p.choose("#water", "Need is reckoned from", "weather")
		p.pressText("#water", "Read a weather file…")
		p.until(`document.querySelector("dialog[open] #weather-file")`)
	}
	path := filepath.Join(p.t.TempDir(), "weather.csv")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		p.t.Fatal(err)
	}
	p.do(chromedp.SetUploadFiles("#weather-file", []string{path}))
}

// printedProgram is what evenfall water --json prints, as far as pages are held to it.
type printedProgram struct {
	Says   string
	Peak   int `json:"peak_month"`
	Months []struct {
		Says     string
		Programs []struct {
			Stations []struct {
				Keyed int `json:"minutes_keyed_in"`
			}
		}
		Zones []struct {
			Minutes int `json:"minutes_per_cycle"`
			Chain   []printedFigure
		}
	}
}

// printedFigure is a figure of a chain.
type printedFigure struct {
	What, Unit, Source string
	Value              float64
}

// printed has the built program work out the plan as it is stored, without a page.
func (p *tab) printed() printedProgram {
	p.t.Helper()
	name := filepath.Join(p.t.TempDir(), "plan.json")
	if err := os.WriteFile(name, p.fetchBytes("/plans/"+eval[string](p, "evenfall.board.id")+"/files/plan.json"), 0o644); err != nil {
		p.t.Fatal(err)
	}
	out, err := exec.Command(binary, "water", "--json", name).Output()
	if err != nil {
		p.t.Fatalf("evenfall water: %v", err)
	}
	var v printedProgram
	if err := json.NewDecoder(bytes.NewReader(out)).Decode(&v); err != nil {
		p.t.Fatal(err)
	}
	return v
}

// agrees reports whether a figure as it is printed on a page is that value to the last
// digit printed.
func agrees(shown string, f printedFigure) bool {
	number, unit, _ := strings.Cut(strings.TrimSpace(shown), " ")
	v, err := strconv.ParseFloat(strings.ReplaceAll(number, ",", ""), 64)
	if err != nil {
		return false
	}
	want := f.Value
	if unit == "%" {
		want *= 100
	}
	decimals := 0
	if _, after, has := strings.Cut(number, "."); has {
		decimals = len(after)
	}
	return math.Abs(v-want) <= 0.5*math.Pow10(-decimals)*(1+1e-6)
}

// A weather file is read: what is wrong with it is told row by row and nothing taken,
// mended it becomes the climate by one step, and on the page of the program every number
// opens to the chain from that weather to the minutes. Bench, page and the program without
// a page tell the same.
func TestAWeatherFileBecomesMinutes(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	p.wateringOpen()
	rev := eval[int](p, `evenfall.state.rev`)

	rows := strings.Split(weatherByMonth, "\n")
	rows[3] = strings.Replace(rows[3], "47,26", "27,46", 1) // February's lowest over its highest
	rows[8] = strings.Replace(rows[8], "93", "ninety", 1)
	p.chooseWeather(strings.Join(rows, "\n"))
	p.until(`document.querySelectorAll("dialog[open] .price-faults li").length > 0`)
	faults := eval[[]string](p, `[...document.querySelectorAll("dialog[open] .price-faults li")].map((e) => e.textContent)`)
	for _, row := range []string{"Row 4:", "Row 9:"} {
		if !slices.ContainsFunc(faults, func(f string) bool { return strings.HasPrefix(f, row) }) {
			t.Errorf("no mistake of %s is told: %q", row, faults)
		}
	}
	if len(faults) != 2 {
		t.Errorf("two rows are wrong, told are %q", faults)
	}
	if !eval[bool](p, `document.querySelector('dialog[open] [value="take"]').disabled`) {
		t.Error("a file with mistakes can be taken")
	}
	p.axe("a weather file with mistakes")
	p.shot("watering-weather-faults")

	p.chooseWeather(weatherByMonth)
	p.until(`!document.querySelector('dialog[open] [value="take"]').disabled`)
	if got := eval[int](p, `document.querySelectorAll("dialog[open] tbody tr").length`); got != 12 {
		t.Errorf("of the climate %d months are shown before it is taken", got)
	}
	p.axe("a weather file read")
	p.shot("watering-weather-read")
	if now := eval[int](p, `evenfall.state.rev`); now != rev {
		t.Errorf("reading a file changed the plan: revision %d after %d", now, rev)
	}
	p.click(`dialog[open] [value="take"]`)
	p.until(`!document.querySelector("dialog[open]")`)
	p.watered()
	if now := eval[int](p, `evenfall.state.rev`); now != rev+1 {
		t.Errorf("revision %d after %d: not one step", now, rev)
	}
	says, _ := p.verdict()
	if !strings.HasPrefix(says, "July takes") {
		t.Errorf("by the weather: %q", says)
	}
	keyed := p.keyedIn()
	p.shot("watering-weather-taken")

	printed := p.printed()
	if printed.Says != says || printed.Peak != 7 {
		t.Errorf("without a page: %q, peak %d; on the bench %q", printed.Says, printed.Peak, says)
	}
	july := printed.Months[6]
	var minutes []string
	onBench := strings.Split(keyed, "\n")
	if len(onBench) != len(july.Programs) {
		t.Fatalf("without a page %d programs, on the bench %q", len(july.Programs), keyed)
	}
	for i, of := range july.Programs {
		var row []string
		for _, s := range of.Stations {
			row = append(row, fmt.Sprint(s.Keyed))
		}
		minutes = append(minutes, row...)
		if got := strings.Join(row, " | "); got == "" || !strings.HasSuffix(onBench[i], "| "+got) {
			t.Errorf("program %d without a page: %q, on the bench %q", i+1, got, onBench[i])
		}
	}

	p.click(`#water a[href="` + path + `/program"]`)
	p.until(`document.querySelector("body.program")`)
	p.axe("page of the program")
	p.shot("program-weather")
	if got := eval[string](p, `document.querySelector(".program-verdict").innerText`); !strings.Contains(got, strings.TrimSuffix(says, " It fits.")) {
		t.Errorf("the page says %q, the bench %q", got, says)
	}
	onPage := eval[[]string](p, `[...document.querySelectorAll(".program-card tbody tr")].map((r) => r.querySelector("td.figure").textContent)`)
	if !slices.Equal(onPage, minutes) {
		t.Errorf("minutes of the page %v, without a page %v", onPage, minutes)
	}
	p.chainsAgree(july.Zones)
}

// chainsAgree opens every chain of the page and holds each figure to the program's.
func (p *tab) chainsAgree(zones []struct {
	Minutes int `json:"minutes_per_cycle"`
	Chain   []printedFigure
}) {
	p.t.Helper()
	t := p.t
	var chains []struct {
		Open bool
		Says string
		Rows [][]string
	}
	got := eval[string](p, `JSON.stringify([...document.querySelectorAll(".program-chain")].filter((d) => d.querySelector("summary").textContent.startsWith("Station")).map((d) => {
		d.querySelector("summary").click();
		return { open: d.open, says: d.querySelector("summary").textContent, rows: [...d.querySelectorAll("tbody tr")].map((r) => [...r.cells].map((c) => c.textContent)) };
	}))`)
	if err := json.Unmarshal([]byte(got), &chains); err != nil {
		t.Fatal(err)
	}
	p.frame()
	p.axe("page of the program with its chains open")
	if len(chains) != 6 || len(zones) != 6 {
		t.Fatalf("%d chains on the page, %d printed", len(chains), len(zones))
	}
	figures := 0
	for i, c := range chains {
		if !c.Open || !strings.Contains(c.Says, fmt.Sprintf("%d minutes a week", zones[i].Minutes)) {
			t.Errorf("chain %d: open %v, %q, solved %d minutes", i+1, c.Open, c.Says, zones[i].Minutes)
		}
		if len(c.Rows) != len(zones[i].Chain) {
			t.Errorf("%s: %d rows on the page, %d figures printed", c.Says, len(c.Rows), len(zones[i].Chain))
			continue
		}
		for k, f := range zones[i].Chain {
			row := c.Rows[k]
			if row[0] != f.What || !strings.EqualFold(row[2], f.Source) || row[2] == "" {
				t.Errorf("%s: the page says %q, printed is %+v", c.Says, row, f)
			}
			if !agrees(row[1], f) {
				t.Errorf("%s: %s is %s on the page, %v %s printed", c.Says, f.What, row[1], f.Value, f.Unit)
			}
			figures++
		}
		all := fmt.Sprint(c.Rows)
		for _, want := range []string{"temperature", "wind", "Reference ET of July", "Evenness in the field", "Minutes as solved"} {
			if !strings.Contains(strings.ToLower(all), strings.ToLower(want)) {
				t.Errorf("%s: the chain does not go by %q", c.Says, want)
			}
		}
	}
	t.Logf("shown: %d figures from the weather to the minutes of six stations, each as printed without a page", figures)
}
