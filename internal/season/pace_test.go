package season_test

import (
	"context"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/season"
)

var paced = regexp.MustCompile(`(\d+) min a day, at most (\d+) min at a time`)

// Why a run has so many cycles is in its chain: of the station named, the minutes of a day
// over those at a time are that many; and no station of the demo runs longer at once than
// the ground of any area takes.
func TestWhySoManyCycles(t *testing.T) {
	t.Parallel()
	for _, soaks := range []bool{false, true} {
		for _, soil := range []string{"clay", "clay_loam", "sandy_loam"} {
			t.Run(fmt.Sprint(soil, soaks), func(t *testing.T) {
				t.Parallel()
				p := demo(t)
				p.Watering.ETZone, p.Controller.Soaks = 12, soaks
				for id, a := range p.Areas {
					a.Soil = soil
					p.Areas[id] = a
				}
				prog, err := season.Work(context.Background(), p, nil, nil)
				if err != nil {
					t.Fatal(err)
				}
				told := 0
				for i, program := range prog.Year.Months[6].Programs {
					for _, r := range program.Runs {
						c := season.MinutesOf(prog, plan.ID(prog.Asked.Input.Zones[r.Zone].ID), 6)
						what := fmt.Sprintf("Cycles in program %c", 'A'+i)
						if r.Cycles == 1 {
							if has(c, what) {
								t.Errorf("%s of one cycle", what)
							}
							continue
						}
						f := factor(t, c, what)
						m := paced.FindStringSubmatch(f.Source)
						if shared := strings.HasPrefix(f.Source, "so many that"); shared && soil == "clay" && !soaks && f.Value == float64(r.Cycles) {
							told++ // the front lawn's stations wet the same ground
							continue
						}
						if m == nil || f.Value != float64(r.Cycles) {
							t.Errorf("%d cycles: %+v", r.Cycles, f)
							continue
						}
						day, _ := strconv.Atoi(m[1])
						once, _ := strconv.Atoi(m[2])
						if n := (day + once - 1) / once; n != r.Cycles {
							t.Errorf("%d min at %d a time are %d cycles: %+v", day, once, n, f)
						}
						told++
					}
				}
				if want := soil != "sandy_loam"; want && told == 0 {
					t.Error("nothing is told")
				}
			})
		}
	}
}
