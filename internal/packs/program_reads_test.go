package packs

import (
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// handYear is a year of programs made by hand, so that what is printed of it does not go
// by how programs are worked out: a bed every night, lawn on three, lawn alone in spring.
func handYear(peak *watering.Month) *watering.Year {
	lawn := func(minutes ...int) []watering.Run {
		var out []watering.Run
		for z, m := range minutes {
			out = append(out, watering.Run{Zone: z, Minutes: 2 * m, Cycles: 2, Soak: 60})
		}
		return out
	}
	month := func(i int, gallons units.Gallons, share int) *watering.Month {
		return &watering.Month{Month: i, Gallons: gallons, Fits: true, Areas: peak.Areas, Plain: peak.Plain, Programs: []watering.Program{
			{Days: []int{0, 2, 4}, Starts: []int{22 * 60, 24*60 + 45}, Ends: 24*60 + 45 + 150, Runs: lawn(share, share-5, share-10, share-12, 8)},
			{Days: []int{1, 3, 5, 6}, Starts: []int{22 * 60}, Ends: 22*60 + 6, Runs: []watering.Run{{Zone: 5, Minutes: 6, Cycles: 1}}},
		}}
	}
	y := &watering.Year{Peak: 6, Gallons: 1000, Percent: &watering.Percent{}}
	y.Months[5], y.Months[6] = month(5, 8000, 36), month(6, 9000, 40)
	y.Months[3] = month(3, 5000, 20)
	y.Months[3].Programs = y.Months[3].Programs[:1]
	y.Months[6].Fits = false
	y.Months[6].Binds = []watering.Bind{{Limit: watering.Hours, Area: -1, By: 15, Says: "Program A takes longer than the hours allowed."}}
	y.Months[6].Eases = []watering.Ease{{Day: 5, Fits: true, Gallons: 8800, Says: "One more day, Saturday."}}
	return y
}

// TestTheProgramCardAsItReads holds the words of a card to those read last (-update).
func TestTheProgramCardAsItReads(t *testing.T) {
	t.Parallel()
	in := watered(t, func(*plan.Plan) {})
	prog := *in.Program
	prog.Year = handYear(prog.Year.Months[prog.Year.Peak])
	in.Program = &prog
	pages := oneSheet(t, in, Owner, Letter, "O3")
	var words []string
	for _, l := range linesOf(pages) {
		if strings.HasPrefix(l.String(), "Where these figures come from") {
			break
		}
		words = append(words, l.String())
	}
	golden(t, "O3-program", strings.Join(words, "\n")+"\n")
	card := readCard(t, pages)
	if len(card.months[3]) != 1 || len(card.months[6]) != 2 || len(card.months[0]) != 0 || card.percents != nil {
		t.Errorf("by month it is keyed in as %+v", card.months)
	}
	if k := card.months[6][0]; k.minutes[1] != 40 || k.minutes[4] != 28 || len(k.starts) != 2 {
		t.Errorf("program A of July is keyed in as %+v", k)
	}
}
