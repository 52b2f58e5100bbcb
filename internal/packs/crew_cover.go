package packs

import (
	"fmt"
	"strings"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

// crewCover says what the pack is, what comes before digging, what is open, what to
// bring, and where to find what.
func (b *builder) crewCover() error {
	f := b.list()
	f.para("These papers are for who builds the system with tape, flags and a shovel. Work by the order of work (C2); every step there names its sheet.")
	b.property(f, false)
	b.openStops(f)
	f.section("Before digging")
	f.caution(sheets.BeforeDigging(b.p))
	f.checks(b.beforeChecks()...)
	f.section("Water this plan is made for")
	if b.supply != "" {
		f.caution(b.supply)
	} else {
		f.para(fmt.Sprintf("The supply was measured: %s to plan on. If tap or gauge tell you otherwise, stop and say so.", b.sys.Flow(b.in.Design.Pressure.Supply.DesignGPM)))
	}
	b.listOfSheets(f)
	b.acceptedHere(f)
	f.section("To bring")
	f.bullets(b.tools()...)
	f.section("Who to call")
	f.table(grid{Head: []string{"For", "Name and number, written in by hand"}, Shares: []float64{2, 5}, Least: 21, Rows: [][]string{
		{"Emergency", ""}, {"Gas: a line is hit or smelled", ""}, {"Power: a line is hit", ""}, {"Water supplier", ""}, {"Licensed tester of the backflow device", ""}, {"Who drew this plan", ""}, {"Owner", ""},
	}, Note: "Gas: leave at once, no switch, no flame, no phone near it; call from afar. Power: keep away from machine and trench. Every line that is nicked is told to whom it belongs, even when nothing seems wrong."})
	return nil
}

// openStops warns of findings that are wrong to build.
func (b *builder) openStops(f *flow) {
	var open []plan.Finding
	for _, x := range b.in.Design.Findings {
		if x.Rank == plan.Stop && x.Accepted == nil {
			open = append(open, x)
		}
	}
	if len(open) == 0 {
		return
	}
	f.section("Not to be built as it is")
	f.caution(fmt.Sprintf("%s open that this plan must not be built with. Settle %s with who drew it before anything is bought or dug.",
		plan.Plural(len(open), "finding is", "findings are"), plan.Choose(len(open), "it", "them")))
	const most = 12 // of a plan in the making there may be hundreds
	var says []string
	for _, x := range open[:min(most, len(open))] {
		says = append(says, x.Title+": "+x.Sentence)
	}
	if n := len(open) - most; n > 0 {
		says = append(says, fmt.Sprintf("%s more: see the office pack, F5.", plan.Plural(n, "is", "are")))
	}
	f.bullets(says...)
}

// acceptedHere lists what was found and left so on purpose, so that nobody mends it.
func (b *builder) acceptedHere(f *flow) {
	var says []string
	for _, x := range b.in.Design.Findings {
		if x.Accepted != nil {
			says = append(says, fmt.Sprintf("%s: %s Kept because: %s", x.Title, x.Sentence, strings.TrimRight(x.Accepted.Reason, ".")+"."))
		}
	}
	if len(says) == 0 {
		return
	}
	f.section("Left so on purpose")
	f.bullets(says...)
}

// beforeChecks are what must be so before the first cut.
func (b *builder) beforeChecks() []string {
	var private []string
	for _, id := range plan.SortedIDs(b.p.Areas) {
		if a := b.p.Areas[id]; a.Kind == plan.NoDig && a.Status.Stands() {
			private = append(private, b.p.AreaName(id))
		}
	}
	own := "Private lines found and marked: gas to a grill, power to a shed, drains, data, a pet fence."
	if len(private) > 0 {
		own = "Private lines found and marked. This plan knows of: " + plan.Several(private) + "."
	}
	out := []string{
		"All lines are marked, every answer to the locate is in. Marks good by local law until: ____________",
		own,
		"Permit and connection are settled with who may sign for them. Number: ____________",
		"Everybody knows where the water is shut off, and where power and gas are.",
	}
	if b.p.Site.LocateOn == "" && b.p.Site.LocateTicket == "" {
		out = append([]string{"Locate asked for on: ____________  Ticket: ____________"}, out...)
	}
	return out
}

// listOfSheets is the sheets with the pages they are on, which are known when all are made.
func (b *builder) listOfSheets(f *flow) {
	f.section("Sheets of this pack")
	first := len(b.pages) - 1
	g := grid{Head: []string{"Sheet", "Title", "What it is for", "Page"}, Numbers: []bool{false, false, false, true}, Shares: []float64{1, 3, 7, 1}}
	for _, s := range sheetsOf(b.asked.Kind) {
		g.Rows = append(g.Rows, []string{s.code, s.title, s.holds, pageMark + s.code})
	}
	f.table(g)
	pages := b.pages[first:]
	b.late = append(b.late, func() {
		on := map[string]int{}
		for _, s := range b.infos {
			on[s.Code] = s.First + 1
		}
		for _, q := range pages {
			for _, it := range q.Items {
				if t, ok := it.(*drawing.Text); ok && strings.HasPrefix(t.S, pageMark) {
					if n, known := on[strings.TrimPrefix(t.S, pageMark)]; known {
						t.S = itoa(n)
					}
				}
			}
		}
	})
}

// pageMark stands before the code of a sheet whose page is not known yet; nobody types it.
const pageMark = "p§"

// tools are what this plan is built with.
func (b *builder) tools() []string {
	j := b.job()
	digs := b.in.Design.Digs
	flags := "white flags"
	if n := len(b.staked().Flags); n > 0 {
		flags = plan.Plural(n, "white flag", "white flags")
	}
	out := []string{
		fmt.Sprintf("Two long tapes (%s), a short one, %s with a pen that holds, white paint", b.sys.NominalLength(100), flags),
		"Shovels, a trenching spade, a tamper, a level, a straight board; eye and ear protection, gloves",
	}
	if digs.Totals.Trench > 60 { // more than a morning by hand: chosen
		out = append(out, fmt.Sprintf("For %s of trench: a trencher, and somebody who knows it", b.p.About(digs.Totals.Trench)))
	}
	if j.sleeves {
		out = append(out, "For sleeves: what the method in the list of sleeves takes; stakes and tape for their ends")
	}
	if j.cement {
		out = append(out, "PVC: saw or cutter, deburring knife, primer and cement of the right kind, rags, gloves that stand solvent")
	}
	if j.clamps {
		out = append(out, "Polyethylene: cutter, clamps with their tool, a can of hot water")
	}
	if j.soldered {
		out = append(out, "Copper: torch, lead-free solder, a fire shield and an extinguisher at hand")
	}
	if j.wired {
		out = append(out, "Wire: strippers, connectors for wet ground, a meter for volts and ohms, labels")
	}
	return append(out,
		"A pressure gauge with a hose thread, a bucket with its measure, a watch",
		"The nozzles' keys and screwdrivers, thread tape, caps for open risers",
		"These papers in a clear cover, and a phone with who to call")
}
