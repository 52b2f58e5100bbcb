package pipesize

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// randomYard is pipes drawn anyhow: joints that hang anywhere, valves, heads, some
// locked, there already or of another class, on a supply that may be too weak.
func randomYard(seed uint64) yard {
	r := rand.New(rand.NewPCG(seed, 4))
	y := newYard()
	y.Supply = plan.Supply{Measured: true, StaticPSI: units.PSI(20 + r.IntN(80)), FlowGPM: units.GPM(5 + r.IntN(30))}
	y.Supply.ResidualPSI = y.Supply.StaticPSI - units.PSI(1+r.IntN(15))
	y.spray("a", 1)
	y.spray("b", 2.5)
	y.Elevations = map[plan.ID]plan.Elevation{"p": {X: 0, Y: 0, Z: 0}, "q": {X: 200, Y: 0, Z: units.Feet(r.IntN(20))}, "r": {X: 0, Y: 200, Z: units.Feet(r.IntN(20))}}
	main := []plan.ID{"c"}
	for i := range 1 + r.IntN(4) {
		j := y.node(plan.ID(fmt.Sprintf("m%d", i)), "joint", "", r.Float64()*200, r.Float64()*200)
		y.lay("", main[r.IntN(len(main))], j)
		main = append(main, j)
	}
	for z := range 1 + r.IntN(3) {
		body := []plan.ID{"open", "reg"}[r.IntN(2)]
		valve := y.zone(z+1, r.IntN(6), []plan.ID{"a", "b"}[r.IntN(2)], body, r.Float64()*200, 5+r.Float64()*40)
		if r.IntN(3) == 0 { // a second lateral from the valve, through a head or to none
			id := plan.ID(fmt.Sprintf("z%d", z+1))
			end := y.node(plan.ID(fmt.Sprintf("e%d", z)), "joint", "", r.Float64()*200, r.Float64()*200)
			if r.IntN(3) > 0 {
				h := plan.ID(fmt.Sprintf("h%d-e", z+1))
				n := y.Nodes[end]
				y.Heads[h] = plan.Head{Tag: string(h), Nozzle: "a", Body: body, Zone: id, SweepDeg: 360, X: n.X, Y: n.Y}
				n.Kind, n.Head = "head", h
				y.Nodes[end] = n
			}
			y.lay(id, valve, end)
		}
		if r.IntN(8) > 0 {
			y.lay("", main[r.IntN(len(main))], valve)
		}
	}
	for _, id := range plan.SortedIDs(y.Pipes) {
		v := y.Pipes[id]
		switch r.IntN(12) {
		case 0:
			y.size(id, "pvc-sch40", []units.Inches{.75, 1, 1.25, 2}[r.IntN(4)])
			v = y.Pipes[id]
			v.Locked = true
		case 1:
			y.size(id, "pe-100", 1)
			v = y.Pipes[id]
			v.Status = plan.Existing
		case 2:
			y.size(id, "pvc-class315", .5)
			v = y.Pipes[id]
		case 3:
			v.Locked = r.IntN(4) == 0
		case 4:
			if r.IntN(5) == 0 {
				v.Status = plan.Remove
			}
		}
		y.Pipes[id] = v
	}
	if r.IntN(6) == 0 {
		ids := plan.SortedIDs(y.Nodes)
		if a, b := ids[r.IntN(len(ids))], ids[r.IntN(len(ids))]; a != b {
			y.lay("", a, b)
		}
	}
	return y
}

// Whatever is drawn, the answer is an offer that makes a plan, or a sentence.
func endsWell(t *testing.T, seed uint64) (offered bool) {
	t.Helper()
	p, err := plan.Decode(randomYard(seed).Encode())
	if err != nil {
		return false // drawn in a way no plan allows
	}
	o, err := Propose(context.Background(), p, func(int, int) {})
	if err != nil {
		var no *Refusal
		if !errors.Is(err, ErrLarge) && (!errors.As(err, &no) || len(no.Sentence) < 20) {
			t.Fatalf("seed %d: %v", seed, err)
		}
		return false
	}
	q := applied(t, p, o)
	before := pipework.Of(p)
	net := pipework.Of(q)
	for _, id := range plan.SortedIDs(p.Pipes) {
		old, now := p.Pipes[id], q.Pipes[id]
		if (old.Locked || old.Status == plan.Existing) && (old.NominalIn != now.NominalIn || old.Class != now.Class) {
			t.Fatalf("seed %d: %s was not to be changed", seed, id)
		}
		v := net.Pipes[id]
		if up := net.Nodes[v.From].Up; v.Size.Inside > 0 && up != "" && net.Pipes[up].Size.Inside > 0 && before.Pipes[id].Size != v.Size && net.Pipes[up].Size.Nominal < v.Size.Nominal {
			t.Fatalf("seed %d: %s grows downstream", seed, id)
		}
	}
	for i, z := range o.Zones {
		if z.Flow <= 0 || i > 0 && z.Zone == o.Zones[i-1].Zone {
			t.Fatalf("seed %d: %+v", seed, o.Zones)
		}
	}
	if len(o.Checks) == 0 || o.Says == "" {
		t.Fatalf("seed %d: nothing was checked or said", seed)
	}
	return true
}

func TestRowB30_WhateverIsDrawnEndsInAnOfferOrASentence(t *testing.T) {
	offered := 0
	for seed := range uint64(400) {
		if endsWell(t, seed) {
			offered++
		}
	}
	if offered < 60 {
		t.Errorf("only %d of 400 were offered sizes", offered)
	}
	if _, ok := catalog.FindPipeClass(string(usualLateral)); !ok {
		t.Error("the usual class of a lateral is not in the catalogue")
	}
}

func FuzzPropose(f *testing.F) {
	f.Add(uint64(1))
	f.Add(uint64(77))
	f.Fuzz(func(t *testing.T, seed uint64) { endsWell(t, seed) })
}
