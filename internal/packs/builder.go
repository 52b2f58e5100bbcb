package packs

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/stakeout"
	"evenfall/internal/units"
)

// builder makes the pages of one pack.
type builder struct {
	ctx      context.Context
	in       Input
	p        *plan.Plan
	sys      units.System
	asked    Asked
	drawn    Paper  // of plans and details, laid across
	listed   Paper  // of lists, upright
	supply   string // what is assumed of it
	letters  string // that some of the plan's cannot be printed; "": all can
	tell     Tell
	stake    *stakeout.Plan
	dug      *sheets.Digging
	rec      *record               // recordOf
	byZone   map[plan.ID][]plan.ID // standingHeads
	now      sheet
	pages    []*page
	infos    []SheetInfo
	unplaced int
	late     []func() // what is filled in once all pages are made, as their numbers
	fits     []Fit    // of the first plan
}

// page is a page in the making: its room is what the frame leaves.
type page struct {
	drawing.Page
	sheet  sheet
	part   int    // of its sheet, from 0
	scale  string // in words; "" on lists
	tile   string // which part of a plan it shows: "tile B2 of 6"
	says   string // about the whole drawing, in the line under it
	room   orb.Bound
	view   *drawing.View // the plan it shows, for scale bar and north; nil: none
	tiles  *tiling       // that it is one of; nil: none
	tileAt [2]int        // its row and column
	across bool
	aside  orb.Bound // of a plan: where legend and notes go; empty: nowhere

	taken      []orb.Bound // of a plan: what labels keep off besides what the sheet knows
	unplaced   int         // labels that found no room on it
	unplacedIn string      // the list that has them
}

func (q *page) add(items ...drawing.Item) { q.Items = append(q.Items, items...) }

func newBuilder(ctx context.Context, in Input, asked Asked) (*builder, error) {
	if asked.Paper == "" {
		asked.Paper = UsualPaper(in.Plan.Show)
	}
	drawn, err := PaperOf(asked.Paper)
	if err != nil {
		return nil, err
	}
	listed, err := PaperOf(drawn.Lists)
	if err != nil {
		return nil, err
	}
	if sheetsOf(asked.Kind) == nil {
		return nil, fmt.Errorf("no pack is named %q; there are crew, owner and office", asked.Kind)
	}
	if asked.Scale != 0 {
		if _, err := ScaleOf(in.Plan.Show, asked.Scale); err != nil {
			return nil, err
		}
	}
	letters := ""
	if !drawing.Prints(string(in.Plan.Encode())) {
		letters = lettersNote
	}
	return &builder{
		letters: letters,
		ctx:     ctx, in: in, p: in.Plan, sys: in.Plan.Show, asked: asked, drawn: drawn, listed: listed,
		supply: sheets.SupplyNote(in.Plan, &in.Design.Pressure.Supply),
	}, nil
}

// staked is the stake-out, worked out once for all sheets, so that letters agree.
func (b *builder) staked() *stakeout.Plan {
	if b.stake == nil {
		b.stake = stakedOf(b.in, b.digging())
	}
	return b.stake
}

// standingHeads are the heads of a zone that stand when the work is done, in the order
// of the lists. They are sorted once for all zones.
func (b *builder) standingHeads(zone plan.ID) []plan.ID {
	if b.byZone == nil {
		b.byZone = map[plan.ID][]plan.ID{}
		for _, id := range sheets.HeadOrder(b.p) {
			if h := b.p.Heads[id]; h.Status.Stands() {
				b.byZone[h.Zone] = append(b.byZone[h.Zone], id)
			}
		}
	}
	return b.byZone[zone]
}

func (b *builder) make(s sheet) error {
	b.now = s
	first := len(b.pages)
	if err := s.make(b); err != nil {
		return err
	}
	info := SheetInfo{Code: s.code, Title: s.title, First: first, Pages: len(b.pages) - first, Holds: s.holds}
	for _, q := range b.pages[first:] {
		if info.Scale == "" {
			info.Scale = q.scale
		}
	}
	b.infos = append(b.infos, info)
	return nil
}

// newPage starts a page of the present sheet; across: the long side at the bottom.
func (b *builder) newPage(of Paper, across bool) *page {
	w, h := of.Width, of.Height
	if across {
		w, h = h, w
	}
	q := &page{sheet: b.now, across: across}
	q.Width, q.Height = w, h
	for i := len(b.pages) - 1; i >= 0 && b.pages[i].sheet.code == b.now.code; i-- {
		q.part++
	}
	q.room = b.frameRoom(q)
	b.pages = append(b.pages, q)
	return q
}

// drawingPage starts a page for a drawing, laid across on the pack's paper.
func (b *builder) drawingPage() *page { return b.newPage(b.drawn, true) }

// finish puts the frame about every page, which tells how many there are.
func (b *builder) finish() *Made {
	d := &drawing.Document{Title: b.p.Name, Subject: b.asked.Kind.Title()}
	for _, fill := range b.late {
		fill()
	}
	for i, q := range b.pages {
		b.frame(q, i+1, len(b.pages))
		d.Pages = append(d.Pages, q.Page)
	}
	return &Made{Document: d, Sheets: b.infos, Unplaced: b.unplaced, Fits: b.fits}
}

// Title is what a pack is called; "" where there is none of a kind.
func (k Kind) Title() string {
	switch k {
	case Crew:
		return "Crew pack"
	case Owner:
		return "Owner's book"
	case Office:
		return "Office pack"
	}
	return ""
}
