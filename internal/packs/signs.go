package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
)

// sign is one sign of a drawing, in the order legends have them.
type sign int

// The signs.
const (
	signSpray sign = iota
	signStream
	signRotor
	signStrip
	signNoFamily
	signLoneHead
	signHeadDot
	signStationHead
	signThrow
	signMain
	signLateral
	signPlainPipe
	signWire
	signWireIndoors
	signTogether
	signSleeve
	signSleeveNeeded
	signValve
	signValveBox
	signSpliceBox
	signConnection
	signBackflow
	signDrain
	signController
	signSensor
	signFlow
	signFixed
	signKey
	signMainPlace
	signFlag
	signTape
	signNew
	signExisting
	signRemove
	signBuilt
	signWas
	signLot
	signBuilding
	signPaving
	signLawn
	signBed
	signOtherwise
	signLoose
	signWater
	signStreet
	signNoDig
	signWall
	signFence
	signHedge
	signTree
	signRoots
	signDry
	signHeight
	signCount
)

// signWords say what signs mean.
var signWords = [signCount]string{
	signSpray:        "spray; the outline is its zone's",
	signStream:       "turning streams, likewise",
	signRotor:        "gear rotor, likewise",
	signStrip:        "strip spray, likewise",
	signNoFamily:     "head whose nozzle is not known",
	signLoneHead:     "head in no zone",
	signHeadDot:      "head, with its tag",
	signStationHead:  "head: its station in it, its tag beside it",
	signPlainPipe:    "pipe",
	signThrow:        "arc and throw of a head",
	signMain:         "main, always under pressure",
	signLateral:      "lateral, in its zone's colour",
	signWire:         "control wire",
	signWireIndoors:  "control wire in a building",
	signTogether:     "one trench for all that lies in it",
	signSleeve:       "sleeve",
	signSleeveNeeded: "sleeve that is needed and not drawn yet",
	signValve:        "zone valve",
	signValveBox:     "valve box",
	signSpliceBox:    "splice box",
	signConnection:   "point of connection",
	signBackflow:     "backflow device",
	signDrain:        "drain",
	signController:   "controller",
	signSensor:       "sensor",
	signFlow:         "which way the water goes",
	signFixed:        "fixed point to measure from",
	signKey:          "point of the trench list, C7",
	signMainPlace:    "bend or branch of the main, by its M",
	signFlag:         "white flag, with its tag",
	signTape:         "measured along, or by tape",
	signNew:          "strong line: new",
	signExisting:     "thin and grey: there already",
	signRemove:       "crossed out or dashed: to be removed",
	signBuilt:        "measured where it went",
	signWas:          "where it was drawn before",
	signLot:          "property line",
	signBuilding:     "building",
	signPaving:       "paving",
	signLawn:         "lawn",
	signBed:          "planting bed",
	signOtherwise:    "planting watered otherwise or not",
	signLoose:        "gravel, mulch, deck or play",
	signWater:        "water",
	signStreet:       "street, public walk or neighbour",
	signNoDig:        "not to be dug",
	signWall:         "wall",
	signFence:        "fence",
	signHedge:        "hedge",
	signTree:         "tree",
	signRoots:        "its roots: dig by hand or keep out",
	signDry:          "to be kept dry",
	signHeight:       "spot height",
}

var families = map[sign]catalog.Family{signSpray: catalog.Spray, signStream: catalog.Stream, signRotor: catalog.Rotor, signStrip: catalog.Strip}

func familySignOf(f catalog.Family) sign {
	switch f {
	case catalog.Spray:
		return signSpray
	case catalog.Stream:
		return signStream
	case catalog.Rotor:
		return signRotor
	case catalog.Strip:
		return signStrip
	}
	return signNoFamily
}

// sampleWide and sampleHigh are the room of a sign in a legend on Letter, points.
const (
	sampleWide = 24.0
	sampleHigh = 9.6
)

// sample draws a sign by itself in a box of the page.
func (c *chart) sample(s sign, box orb.Bound) drawing.Item {
	t := &chart{p: c.p, d: c.d, zones: c.zones, perFoot: 1, k: c.k, layers: map[string]*drawing.Layer{}, used: map[sign]bool{}}
	w, h := box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]
	return &drawing.View{Box: box, Middle: orb.Point{}, PerFoot: 1, Items: t.sampleItems(s, w, h)}
}

func (c *chart) sampleItems(s sign, w, h float64) []drawing.Item {
	at := orb.Point{}
	row := []orb.Point{{-w / 2, 0}, {w / 2, 0}}
	ring := []orb.Point{{-w/2 + 1, -h/2 + 1}, {w/2 - 1, -h/2 + 1}, {w/2 - 1, h/2 - 1}, {-w/2 + 1, h/2 - 1}}
	if look, ok := areaLooks[s]; ok && look.layer != "" {
		return c.area(s, plan.New, [][]orb.Point{ring})
	}
	first := zoneMark{}
	switch s {
	case signSpray, signStream, signRotor, signStrip:
		return c.headMark(at, first, true, families[s], plan.New)
	case signNoFamily:
		return c.headMark(at, first, true, "", plan.New)
	case signLoneHead:
		return c.headMark(at, first, false, catalog.Spray, plan.New)
	case signHeadDot:
		return c.dot(at, first.ink())
	case signStationHead:
		return c.numbered(at, zoneMark{number: "1"})
	case signPlainPipe:
		return []drawing.Item{&drawing.Line{Pen: drawing.Pen{Ink: drawing.RGB(0x8a8a8a), Width: 0.8 * c.k}, Points: row}}
	case signThrow:
		return c.throwLines(orb.Point{-w / 3, -h/2 + 1}, 0, 90, h-2, first)
	case signMain:
		return c.pipe(row, pipeMain, first, plan.New)
	case signLateral:
		return c.pipe(row, pipeLateral, first, plan.New)
	case signWire:
		return c.wire(row, false, plan.New)
	case signWireIndoors:
		return c.wire(row, true, plan.New)
	case signTogether:
		return append(c.together(row[0], row[1], 2),
			append(c.pipe([]orb.Point{{-w / 2, 1.2 * c.k}, {w / 2, 1.2 * c.k}}, pipeMain, first, plan.New),
				c.pipe([]orb.Point{{-w / 2, -1.2 * c.k}, {w / 2, -1.2 * c.k}}, pipeLateral, first, plan.New)...)...)
	case signSleeve:
		return c.sleeve(orb.Point{-w/2 + 3, 0}, orb.Point{w/2 - 3, 0}, plan.New, true)
	case signSleeveNeeded:
		return c.sleeve(orb.Point{-w/2 + 3, 0}, orb.Point{w/2 - 3, 0}, plan.New, false)
	case signValve:
		return c.valve(at, first, plan.New)
	case signValveBox:
		return []drawing.Item{c.box(orb.Bound{Min: orb.Point{-6 * c.k, -3 * c.k}, Max: orb.Point{6 * c.k, 3 * c.k}}, plan.New)}
	case signSpliceBox:
		return c.splices(at, plan.New)
	case signConnection:
		return c.connection(at, plan.New)
	case signBackflow:
		return c.backflow(at, plan.New)
	case signDrain:
		return c.drain(at, plan.New)
	case signController:
		return c.controller(at, plan.New)
	case signSensor:
		return c.sensor(at, plan.New)
	case signFlow:
		return append(c.pipe(row, pipeMain, first, plan.New), c.arrow(at, orb.Point{1, 0}, drawing.Black)...)
	case signFixed:
		return append(c.fixed(orb.Point{-4.5 * c.k, 0}), c.badge(orb.Point{4 * c.k, 0}, "A")...)
	case signKey, signMainPlace:
		return c.key(at)
	case signFlag:
		return c.flag(orb.Point{-2 * c.k, -4 * c.k})
	case signTape:
		return []drawing.Item{&drawing.Line{Pen: c.tapePen(), Points: row}}
	case signNew:
		return c.headMark(at, first, true, catalog.Spray, plan.New)
	case signBuilt:
		return append(c.dot(at, first.ink()), c.brackets(at)...)
	case signWas:
		return c.was(orb.Point{-w/2 + 4*c.k, 0}, orb.Point{w / 2, 0})
	case signExisting:
		return c.headMark(at, first, true, catalog.Spray, plan.Existing)
	case signRemove:
		return c.headMark(at, first, true, catalog.Spray, plan.Remove)
	case signLot:
		return []drawing.Item{&drawing.Line{Pen: c.lot(nil).(*drawing.Area).Pen, Points: row}}
	case signWall:
		return c.barrier(plan.Wall, plan.New, row)
	case signFence:
		return c.barrier(plan.Fence, plan.New, row)
	case signHedge:
		return c.barrier(plan.Hedge, plan.New, row)
	case signTree:
		return c.tree(at, 0, 0, plan.New)
	case signRoots:
		return c.tree(at, 0, h/2-1, plan.New)[1:]
	case signDry:
		return c.dry(at, h/2-1.5)
	case signHeight:
		return c.height(at)
	}
	return nil
}

// legend are the signs that the chart used, each with what it means.
func (c *chart) legend(wide float64) []block { return c.legendOf(0, signCount, wide) }

// legendOf are those of them from one sign to before another.
func (c *chart) legendOf(from, before sign, wide float64) []block {
	var out []block
	for s := from; s < before; s++ {
		if !c.used[s] {
			continue
		}
		words := signWords[s]
		if s == signLateral || s == signMain {
			words += c.usualClass(s == signMain)
		}
		out = append(out, c.block(words, wide, func(box orb.Bound) drawing.Item { return c.sample(s, box) }))
	}
	return out
}
