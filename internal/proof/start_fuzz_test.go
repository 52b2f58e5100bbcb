package proof

import (
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// taps reads a byte string as figures, over and over.
type taps struct {
	data []byte
	at   int
}

func (s *taps) byte() byte {
	if len(s.data) == 0 {
		return 0
	}
	s.at++
	return s.data[(s.at-1)%len(s.data)]
}

// upTo is a figure from 0 to a limit, now and then 0.
func (s *taps) upTo(most float64) float64 {
	var b [2]byte
	b[0], b[1] = s.byte(), s.byte()
	if b[0]%5 == 0 {
		return 0
	}
	return most * float64(binary.BigEndian.Uint16(b[:])) / math.MaxUint16
}

func (s *taps) one(of ...string) string { return of[int(s.byte())%len(of)] }

// worded fails on a figure that is none within a sentence.
func worded(t *testing.T, texts ...string) {
	t.Helper()
	for _, x := range texts {
		if strings.Contains(x, "NaN") || strings.Contains(x, "Inf") || strings.Contains(x, "%!") {
			t.Fatalf("%q", x)
		}
	}
}

// Whatever runs and tests somebody notes, figures are figures, weights are shares in
// falling order, and what is good has no cause.
func FuzzStartUp(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 9})
	f.Add([]byte{0})
	f.Add([]byte("any water at all \xff\xfe"))
	p := bare(f)
	drawn := designed(f, p)
	pipeless := withOwn(p)
	pipeless.Pipes, pipeless.Nodes = nil, nil
	loose := designed(f, pipeless)
	f.Fuzz(func(t *testing.T, data []byte) {
		s := &taps{data: data}
		q, d := withOwn(p), drawn
		if s.byte()%3 == 0 {
			q, d = withOwn(pipeless), loose
		}
		if s.byte()%2 == 0 {
			q.Show = units.Metric
		}
		for _, id := range plan.SortedIDs(q.Zones) {
			z := q.Zones[id]
			z.Runs = map[plan.ID]plan.ZoneRun{}
			for _, r := range []plan.ID{"r1", "r2"}[:s.byte()%3] {
				z.Runs[r] = plan.ZoneRun{
					On: s.one("", "2026-05-01", "2026-06-01"), When: s.one("", "before", "after"), PSIAt: s.one("", "head", "valve", "tap"),
					AtHead: plan.ID(s.one("", "h2-8", "h1-1", "gone")), StaticPSI: units.PSI(s.upTo(1000)), RunningPSI: units.PSI(s.upTo(1000)),
					FlowGPM: units.GPM(s.upTo(10000)), MeterGal: units.Gallons(s.upTo(100000)), MeterS: units.Seconds(s.upTo(86400)),
				}
			}
			q.Zones[id] = z
		}
		q.Proof.Tests = map[plan.ID]plan.PressureTest{"t1": {Start: units.PSI(s.upTo(1000)), End: units.PSI(s.upTo(1000)), Minutes: s.upTo(10000), Meter: s.one("", "still", "moved"), Of: plan.ID(s.one("", "z1", "gone"))}}
		got := StartUp(q, d)
		worded(t, got.Says, got.Tests[0].Says)
		for _, z := range got.Zones {
			worded(t, z.Flow, z.Pressure, z.Static, z.MeterTime, z.Unknown)
			for _, r := range z.Runs {
				worded(t, r.Says)
				if r.Good && (!r.Known || len(r.Likely) > 0) || r.Known && !r.Good && len(r.Likely) == 0 {
					t.Fatalf("%+v", r)
				}
				last, sum := math.Inf(1), 0.0
				for _, l := range r.Likely {
					worded(t, l.Says, l.Why, l.Do)
					if sum += l.Weight; !(l.Weight >= 0) || l.Weight > last || sum > 1+1e-9 || l.Says == "" || l.Do == "" || l.Why == "" {
						t.Fatalf("%+v", r.Likely)
					}
					last = l.Weight
				}
			}
		}
	})
}

// littleYard is a lawn of 15 by 15 ft with a head of two zones in each corner.
func littleYard(t testing.TB) *plan.Plan {
	t.Helper()
	p := plan.Empty("Little yard", units.US)
	p.Nozzles, p.Bodies = map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{}
	for _, e := range catalog.Nozzles() {
		if e.Name == "Spray 15 ft, quarter" {
			p.Nozzles["n1"] = e.Nozzle
		}
	}
	for _, e := range catalog.Bodies() {
		if e.Takes == p.Nozzles["n1"].Thread && e.Regulated == 0 {
			p.Bodies["b1"] = e.Body
		}
	}
	p.Areas = map[plan.ID]plan.Area{"a1": {Name: "Lawn", Kind: plan.Planting, Outline: rectangle(0, 0, 15)}}
	p.Zones = map[plan.ID]plan.Zone{"z1": {Name: "West", Station: 1}, "z2": {Name: "East", Station: 2}}
	p.Heads = map[plan.ID]plan.Head{}
	for i, at := range [][3]float64{{0.3, 0.3, 0}, {0.3, 14.7, 270}, {14.7, 14.7, 180}, {14.7, 0.3, 90}} {
		p.Heads[plan.ID(fmt.Sprintf("h%d", i+1))] = plan.Head{Nozzle: "n1", Body: "b1", X: units.Feet(at[0]), Y: units.Feet(at[1]),
			StartDeg: units.Degrees(at[2]), SweepDeg: 90, Zone: plan.ID(fmt.Sprintf("z%d", i/2+1)), Tag: fmt.Sprintf("%d-%d", i/2+1, i%2+1)}
	}
	q, err := plan.Decode(p.Encode())
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// However heads were found and zones measured, the water is a number, no repair saves less
// than none, and the same question has the same answer.
func FuzzRetrofit(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 9})
	f.Add([]byte{255, 254, 3, 9, 77, 31, 200})
	p := littleYard(f)
	var estimates []coverage.Estimate
	for _, id := range plan.SortedIDs(p.Areas) {
		estimates = append(estimates, coverage.Estimate{ID: id, Mean: 0.6})
	}
	states := []string{"tilted", "sunk", "blocked", "worn", "leaking", "stuck", "wrong_nozzle", "off_target", "hidden"}
	f.Fuzz(func(t *testing.T, data []byte) {
		s := &taps{data: data}
		q := withOwn(p)
		for _, id := range plan.SortedIDs(q.Heads)[:1+s.byte()%4] {
			toward := units.Degrees(s.upTo(720) - 360)
			h := q.Heads[id]
			h.State = &plan.HeadState{Faults: []string{s.one(states...), s.one(states...)}, TiltDeg: units.Degrees(s.upTo(90)), TiltToward: &toward,
				Nozzle: s.one("", "Spray 15 ft, half", "stream 25 ft, full", "red")}
			q.Heads[id] = h
		}
		for _, id := range []plan.ID{"z1", "z2"} {
			run(q, id, plan.ZoneRun{When: s.one("before", "after"), FlowGPM: units.GPM(s.upTo(60)), RunningPSI: units.PSI(s.upTo(200))})
			z := q.Zones[id]
			z.AuditedDU = units.Ratio(s.upTo(1))
			q.Zones[id] = z
		}
		a, err := Retrofit(context.Background(), q, estimates, nil)
		if err != nil {
			t.Fatal(err)
		}
		worded(t, append(a.Assumed, a.Says)...)
		for _, z := range a.Zones {
			worded(t, z.Flow, z.Pressure, z.DU, z.Water, z.Saving)
			if !(z.WaterBefore >= 0) || !(z.WaterAfter >= 0) || !(z.DUBefore >= 0 && z.DUBefore <= 1) || !(z.DUAfter >= 0 && z.DUAfter <= 1) {
				t.Fatalf("%+v", z)
			}
		}
		b, err := Retrofit(context.Background(), q, estimates, nil)
		if err != nil || len(a.Mends) != len(b.Mends) {
			t.Fatal(err, len(a.Mends), len(b.Mends))
		}
		for i, m := range a.Mends {
			worded(t, m.Says, m.Why, m.Saving)
			if !(m.Saves >= 0) || m.Says != b.Mends[i].Says || m.Saves != b.Mends[i].Saves {
				t.Fatalf("%+v, then %+v", m, b.Mends[i])
			}
		}
	})
}
