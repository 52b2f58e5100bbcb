package trench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

// best runs something and reports the shortest of all rounds beside the mean: on a
// shared machine the mean measures the neighbours.
func best(b *testing.B, f func()) {
	least := time.Duration(math.MaxInt64)
	for b.Loop() {
		at := time.Now()
		f()
		least = min(least, time.Since(at))
	}
	b.ReportMetric(float64(least.Microseconds())/1000, "best-ms")
}

func BenchmarkOfDemo(b *testing.B) {
	p := readPlan(b, "demo.json")
	net := pipework.Of(p)
	best(b, func() { Of(p, net) })
}

// rows is a yard of 25 zones of 12 heads 15 ft apart, each two rows behind its valve on
// a main along the west side, with beds and walks between them.
func rows() drawing {
	d := draw()
	d.Site.Lot = vertices(-10, -10, 100, -10, 100, 760, -10, 760)
	d.area("lawn", plan.Planting, -5, -5, 95, 755)
	d.node("c", "connection", -4, -5, "")
	last := plan.ID("c")
	for z := range 25 {
		y := float64(z) * 30
		zone, v := plan.ID(fmt.Sprintf("z%d", z)), plan.ID(fmt.Sprintf("v%d", z))
		d.area(plan.ID(fmt.Sprintf("walk%d", z)), plan.Paving, 40, y-2, 44, y+20)
		d.area(plan.ID(fmt.Sprintf("bed%d", z)), plan.Planting, 60, y-2, 66, y+20)
		d.node(v, "valve", -4, y, zone)
		d.pipe(plan.ID(fmt.Sprintf("m%d", z)), last, v, "", 1.25)
		last = v
		for row := range 2 {
			from := v
			for h := range 6 {
				n := plan.ID(fmt.Sprintf("n%d-%d-%d", z, row, h))
				d.node(n, "joint", float64(h)*15, y+float64(row)*15, zone)
				d.pipe(plan.ID(fmt.Sprintf("p%d-%d-%d", z, row, h)), from, n, zone, 0.75)
				from = n
			}
		}
	}
	d.Controller = plan.Controller{At: &plan.Spot{X: -4, Y: -4}}
	return d
}

// BenchmarkOf300 is a yard of 300 heads.
func BenchmarkOf300(b *testing.B) {
	d := rows()
	net := pipework.Of(d.Plan)
	best(b, func() { Of(d.Plan, net) })
}

// BenchmarkOfTangle is 300 pipes drawn at random across one another, with some
// twenty thousand places where they meet.
func BenchmarkOfTangle(b *testing.B) {
	d := yardAtRandom(rand.New(rand.NewPCG(1, 1)), 300)
	net := pipework.Of(d.Plan)
	for b.Loop() {
		Of(d.Plan, net)
	}
}

func BenchmarkCheckDemo(b *testing.B) {
	p := readPlan(b, "demo.json")
	net := pipework.Of(p)
	d := Of(p, net)
	for b.Loop() {
		Check(p, net, d)
	}
}
