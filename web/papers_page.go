package web

import (
	"math"
	"net/http"
	"path"
	"strconv"
	"strings"

	"evenfall/internal/drawing"
	"evenfall/internal/packs"
	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/web/view"
)

// packChoices are the packs in the order they are offered.
var packChoices = []view.PackChoice{
	{Kind: string(packs.Crew), Name: packs.Crew.Title(), Holds: "To build from: plans, stake-out, nozzles, trenches, wire, zone cards, details, and the order of work."},
	{Kind: string(packs.Owner), Name: packs.Owner.Title(), Holds: "To keep: where everything is, stations, program, winter, each season, and what was proved: record drawing, wires, start-up and tests, audits."},
	{Kind: string(packs.Office), Name: packs.Office.Title(), Holds: "To sell and to file: coverage with its field estimate, parts, quote, permit and locate dates, findings."},
}

// papersPage is where the packs of a plan are chosen, looked at and saved.
func (s *Site) papersPage(w http.ResponseWriter, r *http.Request) {
	_, saved, p, err := s.opening(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	m := view.PapersModel{
		ID: saved.ID, Name: p.Name, Rev: saved.Rev, Packs: packChoices, Missing: missingOn(p), Files: paperFiles(saved.ID, p),
	}
	for _, paper := range packs.Papers() {
		m.Papers = append(m.Papers, view.PaperChoice{Value: string(paper.ID), Name: paperTitle(paper, p), Usual: paper.ID == packs.UsualPaper(p.Show)})
	}
	for _, scale := range packs.Scales(p.Show) {
		m.Scales = append(m.Scales, view.PaperChoice{Value: strconv.Itoa(scale.To), Name: scale.Name})
	}
	s.show(w, r, http.StatusOK, view.Papers(m))
}

// paperTitle names a paper with its size as plans are laid on it: across.
func paperTitle(paper packs.Paper, p *plan.Plan) string {
	size := func(pt float64) string { return p.Show.Inches(units.Inches(pt / 72)) }
	return paper.Name + ", " + size(paper.Height) + " × " + size(paper.Width)
}

// missingOn says what papers of a plan cannot show yet, each in a sentence.
func missingOn(p *plan.Plan) []string {
	var out []string
	say := func(none bool, sentence string) {
		if none {
			out = append(out, sentence)
		}
	}
	say(len(p.Areas) == 0, "No area is drawn: there is no ground to set heads out on.")
	say(len(p.Heads) == 0, "No head is drawn: there is nothing to stake out.")
	say(len(p.Heads) > 0 && len(p.Zones) == 0, "No zone is drawn: zone cards and stations stay empty.")
	say(len(p.Heads) > 0 && len(p.Pipes) == 0, "No pipe is drawn: trenches, sleeves and wire stay empty.")
	say(!p.Supply.Measured, "The water supply is not measured: every sheet says what is assumed of it.")
	return out
}

// paperFiles are the files that say the same as the papers, with what each is for:
// drawings first, then the lists.
func paperFiles(id string, p *plan.Plan) []view.PaperFile {
	var drawings, lists []view.PaperFile
	for _, f := range packs.Files() {
		if f.Pack != "" || !f.Of(p) {
			continue
		}
		row := view.PaperFile{Href: "/plans/" + id + "/files/" + f.Name, Label: f.Title, Holds: plan.Capital(f.Holds) + "."}
		switch path.Ext(f.Name) {
		case ".dxf", ".svg", ".geojson":
			drawings = append(drawings, row)
		default:
			lists = append(lists, row)
		}
	}
	return append(drawings, lists...)
}

// PackView is what a pack holds, as the page shows it.
type PackView struct {
	Rev    int64       `json:"rev"`
	Pack   string      `json:"pack"`
	Title  string      `json:"title"`
	File   string      `json:"file"`  // the name it is saved under
	Says   string      `json:"says"`  // how many pages on what, and the scale of plans
	Notes  []string    `json:"notes"` // what is to be known of it, each a sentence
	Sheets []PackSheet `json:"sheets"`
	Pages  []PackPage  `json:"pages"`
	Fits   []PackFit   `json:"fits"` // what each scale comes to on this paper
}

// PackSheet is one sheet of a pack.
type PackSheet struct {
	Code  string `json:"code"`
	Title string `json:"title"`
	Holds string `json:"holds"`
	Scale string `json:"scale,omitzero"`
	First int    `json:"first"` // of its pages, from 1
	Pages int    `json:"pages"`
}

// PackPage is one page of a pack.
type PackPage struct {
	Name   string  `json:"name"`
	WidePt float64 `json:"wide_pt"`
	HighPt float64 `json:"high_pt"`
}

// PackFit is what asking for a scale comes to on the paper chosen.
type PackFit struct {
	Scale int    `json:"scale"`
	Says  string `json:"says"` // "4 sheets"
}

// fitWords says what asking for a scale comes to.
func fitWords(f packs.Fit) string {
	switch {
	case f.Asked == 0:
		return f.Scale.Name
	case f.Asked != f.Scale.To:
		return "too many sheets, drawn at " + f.Scale.Name
	case f.Pages == 1:
		return "one sheet"
	}
	return plan.Plural(f.Pages, "sheet", "sheets")
}

func packWordsOf(q paperQuestion, made *packs.Made) *PackView {
	v := &PackView{Rev: q.key.rev, Pack: string(q.key.asked.Kind), Title: q.key.asked.Kind.Title(), File: q.file(), Notes: []string{}, Sheets: []PackSheet{}, Pages: []PackPage{}, Fits: []PackFit{}}
	scale := ""
	for _, sheet := range made.Sheets {
		v.Sheets = append(v.Sheets, PackSheet{sheet.Code, sheet.Title, plan.Capital(sheet.Holds) + ".", plan.Capital(sheet.Scale), sheet.First + 1, sheet.Pages})
		if scale == "" {
			scale = sheet.Scale
		}
	}
	for _, f := range made.Fits {
		v.Fits = append(v.Fits, PackFit{f.Asked, fitWords(f)})
	}
	for i := range made.Document.Pages {
		page := &made.Document.Pages[i]
		v.Pages = append(v.Pages, PackPage{page.Name, page.Width, page.Height})
	}
	v.Says = v.Title + " of revision " + q.key.asked.Revision + ": " + plan.Plural(len(v.Pages), "page", "pages")
	if scale != "" {
		v.Says += ", plans at " + scale
	}
	v.Says += "."
	if n := made.Unplaced; n > 0 {
		v.Notes = append(v.Notes, plan.Capital(plan.Plural(n, "label of the drawings found", "labels of the drawings found"))+" no room and "+plan.Choose(n, "stands", "stand")+" in the lists alone; the sheets say where.")
	}
	for _, f := range made.Fits {
		if asked := q.key.asked.Scale; asked != 0 && f.Asked == asked && f.Scale.To != asked {
			v.Notes = append(v.Notes, "At the scale asked for a plan would take too many sheets: it is drawn at "+f.Scale.Name+".")
		}
	}
	if s := mixedPaper(made.Document.Pages); s != "" {
		v.Notes = append(v.Notes, s)
	}
	return v
}

// mixedPaper says which pages are for which paper, where they are not all for one: such a
// pack is printed in parts. "" where they are.
func mixedPaper(pages []drawing.Page) string {
	var parts []string
	for _, paper := range packs.Papers() {
		var on []int
		for i, page := range pages {
			if isOn(page, paper) {
				on = append(on, i+1)
			}
		}
		if len(on) == len(pages) {
			return ""
		}
		if len(on) > 0 {
			parts = append(parts, plan.Choose(len(on), "page ", "pages ")+runs(on)+" on "+paper.Name)
		}
	}
	return "It is printed in parts, one for each paper: " + strings.Join(parts, "; ") + "."
}

// isOn reports whether a page is as large as a paper, upright or across.
func isOn(page drawing.Page, paper packs.Paper) bool {
	return math.Abs(min(page.Width, page.Height)-paper.Width) < 1 && math.Abs(max(page.Width, page.Height)-paper.Height) < 1
}

// runs names whole numbers, which rise, as a window for printing takes them: "1-5, 9".
func runs(of []int) string {
	var out []string
	for i := 0; i < len(of); {
		j := i
		for j+1 < len(of) && of[j+1] == of[j]+1 {
			j++
		}
		run := strconv.Itoa(of[i])
		if j > i {
			run += "-" + strconv.Itoa(of[j])
		}
		out = append(out, run)
		i = j + 1
	}
	return strings.Join(out, ", ")
}
