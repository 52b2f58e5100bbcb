package plan_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// demoPipes lays the demo's pipes: the main of 1-1/4 in Schedule 40 from the meter
// by the drive to the breaker on the garage wall, through the entry bed and under
// the leg of the walk to the boxes in beds B and C; laterals of Class 200.
//
//	box A  entry bed  zone 5        box B  bed B  zones 6, 2, 1        box C  bed C  zones 3, 4
func demoPipes(s *sketch) {
	demoMain(s)
	demoLaterals1(s)
	demoLaterals2(s)
	demoLaterals3(s)
	demoLaterals4(s)
	demoLaterals5And6(s)
	demoSleeves(s)
	// From the controller down the inside of the garage wall, and out to the main.
	s.Wires = map[plan.ID]plan.WireRun{"w1": {Line: geom.Line(corners(88.5, 39, 88.5, 35))}}
}

// demoSleeves puts pipe and wire each into its own, 12 in past both edges. One of
// 3 in holds the main and the lateral of zone 6 under the leg of the walk.
func demoSleeves(s *sketch) {
	s.Sleeves = map[plan.ID]plan.Sleeve{}
	sleeve := func(id plan.ID, carries string, size, x0, y0, x1, y1 float64) {
		s.Sleeves[id] = plan.Sleeve{
			From: plan.Spot{X: units.Feet(x0), Y: units.Feet(y0)}, To: plan.Spot{X: units.Feet(x1), Y: units.Feet(y1)},
			NominalIn: units.Inches(size), Carries: carries, Method: "water_bore",
		}
	}
	sleeve("walk", "pipe", 2.5, 91, 25, 91, 31)
	sleeve("walk-leg", "pipe", 3, 71, 43.1, 77, 43.1)
	sleeve("walk-leg-wire", "wire", 1, 71, 43.9, 77, 43.9)
	sleeve("service-walk", "pipe", 2.5, 57, 45, 57, 50)
	sleeve("service-walk-wire", "wire", 1, 56.5, 45, 56.5, 50)
	sleeve("drive", "pipe", 2, 91, 33, 111, 29) // zone 5
}

const (
	demoMainClass, demoLateral = plan.ID("pvc-sch40"), plan.ID("pvc-class200")
	demoMainSize               = units.Inches(1.25)
)

// demoMain is the main with its three boxes. The stubs to the valves are as wide as
// the main.
func demoMain(s *sketch) {
	main := func(from, to plan.ID, via ...float64) { s.pipe("", demoMainClass, demoMainSize, from, to, via...) }
	s.connection(90, 1)
	s.backflow("backflow-pvb-1", 90.5, 35, 2.67)
	for station, at := range [][2]float64{{62, 44}, {64, 44}, {56, 60}, {56, 62}, {90, 33}, {66, 44}} {
		s.zone = plan.ID("z" + string(rune('1'+station)))
		s.valveNode(at[0], at[1])
		s.rezone(s.zone, func(z *plan.Zone) { z.Valve = s.device("valve-1") })
	}
	main("jc", "jb", 91, 3, 91, 33)
	main("jb", s.mainJoint("jm1", 89.5, 35))
	main("jm1", "jv5")
	main("jm1", s.mainJoint("jm2", 66, 44.8), 88, 35, 79.4, 43.6, 70, 43.6, 68.8, 44.8)
	main("jm2", "jv6")
	main("jm2", s.mainJoint("jm3", 64, 44.8))
	main("jm3", "jv2")
	main("jm3", s.mainJoint("jm4", 62, 44.8))
	main("jm4", "jv1")
	main("jm4", s.mainJoint("jm5", 57, 60), 57, 44.8)
	main("jm5", "jv3")
	main("jm5", "jv4", 57, 62)
}

// demoLaterals1 goes west along the service walk and round the corner.
func demoLaterals1(s *sketch) {
	s.pipe("z1", demoLateral, 1, "jv1", "h1-7", 62, 42.8, 56, 42.8, 50, 45.6)
	s.run("z1", demoLateral, 1, "h1-7", "h1-4")
	s.run("z1", demoLateral, 0.75, "h1-4", "h1-3", "h1-2", "h1-1", "h1-5")
	s.run("z1", demoLateral, 0.75, "h1-2", "h1-6")
}

// demoLaterals2 goes south, west to 2-7 and 2-8, east to the drive's wedge.
func demoLaterals2(s *sketch) {
	s.zone = "z2"
	s.run("z2", demoLateral, 1, "jv2", s.joint("j2a", 64, 41.6))
	s.pipe("z2", demoLateral, 0.75, "j2a", "h2-7", 57.6, 41.6)
	s.run("z2", demoLateral, 0.75, "j2a", "h2-6")
	s.run("z2", demoLateral, 1, "j2a", s.joint("j2b", 64, 25.6))
	s.run("z2", demoLateral, 0.75, "j2b", "h2-8")
	s.run("z2", demoLateral, 0.75, "j2b", "h2-5", "h2-4", "h2-3")
	s.run("z2", demoLateral, 0.75, "j2b", s.joint("j2c", 64, 0.4), "h2-1")
	s.run("z2", demoLateral, 0.75, "j2c", "h2-2")
}

// demoLaterals3 feeds three rows of rotors from the east: 1 in for 12 and 9 gpm,
// 3/4 in beyond.
func demoLaterals3(s *sketch) {
	s.zone = "z3"
	s.run("z3", demoLateral, 1, "jv3", s.joint("j3a", 53, 60), "h3-6")
	s.run("z3", demoLateral, 0.75, "j3a", "h3-3", "h3-2", "h3-1")
	s.run("z3", demoLateral, 0.75, "h3-6", s.joint("j3b", 53, 79.5), "h3-9", "h3-8", "h3-7")
	s.pipe("z3", demoLateral, 0.75, "j3b", "h3-5", 29.5, 79.5)
	s.run("z3", demoLateral, 0.75, "h3-5", "h3-4")
}

// demoLaterals4 goes north through bed C and round the patio, outside the root zone
// of the back tree.
func demoLaterals4(s *sketch) {
	s.zone = "z4"
	s.run("z4", demoLateral, 1, "jv4", s.joint("j4a", 56, 75))
	s.run("z4", demoLateral, 0.75, "j4a", "h4-9")
	s.run("z4", demoLateral, 0.75, "j4a", "h4-10")
	s.run("z4", demoLateral, 1, "j4a", s.joint("j4b", 56, 89))
	s.run("z4", demoLateral, 0.75, "j4b", "h4-6", "h4-7", "h4-11", "h4-12", "h4-13", "h4-8")
	s.run("z4", demoLateral, 0.75, "j4b", s.joint("j4c", 56, 92))
	s.run("z4", demoLateral, 0.75, "j4c", "h4-5")
	s.run("z4", demoLateral, 0.75, "j4c", s.joint("j4d", 56, 106))
	s.run("z4", demoLateral, 0.75, "j4d", "h4-1")
	s.pipe("z4", demoLateral, 0.75, "j4d", "h4-2", 73.8, 106)
	s.run("z4", demoLateral, 0.75, "h4-2", "h4-3", "h4-4")
}

// demoLaterals5And6 goes under the drive to its strip, and from box B to the island
// and to the entry bed.
func demoLaterals5And6(s *sketch) {
	s.pipe("z5", demoLateral, 0.75, "jv5", "h5-3", 91, 33, 111, 29)
	s.run("z5", demoLateral, 0.75, "h5-3", "h5-2", "h5-1")

	s.zone = "z6"
	s.run("z6", demoLateral, 1, "jv6", s.joint("j6a", 66, 42.6))
	s.pipe("z6", demoLateral, 0.75, "j6a", "h6-2", 66, 21, 32, 21)
	s.run("z6", demoLateral, 0.75, "h6-2", "h6-1")
	s.run("z6", demoLateral, 0.75, "j6a", s.joint("j6b", 76.4, 42.6))
	s.run("z6", demoLateral, 0.75, "j6b", "h6-7")
	s.run("z6", demoLateral, 0.75, "j6b", "h6-8", "h6-3", "h6-4")
	s.pipe("z6", demoLateral, 0.75, "h6-4", "h6-5", 91.6, 31)
	s.pipe("z6", demoLateral, 0.75, "j6b", "h6-6", 79.5, 42.6)
}

// demoWay is a pipe from corner to corner.
func demoWay(p *plan.Plan, pipe plan.Pipe) []orb.Point {
	at := func(id plan.ID) orb.Point { return orb.Point{float64(p.Nodes[id].X), float64(p.Nodes[id].Y)} }
	way := []orb.Point{at(pipe.From)}
	for _, v := range pipe.Via {
		way = append(way, orb.Point{v.X, v.Y})
	}
	return append(way, at(pipe.To))
}

// A crew can dig every trench of the demo: no pipe passes through the house, over
// the gas line or within the root zone of a tree, and under paving only in a sleeve.
func TestDemoPipesLieWhereACrewMayDig(t *testing.T) {
	for _, p := range []*plan.Plan{demo().Plan, demoMended().Plan} {
		checked := 0
		for _, id := range plan.SortedIDs(p.Pipes) {
			way := demoWay(p, p.Pipes[id])
			for i := range way[1:] {
				a, b := way[i], way[i+1]
				n := int(math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1]) / 0.05))
				for k := range n + 1 {
					t0 := float64(k) / float64(max(n, 1))
					at := orb.Point{a[0] + t0*(b[0]-a[0]), a[1] + t0*(b[1]-a[1])}
					checked++
					if bad := demoBadGround(p, at); bad != "" {
						t.Errorf("pipe %s (%s to %s) lies in %s at %.1f, %.1f", id, p.Pipes[id].From, p.Pipes[id].To, bad, at[0], at[1])
						break
					}
				}
			}
		}
		if checked < 5_000 {
			t.Fatalf("looked at %d places only", checked)
		}
	}
}

// demoBadGround says what keeps a pipe from lying at a place, "" when nothing does.
func demoBadGround(p *plan.Plan, at orb.Point) string {
	for _, tree := range p.Trees {
		if math.Hypot(at[0]-float64(tree.X), at[1]-float64(tree.Y)) < float64(tree.RootZoneFt) {
			return "the root zone of " + tree.Name
		}
	}
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
		if a.Kind == plan.Planting || a.Kind == plan.Ground || !geom.RingContains(a.Outline.Ring(), at) {
			continue
		}
		if a.Kind == plan.Paving && sleeved(p, at) {
			continue
		}
		return a.Name
	}
	return ""
}

// sleeved reports whether a sleeve is within half a foot.
func sleeved(p *plan.Plan, at orb.Point) bool {
	for _, s := range p.Sleeves {
		line := []orb.Point{{float64(s.From.X), float64(s.From.Y)}, {float64(s.To.X), float64(s.To.Y)}}
		if d, _, _ := geom.DistanceToEdge(at, line); d <= 0.55 {
			return true
		}
	}
	return false
}

// The lengths and flows the demo was worked out with: 35 ft of main to the breaker,
// 53 ft from there to the farthest box, 12 gpm of zone 3 in 1 in pipe.
func TestDemoMainIsAsLongAsWorkedOut(t *testing.T) {
	p := demo().Plan
	length := func(ids ...plan.ID) float64 {
		sum := 0.0
		for i := range ids[1:] {
			found := false
			for _, pipe := range p.Pipes {
				if pipe.From == ids[i] && pipe.To == ids[i+1] {
					way := demoWay(p, pipe)
					for k := range way[1:] {
						sum += math.Hypot(way[k+1][0]-way[k][0], way[k+1][1]-way[k][1])
					}
					found = true
				}
			}
			if !found {
				t.Fatalf("no pipe from %s to %s", ids[i], ids[i+1])
			}
		}
		return sum
	}
	if got := length("jc", "jb"); math.Abs(got-35) > 1 {
		t.Errorf("%.1f ft to the breaker, want 35", got)
	}
	if got := length("jb", "jm1", "jm2", "jm3", "jm4", "jm5", "jv3"); math.Abs(got-53) > 3 {
		t.Errorf("%.1f ft from the breaker to box C, want 53", got)
	}
	joined := map[plan.ID]bool{}
	for _, n := range p.Nodes {
		joined[n.Head] = true
		if n.Head != "" && (n.X != p.Heads[n.Head].X || n.Y != p.Heads[n.Head].Y) {
			t.Errorf("the joint of head %s is not under it", n.Head)
		}
	}
	for id := range p.Heads {
		if !joined[id] {
			t.Errorf("no pipe for head %s", id)
		}
	}
}
