package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"path"
	"strings"

	"evenfall/internal/climate"
	"evenfall/internal/packs"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/sheets"
	"evenfall/internal/watering"
	"evenfall/web/view"
)

// programPage shows the watering plan with all that stands behind it. It needs no
// script: which month is opened is in the address.
func (s *Site) programPage(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	month, err := monthAsked(r.URL.Query().Get("month"))
	if err != nil {
		s.fail(w, r, err)
		return
	}
	m := view.ProgramModel{Caution: sheets.ProgramCaution, Says: "", Files: programFiles(string(q.o.id))}
	err = s.within(r.Context(), computeMost, []chan struct{}{q.o.estimating, s.long}, func(ctx context.Context) error {
		prog, err := s.program(ctx, q, nil)
		var no *noProgram
		if errors.As(err, &no) {
			m.Says = no.sentence
			return nil
		}
		if err == nil {
			waterMakerOf(q.p, prog).page(&m, waterWords(q.p, q.rev, prog), month)
		}
		return err
	})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	m.ID, m.Name, m.Date = q.o.id, q.p.Name, s.Now().Format("2 January 2006")
	s.show(w, r, http.StatusOK, view.Program(m))
}

// monthAsked reads a month by its name or the beginning of it; -1 where none is asked for.
func monthAsked(s string) (int, error) {
	if s == "" {
		return -1, nil
	}
	if month, ok := climate.MonthNamed(s); ok {
		return month, nil
	}
	return 0, refuse(http.StatusBadRequest, "No month is named “%s”; write one as july.", clipped(s))
}

// page fills the model from the plan and from what the bench is told of it.
func (m *waterMaker) page(to *view.ProgramModel, v *WaterView, month int) {
	if month < 0 || m.prog.Asked.PeakOnly {
		month = max(m.year.Peak, 0)
	}
	to.Offered, to.Fits, to.Says, to.Why, to.Assumed = v.Offered, v.Fits, v.Says, v.Why, v.Assumed
	if !v.Offered {
		return
	}
	if m.year.Peak >= 0 {
		to.Says = sheets.MonthTakes(m.p, m.prog, m.year.Peak) // whether it fits is the title
	}
	for _, e := range v.Eases {
		to.Eases = append(to.Eases, view.ProgramEase{Says: e.Says, Fits: e.Fits})
	}
	to.Month = m.monthName(month)
	to.During = "in " + to.Month
	if m.prog.Asked.PeakOnly {
		to.During = "in the week at peak"
	}
	for _, of := range v.Months {
		card := monthCard(of, of.Name == to.Month)
		if of.Percent != "" && of.Name != climate.MonthNames[m.year.Peak] {
			card.Percent = "Or key in the program of " + climate.MonthNames[m.year.Peak] + " and turn it to " + of.Percent + "."
		}
		if card.Says == v.Says { // it stands above
			card.Says = ""
		}
		to.Months = append(to.Months, card)
	}
	if !m.prog.Asked.PeakOnly {
		to.Year = tableOf(sheets.ProgramYear(m.p, m.prog))
	}
	to.Climate = sentence(m.prog.Asked.Year.Source)
	to.Adjust, to.Off, to.Sensor, to.Budget = v.Adjust, sheets.OffSays(m.prog), sheets.SensorSays(m.p), m.budget()
	to.Needs, to.Soils = tableOf(sheets.Needs(m.p, m.prog)), tableOf(sheets.Soils(m.p, m.prog, month))
	for i, w := range m.year.SoilWater(m.in) {
		to.Pictures = append(to.Pictures, m.soilPicture(&w, plan.Capital(m.p.AreaName(plan.ID(m.in.Areas[i].ID))), month))
	}
	if v.Saved != "" {
		to.Saved = append(to.Saved, v.Saved)
	}
	of := m.year.Months[month]
	if of == nil {
		return
	}
	for i := range to.Months {
		for k := range to.Months[i].Programs {
			if to.Months[i].Shown {
				to.Months[i].Programs[k].Says = sheets.StartsSay(of.Programs[k], m.cycle)
			}
		}
	}
	to.Areas, to.Plain = tableOf(sheets.AreasWatered(m.p, m.prog, month)), tableOf(sheets.PlainSums(m.p, m.prog, month))
	to.Against = plainAgainst(to.Plain)
	to.Times = tableOf(sheets.Timetable(m.p, m.prog, month))
	if says := sheets.SavedSays(m.p, m.prog, month); says != "" && says != v.Saved {
		to.Saved = append(to.Saved, says)
	}
	for i := range m.in.Areas {
		if a := m.area(of, i); a.Beside != "" {
			to.Beside = append(to.Beside, a.Name+": "+a.Beside)
		}
	}
	for z, zone := range m.in.Zones {
		if t := sheets.Chain(m.p, m.prog, plan.ID(zone.ID), month); len(t.Rows) > 0 {
			to.Chains = append(to.Chains, view.ProgramChain{
				Title: m.stationName(z), Says: plan.Plural(sheets.ZoneMinutes(of, z), "minute ", "minutes ") + watering.CycleWord(m.cycle),
				Table: capitals(tableOf(t)),
			})
		}
	}
}

// budget is the year beside the published budgets of water; no rows without a climate.
func (m *waterMaker) budget() view.Table {
	t := view.Table{Columns: []string{"What", "Figure", "Where it is from"}, Numbers: make([]bool, 3)}
	rows, err := season.Budget(m.prog)
	if err != nil { // formulas for design, which a yard may be out of reach of
		t.Rows = [][]string{{"They do not tell of this yard", "–", sentence(err.Error())}}
	}
	for _, f := range factsOf(m.sys, rows) {
		t.Rows = append(t.Rows, []string{f.What, f.Value, f.Source})
	}
	return t
}

func monthCard(of WaterMonth, shown bool) view.ProgramMonth {
	v := view.ProgramMonth{
		Name: of.Name, Word: strings.ToLower(of.Name), Says: of.Says, Shown: shown,
	}
	for _, program := range of.Programs {
		c := view.ProgramCard{Letter: program.Letter, Days: program.Days, Starts: program.Starts, Ends: program.Ends}
		c.Each = strings.Contains(program.Starts, " and ")
		for _, s := range program.Stations {
			if c.Each { // it stands at the head of the column
				s.Cycles = ""
			}
			c.Cycles = c.Cycles || s.Cycles != ""
			c.Stations = append(c.Stations, view.ProgramStation{Station: s.Station, Name: s.Name, Minutes: s.Minutes, Cycles: s.Cycles, Plain: s.Plain})
		}
		v.Programs = append(v.Programs, c)
	}
	return v
}

// stationName is a zone with its station first: "Station 3, Side lawn".
func (m *waterMaker) stationName(zone int) string {
	if n := m.in.Zones[zone].Station; n > 0 {
		return fmt.Sprintf("Station %d, %s", n, m.zoneName(zone))
	}
	return m.zoneName(zone)
}

// plainAgainst are the one-zone sums with few enough columns to be seen at once: what
// each zone would run and take by itself, and as solved.
func plainAgainst(t view.Table) view.Table {
	if len(t.Rows) == 0 {
		return t
	}
	last := len(t.Columns) - 1
	of := []int{0, 1, sheets.PlainMinutesColumn, last - 1, sheets.PlainWaterColumn, last}
	out := view.Table{}
	for _, i := range of {
		out.Columns, out.Numbers = append(out.Columns, t.Columns[i]), append(out.Numbers, t.Numbers[i])
	}
	for _, i := range []int{2, 4} {
		out.Columns[i] = "By itself, " + strings.ToLower(out.Columns[i][:1]) + out.Columns[i][1:]
	}
	for _, row := range t.Rows {
		var cells []string
		for _, i := range of {
			cells = append(cells, row[i])
		}
		out.Rows = append(out.Rows, cells)
	}
	return out
}

// capitals has each cell of a table begin as a sentence does.
func capitals(t view.Table) view.Table {
	for _, row := range t.Rows {
		for i := range row {
			row[i] = plan.Capital(row[i])
		}
	}
	return t
}

// tableOf is a table of sheets, ready to print. A column is of figures where any cell is.
func tableOf(t sheets.Table) view.Table {
	out := view.Table{Numbers: make([]bool, len(t.Columns))}
	for _, c := range t.Columns {
		out.Columns = append(out.Columns, c.Name)
	}
	for _, row := range t.Rows {
		cells := make([]string, len(row))
		for i, c := range row {
			cells[i] = c.Shown()
			out.Numbers[i] = out.Numbers[i] || c.IsNumber()
		}
		out.Rows = append(out.Rows, cells)
	}
	return out
}

// programFiles are the files that say the same as the page.
func programFiles(id string) []view.PaperFile {
	var list []view.PaperFile
	for _, f := range packs.Files() {
		if !f.Program {
			continue
		}
		href := "/plans/" + id + "/files/" + f.Name
		if f.Pack != "" {
			href = "/plans/" + id + "/packs/" + strings.TrimSuffix(f.Name, path.Ext(f.Name)) + ".pdf"
		}
		list = append(list, view.PaperFile{Href: href, Label: f.Title, Holds: plan.Capital(f.Holds) + "."})
	}
	return list
}
