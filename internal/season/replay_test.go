package season_test

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/watering"
)

// The programs of the demo, played by what is keyed in alone on the cells of the map, with
// nothing of what found them: in every month that is said to fit, no dry half of an area
// is emptied further than it may be, no ground has more standing on it than may, and the
// gallons are those told.
func TestTheDemosProgramsKeepItsSoil(t *testing.T) {
	t.Parallel()
	months := 0
	for name, set := range map[string]func(*plan.Plan){
		"three days":   func(p *plan.Plan) { p.Watering.ETZone, p.Watering.Turf = 12, "cool" },
		"every day":    func(p *plan.Plan) { p.Watering.ETZone, p.Watering.Turf, p.Watering.Days = 18, "warm", nil },
		"one in three": func(p *plan.Plan) { p.Watering.ETZone, p.Watering.Days, p.Watering.Every = 1, nil, 3 },
		"side by side": func(p *plan.Plan) { p.Watering.ETZone, p.Watering.Together = 14, true },
		"grown bed": func(p *plan.Plan) {
			*p = *islandYard(t) // on a valve of its own
			p.Watering.ETZone, p.Controller.Soaks = 9, true
			change(p, "island", func(a *plan.Area) { a.PlantHeightIn = 24 })
		},
	} {
		p := demo(t)
		set(p)
		prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
		if err != nil {
			t.Fatal(err)
		}
		in, ground := &prog.Asked.Input, prog.Asked.Ground
		for _, m := range prog.Year.Months {
			if m == nil || !m.Fits {
				continue
			}
			months++
			minutes, gallons := make([][]float64, len(in.Calendar.Days)), 0.0
			for d := range minutes {
				minutes[d] = make([]float64, len(ground.Zones))
			}
			for _, program := range m.Programs {
				for _, d := range program.Days {
					for _, r := range program.Runs {
						minutes[d][r.Zone] += float64(r.Minutes)
						gallons += float64(r.Minutes) * float64(ground.Zones[r.Zone].Flow)
					}
				}
				for _, g := range ground.Areas {
					a := areaOf(t, prog.Asked, g.ID)
					if stands, may := stood(g, program, in.Calendar.From, float64(a.Intake), float64(a.Surface)); stands > may+0.01 {
						t.Errorf("%s, month %d: %.3f in stand on %s, %.3f may", name, m.Month+1, stands, g.ID, may)
					}
				}
			}
			if math.Abs(gallons-float64(m.Gallons)) > 1e-6*gallons {
				t.Errorf("%s, month %d: %.3f gallons, told %.3f", name, m.Month+1, gallons, float64(m.Gallons))
			}
			for _, g := range ground.Areas {
				a := areaOf(t, prog.Asked, g.ID)
				credit := 1.0
				if g.ID == "island" && p.Areas[g.ID].PlantHeightIn == 24 {
					credit = 0.5 // between 12 and 36 in
				}
				need := float64(a.Need[m.Month])
				worst := emptied(ground, g, minutes, need, 0.4+0.6*0.65, credit)
				if may := max(float64(a.Holds)*float64(a.Depleted), need); worst > may+0.02 {
					t.Errorf("%s, month %d: %s is emptied by %.3f in, %.3f may be", name, m.Month+1, g.ID, worst, may)
				}
			}
		}
	}
	if months < 40 {
		t.Errorf("only %d months fit", months)
	}
}

// halfOf is the mean of a figure over the first half of cells in an order, by their weights.
func halfOf(of []float64, weights []float32, order []int) float64 {
	all := 0.0
	for _, w := range weights {
		all += float64(w)
	}
	sum, left := 0.0, all/2
	for _, k := range order {
		w := min(float64(weights[k]), left)
		sum += w * of[k]
		left -= w
	}
	return sum / (all / 2)
}

func leastFirst(of []float64) []int {
	order := make([]int, len(of))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(of[x], of[y]) })
	return order
}

// emptied is how far below full the dry half of an area is at most, over six rounds of
// days: that of each run of days. half is its evenness in the field, by the dry half.
func emptied(ground *coverage.ZoneGround, g coverage.AreaByZone, minutes [][]float64, need, half, credit float64) float64 {
	days, cells := len(minutes), len(g.Cells)
	depth, own := make([][]float64, days), make([]float64, cells)
	for d := range depth {
		depth[d] = make([]float64, cells)
	}
	for z, rates := range g.Rates {
		counts := credit
		if slices.Contains(ground.Zones[z].Own, g.ID) {
			counts = 1
		}
		for k, r := range rates {
			if counts == 1 && slices.Contains(ground.Zones[z].Own, g.ID) {
				own[k] += float64(r)
			}
			for d := range depth {
				depth[d][k] += float64(r) * counts * minutes[d][z] / 60
			}
		}
	}
	mean, all := 0.0, 0.0
	for k, w := range g.Weights {
		mean += float64(w) * own[k]
		all += float64(w)
	}
	field := min(1, half*mean/all/halfOf(own, g.Weights, leastFirst(own)))
	worst, played := 0.0, map[string]bool{}
	for from := range days {
		for length := 1; length <= days; length++ {
			var wet []string // what ran on its days
			sum := make([]float64, cells)
			for d := from; d < from+length; d++ {
				if ran := fmt.Sprint(minutes[d%days]); slices.Max(minutes[d%days]) > 0 {
					wet = append(wet, ran)
				}
			}
			if slices.Sort(wet); played[fmt.Sprint(wet)] {
				continue
			}
			played[fmt.Sprint(wet)] = true
			for d := from; d < from+length; d++ {
				for k, v := range depth[d%days] {
					sum[k] += v
				}
			}
			order, lost := leastFirst(sum), 0.0
			got := make([]float64, days)
			for d := range got {
				got[d] = field * halfOf(depth[d], g.Weights, order)
			}
			for d := range 6 * days {
				lost = max(0, lost-got[d%days]) + need
				worst = max(worst, lost)
			}
		}
	}
	return worst
}

// stood is the most that stands on an area of one zone's water, minute by minute, and what
// may: a run of a minute is the shortest there is.
func stood(g coverage.AreaByZone, program watering.Program, from int, intake, surface float64) (most, may float64) {
	may = surface
	for z, rates := range g.Rates {
		sum, squares := 0.0, 0.0
		for k, r := range rates {
			sum += float64(r) * float64(g.Weights[k])
			squares += float64(r) * float64(r) * float64(g.Weights[k])
		}
		if sum == 0 {
			continue
		}
		stands := 0.0
		may = max(may, (squares/sum-intake)/60)
		for minute := from; minute < program.Ends; minute++ {
			got := -intake
			for _, s := range program.Steps {
				if s.Zone == z && s.From <= minute && minute < s.Until {
					got += squares / sum
				}
			}
			stands = max(0, stands+got/60)
			most = max(most, stands)
		}
	}
	return most, may
}
