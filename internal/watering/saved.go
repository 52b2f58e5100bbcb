package watering

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/units"
)

// Short is an area that gets less than it needs.
type Short struct {
	Area int          // of Input.Areas
	By   units.Inches // of a cycle, of its target part
}

const (
	shortShare = 0.01  // of its need, by which the sums leave an area short before it is said (chosen)
	alikeShare = 0.005 // of the water, within which two programs take as much (chosen)
)

// compare holds the program against the sums zone by zone: what those take, which areas
// they leave short, and what is saved. The sums are as they come out, not in whole
// minutes, so that a program that has to be keyed in can take more.
func (m *Month) compare() {
	in := m.q.in
	m.Plain = in.plain(m.Month, 0)
	for _, p := range m.Plain {
		m.PlainGallons += p.Gallons
	}
	m.Saved = m.PlainGallons - m.Gallons
	for _, f := range m.q.fields {
		need := float64(in.Areas[f.area].Need[m.Month]) * float64(len(in.Calendar.Days))
		got := 0.0
		if !f.dry {
			got = f.received(func(z int) float64 { return m.Plain[z].Minutes }, in.Target.share())
		}
		if by := need - got; by > shortShare*need {
			m.PlainShort = append(m.PlainShort, Short{f.area, units.Inches(by)})
		}
	}
	m.SavedSays = in.savedSays(m.PlainGallons, m.Gallons, m.Gallons-m.Least, CycleWord(len(in.Calendar.Days)), m.PlainShort)
}

// CycleWord is a cycle of days in words: "a week", "in 3 days".
func CycleWord(days int) string {
	switch days {
	case 1:
		return "a day"
	case 7:
		return "a week"
	}
	return fmt.Sprintf("in %d days", days)
}

// savedSays is what a program saves in a sentence, whichever takes more. whole is what
// whole minutes, the same at every start, take of it.
func (in *Input) savedSays(plain, gallons, whole units.Gallons, cycle string, short []Short) string {
	if plain <= 0 {
		return "The sums zone by zone ask for no water."
	}
	saved, against := plain-gallons, "about as much as"
	switch {
	case float64(saved) > alikeShare*float64(plain):
		against = in.volume(saved) + " less than"
	case float64(-saved) > alikeShare*float64(plain):
		against = in.volume(-saved) + " more than"
	}
	says := fmt.Sprintf("Solved together the zones take %s %s, %s the %s of sums zone by zone.", in.volume(gallons), cycle, against, in.volume(plain))
	if float64(-saved) > alikeShare*float64(plain) {
		if float64(whole) > alikeShare*float64(plain) {
			says += fmt.Sprintf(" Whole minutes, alike at every start, take %s of what it runs.", in.volume(whole))
		}
	}
	if s := in.shortSays(short); s != "" {
		says += " The sums would leave " + s + "."
	}
	return says
}

// shortYear names an area that the sums leave short in some month, and how many more.
func (y *Year) shortYear(in *Input) string {
	var areas []int
	for _, m := range y.Months {
		if m == nil {
			continue
		}
		for _, s := range m.PlainShort {
			if !slices.Contains(areas, s.Area) {
				areas = append(areas, s.Area)
			}
		}
	}
	switch slices.Sort(areas); len(areas) {
	case 0:
		return ""
	case 1:
		return " The sums would leave " + name(in.Areas[areas[0]].Name, areas[0]) + " short in some month."
	}
	return fmt.Sprintf(" The sums would leave %s and %s short in some month.", name(in.Areas[areas[0]].Name, areas[0]), moreAreas(len(areas)-1))
}

// shortSays names the two areas left shortest.
func (in *Input) shortSays(short []Short) string {
	var worst []string
	taken := map[int]bool{}
	for range min(2, len(short)) {
		most := -1
		for i, s := range short {
			if !taken[i] && (most < 0 || s.By > short[most].By) {
				most = i
			}
		}
		taken[most] = true
		s := short[most]
		worst = append(worst, fmt.Sprintf("%s %s short", name(in.Areas[s.Area].Name, s.Area), in.depth(float64(s.By))))
	}
	if n := len(short) - len(worst); n > 0 {
		worst = append(worst, moreAreas(n)+" short")
	}
	return strings.Join(worst, ", ")
}

func moreAreas(n int) string {
	if n == 1 {
		return "1 more area"
	}
	return fmt.Sprintf("%d more areas", n)
}

// depth is a depth of water as the user reads it.
func (in *Input) depth(inches float64) string {
	least := units.Inches(0.01)
	if in.Show == units.Metric {
		least = units.Inches(1 / units.MillimetresPerInch)
	}
	if units.Inches(inches) < least/2 {
		return "less than " + in.Show.Depth(least)
	}
	return in.Show.Depth(units.Inches(inches))
}

// volume is a volume of water as the user reads it, in whole gallons or litres.
func (in *Input) volume(v units.Gallons) string {
	if in.Show == units.Metric {
		return in.Show.Volume(units.Gallons(math.Round(float64(v)*units.LitresPerGallon) / units.LitresPerGallon))
	}
	return in.Show.Volume(units.Gallons(math.Round(float64(v))))
}
