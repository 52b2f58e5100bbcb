package packs

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"io"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/sheets"
	"evenfall/internal/stakeout"
	"evenfall/internal/units"
)

// File is one file that a plan can be saved as. This register is the only one: the
// command line, its help, the page's files and its menu go by it.
type File struct {
	Name  string // parts.csv
	Title string // as a menu has it: "Parts list, CSV"
	Holds string // in a few words
	Pack  Kind   // the pack it is; "" for any other file
	Place bool   // only of a plan with a latitude and longitude
	// Program: it is written from the watering plan, so its Input is one that is Watered.
	Program bool

	write func(w io.Writer, s *saving) error
}

// saving is what a file is written from.
type saving struct {
	ctx   context.Context
	in    Input
	asked Asked
	tell  Tell
}

// Files are the files of a plan in the order they are named: papers, drawings, lists, the
// watering program, tables to be changed, and the plan itself. The caller owns it.
func Files() []File {
	return slices.Concat(papers(), drawings(), lists(), setOut(), programs(), proved(), tables(), documents())
}

// FileOf is the file of a name, and whether there is one.
func FileOf(name string) (File, bool) {
	for _, f := range Files() {
		if f.Name == name {
			return f, true
		}
	}
	return File{}, false
}

// Write writes the file. Kind of what is asked is the file's own. The same question
// has the same bytes. tell may be nil. The error is the context's, the writer's, or says
// what the plan lacks.
func (f File) Write(ctx context.Context, w io.Writer, in Input, asked Asked, tell Tell) error {
	asked.Kind = f.Pack
	return f.write(w, &saving{ctx, in, asked, tell})
}

// Of reports whether a plan can be saved so.
func (f File) Of(p *plan.Plan) bool {
	return !f.Place || p.Site.Latitude != nil && p.Site.Longitude != nil
}

// papers are the packs.
func papers() []File {
	pack := func(k Kind, holds string) File {
		return File{Name: string(k) + ".pdf", Title: k.Title() + ", PDF", Holds: holds, Pack: k, Program: k.ReadsProgram(), write: func(w io.Writer, s *saving) error {
			made, err := Make(s.ctx, s.in, s.asked, s.tell)
			if err != nil {
				return err
			}
			return drawing.WritePDF(w, made.Document, s.asked.Date)
		}}
	}
	return []File{
		pack(Crew, "the papers to build from: plans to scale, stake-out, trenches, wire, details"),
		pack(Owner, "the papers to live with it: yard, stations, program, winter, seasons, record drawing, wires, tests, audits"),
		pack(Office, "the papers to sell and keep it by: permits, map, parts, quote, findings"),
	}
}

// drawings are the system as one drawing, for who goes on drawing it.
func drawings() []File {
	return []File{
		{Name: "plan.dxf", Title: "Plan in layers, DXF", Holds: "the system in its true size on layers, for a drafting program", write: func(w io.Writer, s *saving) error {
			return drawing.WriteDXF(w, chartOf(s.in), s.in.Plan.Show == units.Metric)
		}},
		{Name: "layout.svg", Title: "Layout, SVG", Holds: "the system as one picture", write: func(w io.Writer, s *saving) error {
			return drawing.WriteSVG(w, layoutPage(s.in))
		}},
		{Name: "sleeves.svg", Title: "Sleeve drawing, SVG", Holds: "the sleeves under paving, for whoever lays it", write: func(w io.Writer, s *saving) error {
			return sleeveDrawing(w, s.in)
		}},
	}
}

// lists are the tables of package sheets.
func lists() []File {
	var out []File
	for _, name := range sheets.Files {
		out = append(out, File{Name: name, Title: sheets.Title(name), Holds: sheets.Holds(name), write: func(w io.Writer, s *saving) error {
			return sheets.WriteFile(w, name, s.in.Plan, s.in.Design)
		}})
	}
	return out
}

// setOut are the lists of flags and of nozzles to set, as the crew's sheets have them.
func setOut() []File {
	file := func(name, title, holds string, of func(in Input, s *stakeout.Plan) sheets.Table) File {
		return File{Name: name, Title: title, Holds: holds, write: func(w io.Writer, s *saving) error {
			return sheets.CSV(w, of(s.in, stakedOf(s.in, sheets.DiggingOf(s.in.Plan, s.in.Design.Digs))))
		}}
	}
	return []File{
		file("stakes.csv", "Stake-out, CSV", "where each flag goes by tape, in walking order", func(in Input, s *stakeout.Plan) sheets.Table {
			return sheets.Stakes(in.Plan, s)
		}),
		file("stake-points.csv", "Fixed points of the stake-out, CSV", "what the letters of the stake-out stand for", func(_ Input, s *stakeout.Plan) sheets.Table {
			return sheets.StakePoints(s)
		}),
		file("setting.csv", "Nozzle setting, CSV", "nozzle, arc by what is seen from the head, throw and body of each head", func(in Input, s *stakeout.Plan) sheets.Table {
			return sheets.SettingTable(in.Plan, in.Design, s)
		}),
	}
}

// programs are what is keyed in to water by. Where there is no program they say why, as
// one plan of many that has none is no reason to write nothing of the others.
func programs() []File {
	return []File{
		{Name: "program.csv", Title: "Watering program, CSV", Holds: "what is keyed in at the controller, month by month", Program: true, write: func(w io.Writer, s *saving) error {
			return sheets.CSV(w, sheets.ProgramList(s.in.Plan, s.in.Program, s.in.noProgram()))
		}},
		{Name: "program.ics", Title: "Watering program, calendar", Holds: "when which stations run in the twelve months to come, for a calendar", Program: true, write: func(w io.Writer, s *saving) error {
			return sheets.ProgramCalendar(w, s.in.Plan, s.in.Program, s.in.noProgram(), cmp.Or(s.asked.Begins, s.asked.Date))
		}},
	}
}

// noProgram is why there is no program, a sentence.
func (in Input) noProgram() string { return cmp.Or(in.NoProgram, "No watering program was asked for.") }

// proved are the records of what was tested, found and measured. Where nothing is noted yet
// they are lists to be filled in, or say so.
func proved() []File {
	file := func(name, title, holds string, of func(s *saving) (sheets.Table, error)) File {
		return File{Name: name, Title: title, Holds: holds, write: func(w io.Writer, s *saving) error {
			t, err := of(s)
			if err != nil {
				return err
			}
			return sheets.CSV(w, t)
		}}
	}
	return []File{
		file("start-up.csv", "Start-up log, CSV", "the steps of the start-up, and each zone as predicted and as it ran", func(s *saving) (sheets.Table, error) {
			return sheets.StartLog(s.in.Plan, proof.StartUp(s.in.Plan, s.in.Design)), nil
		}),
		file("terminal-map.csv", "Terminal map, CSV", "which wire is on which terminal of the controller, and what it reads", func(s *saving) (sheets.Table, error) {
			return sheets.Terminals(proof.WiresAlong(s.in.Plan, s.in.Design.Wiring)), nil
		}),
		file("audits.csv", "Catch-can audits, CSV", "what each can caught beside what is predicted, the figures, and heads at fault", func(s *saving) (sheets.Table, error) {
			audits, err := proof.Audits(s.ctx, s.in.Plan)
			return sheets.Audits(s.in.Plan, audits), err
		}),
		file("as-built.csv", "Record of what was built, CSV", "where things went, and how they are found from fixed corners", func(s *saving) (sheets.Table, error) {
			return sheets.Built(s.in.Plan, proof.BuiltOf(s.in.Plan, s.in.Design)), nil
		}),
	}
}

// tables are those handed out to be changed and brought in again: the plan's own rows,
// and the built-in ones it has no row of its own for.
func tables() []File {
	return []File{
		{Name: "pipe-table.csv", Title: "Pipe table, CSV", Holds: "the pipe classes: change them and take them in again", write: func(w io.Writer, s *saving) error {
			rows := slices.DeleteFunc(catalog.PipeClasses(), func(e catalog.PipeClassEntry) bool { _, own := s.in.Plan.PipeClasses[plan.ID(e.ID)]; return own })
			for _, id := range plan.SortedIDs(s.in.Plan.PipeClasses) {
				rows = append(rows, catalog.PipeClassEntry{ID: string(id), PipeClass: s.in.Plan.PipeClasses[id]})
			}
			return catalog.WritePipes(w, rows)
		}},
		{Name: "device-table.csv", Title: "Devices and their losses, CSV", Holds: "valves, backflow devices, meters and the like with their losses: change them and take them in again", write: func(w io.Writer, s *saving) error {
			rows := slices.DeleteFunc(catalog.Devices(), func(e catalog.DeviceEntry) bool { _, own := s.in.Plan.Devices[plan.ID(e.ID)]; return own })
			for _, id := range plan.SortedIDs(s.in.Plan.Devices) {
				rows = append(rows, catalog.DeviceEntry{ID: string(id), Device: s.in.Plan.Devices[id]})
			}
			return catalog.WriteDevices(w, rows)
		}},
	}
}

// documents are the plan in other forms.
func documents() []File {
	return []File{
		{Name: "outlines.geojson", Title: "Outlines, GeoJSON", Holds: "the outlines on the map", Place: true, write: func(w io.Writer, s *saving) error {
			text, err := plan.ToGeoJSON(s.in.Plan)
			return atOnce(w, "outlines.geojson", text, err)
		}},
		{Name: "system.geojson", Title: "System, GeoJSON", Holds: "heads, pipes, valves, sleeves and wire on the map, each with what it is", Place: true, write: func(w io.Writer, s *saving) error {
			text, err := plan.SystemGeoJSON(s.in.Plan)
			return atOnce(w, "system.geojson", text, err)
		}},
		{Name: "plan.json", Title: "The whole plan, to keep or move", Holds: "the plan itself, to be brought in again, here or elsewhere", write: func(w io.Writer, s *saving) error {
			return atOnce(w, "plan.json", s.in.Plan.Encode(), nil)
		}},
	}
}

// atOnce writes what was made at one go.
func atOnce(w io.Writer, name string, text []byte, err error) error {
	if err != nil {
		return err
	}
	if _, err := io.Copy(w, bytes.NewReader(text)); err != nil {
		return fmt.Errorf("packs: writing %s: %w", name, err)
	}
	return nil
}
