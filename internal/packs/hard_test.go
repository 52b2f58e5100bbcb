package packs

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/design"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// hardPlans are plans with nothing, with little, with far too much, and with names
// that no paper has room for.
func hardPlans(t testing.TB) []namedPlan {
	t.Helper()
	bare := func(change func(*plan.Plan)) *plan.Plan {
		p := drawnYard("Hard", units.US, 60, 40)
		change(p)
		return p
	}
	piped := func(change func(*plan.Plan)) *plan.Plan {
		return bare(func(p *plan.Plan) {
			id := addZone(p, 1, "Lawn", 3, 3)
			for i := range 6 {
				setHead(p, id, i+1, "spray-10-f", 8+10*float64(i%3), 10+10*float64(i/3), 0, 360)
			}
			pipeUp(p, plan.Spot{X: 1, Y: 1}, plan.Spot{X: 2, Y: 1})
			change(p)
		})
	}
	var out []namedPlan
	for _, c := range []struct {
		name string
		p    *plan.Plan
	}{
		{"empty", plan.Empty("", units.US)},
		{"empty metric", plan.Empty("Leer", units.Metric)},
		{"ground alone", bare(func(*plan.Plan) {})},
		{"one head", bare(func(p *plan.Plan) { setHead(p, "", 1, "spray-10-h", 5, 0.4, 0, 180) })},
		{"heads without pipe", piped(func(p *plan.Plan) { p.Nodes, p.Pipes, p.Supply = nil, nil, plan.Supply{} })},
		{"zones without valves", piped(func(p *plan.Plan) {
			p.Nodes, p.Pipes = nil, nil
			for id, z := range p.Zones {
				z.ValveAt = nil
				p.Zones[id] = z
			}
		})},
		{"pipe without size", piped(func(p *plan.Plan) {
			for id, v := range p.Pipes {
				v.Class, v.NominalIn = "", 0
				p.Pipes[id] = v
			}
		})},
		{"all there already", piped(func(p *plan.Plan) {
			for id, h := range p.Heads {
				h.Status = plan.Existing
				p.Heads[id] = h
			}
			for id, v := range p.Pipes {
				v.Status = plan.Remove
				p.Pipes[id] = v
			}
		})},
		{"long names", piped(func(p *plan.Plan) {
			p.Name = strings.Repeat("W", 200)
			p.Site.Address, p.Site.Permit, p.Site.Licence = strings.Repeat("Long street ", 60), strings.Repeat("9", 300), strings.Repeat("wide WWW ", 80)
			for id, z := range p.Zones {
				z.Name = strings.Repeat("M", 200)
				p.Zones[id] = z
			}
			for id, h := range p.Heads {
				h.Tag = strings.Repeat("T", 40) + string(id)
				p.Heads[id] = h
			}
			a := p.Areas["lawn"]
			a.Name = strings.Repeat("庭", 200)
			p.Areas["lawn"] = a
		})},
		{"odd letters", piped(func(p *plan.Plan) {
			p.Name = "\u202e(\\)%%d<b>&\u00ad\u200b\U0001f33f\u0301"
			for id, z := range p.Zones {
				z.Name = "{nb}(((" + p.Name
				p.Zones[id] = z
			}
		})},
		{"far away", piped(func(p *plan.Plan) { moveAll(p, 30_000, -30_000) })},
		{"a needle", bare(func(p *plan.Plan) {
			p.Areas["lawn"] = plan.Area{Name: "Needle", Kind: plan.Planting, Outline: rectangle(0, 0, 4000, 3), Status: plan.Existing}
			p.Site.Lot = rectangle(0, 0, 4000, 3)
			setHead(p, addZone(p, 1, "Needle", 1, 1), 1, "spray-10-h", 2000, 0.3, 0, 180)
		})},
	} {
		out = append(out, namedPlan{c.name, designed(t, c.p)})
	}
	return out
}

// moveAll moves everything of a plan.
func moveAll(p *plan.Plan, x, y float64) {
	shift := func(o geom.Outline) geom.Outline {
		for i := range o {
			o[i].X, o[i].Y = o[i].X+x, o[i].Y+y
		}
		return o
	}
	p.Site.Lot = shift(p.Site.Lot)
	for id, a := range p.Areas {
		a.Outline = shift(a.Outline)
		p.Areas[id] = a
	}
	for id, h := range p.Heads {
		h.X, h.Y = h.X+units.Feet(x), h.Y+units.Feet(y)
		p.Heads[id] = h
	}
	for id, n := range p.Nodes {
		n.X, n.Y = n.X+units.Feet(x), n.Y+units.Feet(y)
		p.Nodes[id] = n
	}
	for id, z := range p.Zones {
		z.ValveAt = &plan.Spot{X: z.ValveAt.X + units.Feet(x), Y: z.ValveAt.Y + units.Feet(y)}
		p.Zones[id] = z
	}
	for _, s := range []*plan.Spot{p.Supply.Connection, p.Supply.BackflowAt} {
		s.X, s.Y = s.X+units.Feet(x), s.Y+units.Feet(y)
	}
}

// Every pack of every hard plan comes out whole: no words on others, none past the
// edge of what printers can print, on each paper.
func TestPacksOfHardPlansComeOut(t *testing.T) {
	t.Parallel()
	papers := Papers()
	for i, n := range hardPlans(t) {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			for k, kind := range []Kind{Crew, Owner, Office} {
				paper := papers[(i+k)%len(papers)].ID
				made, file := written(t, n.in, Asked{Kind: kind, Paper: paper, Date: "2026-05-01", Revision: "12", Draws: 1})
				for j, q := range readPDF(t, file) {
					name := fmt.Sprintf("%s %s on %s, %s", n.name, kind, paper, made.Document.Pages[j].Name)
					overlapping(t, name, q.texts)
					pastTheEdge(t, name, q)
				}
			}
		})
	}
}

// printers can print to a quarter of an inch from the edge of any sheet. Common
// practice.
const unprintable = 18.0

// pastTheEdge complains of words that would be cut off in print.
func pastTheEdge(t *testing.T, page string, q pdfPage) {
	t.Helper()
	sheet := orb.Bound{Min: orb.Point{unprintable, unprintable}, Max: orb.Point{q.width - unprintable, q.height - unprintable}}
	for _, x := range q.texts {
		for _, c := range x.corners {
			if !sheet.Contains(c) {
				t.Errorf("%s: %q reaches %.0f, %.0f of a page of %.0f by %.0f points", page, x.says, c[0], c[1], q.width, q.height)
				break
			}
		}
	}
}

// A park of three thousand heads comes out, too.
func TestPacksOfAParkComeOut(t *testing.T) {
	t.Parallel()
	heads := 300
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		heads = 3000
	}
	p := drawnYard("Park", units.US, 10*math.Ceil(math.Sqrt(float64(heads)))+20, 10*math.Ceil(math.Sqrt(float64(heads)))+20)
	side := int(math.Ceil(math.Sqrt(float64(heads))))
	for z := range heads / 30 {
		id := addZone(p, z+1, fmt.Sprintf("Part %d", z+1), 3+2*float64(z), 3)
		for i := range 30 {
			n := z*30 + i
			setHead(p, id, i+1, "spray-10-f", 10+10*float64(n%side), 10+10*float64(n/side), 0, 360)
		}
	}
	pipeUp(p, plan.Spot{X: 1, Y: 1}, plan.Spot{X: 2, Y: 1})
	in := designed(t, p)
	for _, kind := range []Kind{Crew, Owner, Office} {
		made, file := written(t, in, Asked{Kind: kind, Paper: Tabloid, Draws: 1})
		for j, q := range readPDF(t, file) {
			overlapping(t, made.Document.Pages[j].Name, q.texts)
			pastTheEdge(t, made.Document.Pages[j].Name, q)
		}
		t.Logf("shown: %d heads: %s pack of %d pages, %d KB, %d labels in lists alone", heads, kind, len(made.Document.Pages), len(file)/1024, made.Unplaced)
	}
}

// oddYard is a yard that bytes decide: what is there, where, of which kind and status.
func oddYard(by []byte, name string) *plan.Plan {
	next := func(n int) int {
		if len(by) == 0 {
			return 0
		}
		v := int(by[0])
		by = by[1:]
		return v % n
	}
	show := []units.System{units.US, units.Metric}[next(2)]
	p := drawnYard(name, show, 20+float64(next(90)), 20+float64(next(90)))
	at := func() (x, y float64) { return float64(next(128)) - 8, float64(next(128)) - 8 }
	statuses := []plan.Status{plan.New, plan.Existing, plan.Remove}
	kinds := []plan.Kind{plan.Planting, plan.Building, plan.Paving, plan.Ground, plan.RightOfWay, plan.NoDig, plan.Water}
	for i := range next(7) {
		x, y := at()
		p.Areas[plan.ID(fmt.Sprintf("a%d", i))] = plan.Area{Name: name, Kind: kinds[next(len(kinds))], Outline: rectangle(x, y, x+1+float64(next(40)), y+1+float64(next(40))), Status: statuses[next(3)]}
	}
	for i := range next(4) {
		x, y := at()
		p.Trees[plan.ID(fmt.Sprintf("t%d", i))] = plan.Tree{Name: name, X: units.Feet(x), Y: units.Feet(y), TrunkIn: units.Inches(1 + next(20)), RootZoneFt: units.Feet(next(9))}
		x, y = at()
		p.Barriers[plan.ID(fmt.Sprintf("b%d", i))] = plan.Barrier{Name: name, Kind: []plan.BarrierKind{plan.Fence, plan.Wall, plan.Hedge}[next(3)], HeightFt: 5, Line: geom.Line{{X: x, Y: y}, {X: x + 30, Y: y + float64(next(9))}}}
	}
	nozzles := []string{"spray-10-f", "spray-8-h", "spray-15-q", "stream-20", "rotor-30-3", "strip-side-30", "strip-end-left-15"}
	for z := range next(5) {
		x, y := at()
		id := addZone(p, z+1, name, x, y)
		for i := range next(8) {
			x, y := at()
			nozzle := nozzles[next(len(nozzles))]
			n, _ := catalog.FindNozzle(nozzle)
			setHead(p, id, i+1, nozzle, x, y, units.Degrees(next(90)*4), n.ArcLeast)
		}
	}
	if next(3) > 0 {
		x, y := at()
		u, v := at()
		pipeUp(p, plan.Spot{X: units.Feet(x), Y: units.Feet(y)}, plan.Spot{X: units.Feet(u), Y: units.Feet(v)})
		p.Sleeves = map[plan.ID]plan.Sleeve{}
		for i := range next(4) {
			x, y := at()
			p.Sleeves[plan.ID(fmt.Sprintf("s%d", i))] = plan.Sleeve{From: plan.Spot{X: units.Feet(x), Y: units.Feet(y)}, To: plan.Spot{X: units.Feet(x + float64(1+next(9))), Y: units.Feet(y)}, Status: statuses[next(3)]}
		}
	}
	if next(2) > 0 {
		x, y := at()
		p.Controller = plan.Controller{At: &plan.Spot{X: units.Feet(x), Y: units.Feet(y)}, Stations: 8}
	}
	oddRecord(p, name, next, at)
	return p
}

// oddRecord notes anything of what was built, tested, found and caught on a yard.
func oddRecord(p *plan.Plan, name string, next func(int) int, at func() (x, y float64)) {
	statuses := []plan.Status{plan.New, plan.Existing, plan.Remove}
	for _, id := range sorted(p.Heads) {
		h := p.Heads[id]
		if next(3) == 1 {
			x, y := at()
			h.Status, h.Built = statuses[next(3)], &plan.Built{On: "2026-05-18", Was: &plan.Spot{X: units.Feet(x), Y: units.Feet(y)}, Note: name}
		}
		p.Heads[id] = h
	}
	p.Proof = plan.Proof{Tests: map[plan.ID]plan.PressureTest{}, Wires: map[plan.ID]plan.FoundWire{}, Touches: map[plan.ID]plan.Touch{}, Audits: map[plan.ID]plan.Audit{}}
	for i, id := range sorted(p.Zones) {
		z := p.Zones[id]
		switch next(4) {
		case 1:
			z.Built = &plan.Built{On: "2026-05-12", DepthIn: units.Inches(next(40))}
			z.Runs = map[plan.ID]plan.ZoneRun{"r1": {On: "2026-05-20", RunningPSI: units.PSI(next(90)), FlowGPM: units.GPM(next(30)), Note: name}}
		case 2:
			wire := plan.ID(fmt.Sprintf("w%d", i))
			p.Proof.Wires[wire] = plan.FoundWire{Order: i + 1, Mark: name, Terminal: next(9), Common: next(4) == 1}
			p.Proof.Touches[wire] = plan.Touch{Order: i + 1, Wire: wire, Ran: sorted(p.Zones)[:next(len(p.Zones)+1)]}
		}
		p.Zones[id] = z
	}
	for i := range next(3) {
		a := plan.Audit{Name: name, Area: plan.ID(fmt.Sprintf("a%d", next(4))), Runs: map[plan.ID]float64{}, ThroatIn2: float64(next(20)), Cans: map[plan.ID]plan.CatchCan{}}
		for _, id := range sorted(p.Zones)[:next(len(p.Zones)+1)] {
			a.Runs[id] = float64(next(40))
		}
		for k := range next(30) {
			x, y := at()
			ml := float64(next(60))
			can := plan.CatchCan{X: units.Feet(x), Y: units.Feet(y), ML: &ml, Out: next(9) == 1, Note: name}
			if next(9) == 2 {
				can.ML = nil
			}
			a.Cans[plan.ID(fmt.Sprintf("c%d", k))] = can
		}
		p.Proof.Audits[plan.ID(fmt.Sprintf("audit%d", i))] = a
	}
}

// FuzzPacks makes every pack of yards that are drawn anyhow: what can be read as a plan
// can be printed, no words lie on others, and every writer takes what was made.
func FuzzPacks(f *testing.F) {
	f.Add([]byte{}, "")
	f.Add([]byte("lawns, a house, and heads anywhere among trees and fences; pipe"), "Größe")
	f.Add(bytes.Repeat([]byte{6, 90, 17, 3, 44, 2, 71, 1}, 20), strings.Repeat("W", 80))
	built := make([]byte, 400) // a yard of which much was built, found and caught
	rng := rand.New(rand.NewPCG(180, 9))
	for i := range built {
		built[i] = byte(rng.IntN(256))
	}
	f.Add(built, "as it was built")
	f.Fuzz(func(t *testing.T, by []byte, name string) {
		p, err := plan.Decode(oddYard(by[:min(len(by), 400)], strings.ToValidUTF8(name, "?")).Encode())
		if err != nil {
			return // drawn in a way no plan allows
		}
		d, err := design.Run(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		for _, kind := range []Kind{Crew, Owner, Office} {
			made, file := written(t, Input{Plan: p, Design: d}, Asked{Kind: kind, Draws: 1})
			for j, q := range readPDF(t, file) {
				// The number in a sign stands where its thing stands, which may be on another.
				words := slices.DeleteFunc(slices.Clone(q.texts), func(x pdfText) bool { return len(x.says) < 3 })
				overlapping(t, made.Document.Pages[j].Name, words)
				pastTheEdge(t, made.Document.Pages[j].Name, q)
			}
		}
		for _, name := range []string{"plan.dxf", "layout.svg", "sleeves.svg"} {
			file, _ := FileOf(name)
			if err := file.Write(context.Background(), io.Discard, Input{Plan: p, Design: d}, Asked{}, nil); err != nil {
				t.Fatal(err)
			}
		}
	})
}
