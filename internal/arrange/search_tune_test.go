package arrange

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"evenfall/internal/catalog"
)

// TestTune compares ways to search: EVENFALL_TUNE="shape,family,past,heads;…".
func TestTune(t *testing.T) {
	ask := os.Getenv("EVENFALL_TUNE")
	if ask == "" {
		t.Skip("EVENFALL_TUNE is not set")
	}
	total := 0.0
	for _, job := range strings.Split(ask, ";") {
		part := strings.Split(job, ",")
		i, _ := strconv.Atoi(part[0])
		limit, _ := strconv.ParseFloat(part[2], 64)
		n, _ := strconv.Atoi(part[3])
		sh := referenceShapes[i]
		p := referencePlan(sh.outline, sh.holes)
		o := referenceOptions(catalog.Family(part[1]), asRatio(limit))
		if e := os.Getenv("EVENFALL_EFFORT"); e != "" {
			o.Effort, _ = strconv.Atoi(e)
		}
		s := searchOn(t, p, o)
		seeds := s.constructive(context.Background())
		on, _ := s.pool()
		var starts []candidate
		for _, c := range seeds {
			if len(c.heads) == n {
				starts = append(starts, c)
			}
		}
		for _, c := range seeds {
			if len(c.heads) > n {
				for len(c.heads) > n {
					c, _ = on.fine[0].dropped(c)
				}
				starts = append(starts, c)
				break
			}
		}
		sum := 0.0
		const tries = 4
		line := ""
		for seed := range tries {
			s.seed = uint64(seed)
			c, _ := s.solve(context.Background(), on, n, starts)
			sum += c.cost
			line += fmt.Sprintf(" %.3f", float64(c.tried.DU))
		}
		fmt.Printf("%-28s mean cost %.4f  DU%s\n", job, sum/tries, line)
		total += sum / tries
	}
	fmt.Printf("TOTAL %.4f\n", total)
}
