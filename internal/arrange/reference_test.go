package arrange

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// searchOn makes a search of the first kit for the area of a plan.
func searchOn(tb testing.TB, p *plan.Plan, o Options) *search {
	tb.Helper()
	st, err := newSite(p)
	if err != nil {
		tb.Fatal(err)
	}
	g, err := st.ground("a")
	if err != nil {
		tb.Fatal(err)
	}
	if g.refuses != "" {
		tb.Fatal(g.refuses)
	}
	kits, why := kitsFor(p, g, o)
	if len(kits) == 0 {
		tb.Fatal(why)
	}
	s, err := newSearch(p, g, kits[0], o, o.Seed, nil)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// reread is what a layout reads on a raster that no head lines up with.
func reread(tb testing.TB, s *search, c candidate, cell float64) coverage.Tried {
	tb.Helper()
	b, err := s.bench(cell)
	if err != nil {
		tb.Fatal(err)
	}
	b.lay(c.heads)
	return b.trial.Read()
}

func past(t coverage.Tried) float64 { return float64((t.Hard + t.Bare + t.Other) / t.Flow) }

// TestTry is a look at what the search finds, for those who work on it:
// EVENFALL_TRY=shape,family,past
func TestTry(t *testing.T) {
	ask := os.Getenv("EVENFALL_TRY")
	if ask == "" {
		t.Skip("EVENFALL_TRY is not set")
	}
	for _, job := range strings.Split(ask, ";") {
		part := strings.Split(job, ",")
		i, _ := strconv.Atoi(part[0])
		limit := 0.05
		if len(part) > 2 {
			limit, _ = strconv.ParseFloat(part[2], 64)
		}
		sh := referenceShapes[i]
		p := referencePlan(sh.outline, sh.holes)
		o := referenceOptions(catalog.Family(part[1]), 0)
		o.Hard, o.Bare, o.Other = asRatio(limit), asRatio(limit), asRatio(limit)
		if len(part) > 3 {
			o.Seed, _ = strconv.ParseUint(part[3], 10, 64)
		}
		fmt.Printf("== %s %s %.3f\n", sh.name, part[1], limit)
		began := time.Now()
		s := searchOn(t, p, o)
		seeds := s.constructive(context.Background())
		fmt.Printf("seeds %v, %d evaluations, cell %.2f, %d cells\n", time.Since(began), s.evaluate, s.cell, s.trial.Cells())
		last := 0
		for _, c := range seeds {
			if len(c.heads) != last {
				fmt.Printf("  %d heads: DU %.3f past %.3f low %.2f h2h %.2f cost %.4f\n", len(c.heads), c.tried.DU, past(c.tried), c.tried.Driest2, c.h2h, c.cost)
			}
			last = len(c.heads)
		}
		if len(part) > 4 {
			continue
		}
		began = time.Now()
		was := 0
		show := func(c candidate) {
			f := reread(t, s, c, 0.2371)
			fmt.Printf("  %d heads: DU %.3f past %.3f low %.2f h2h %.2f cost %.4f kinds %d rate %.2f | fine DU %.4f past %.4f low %.2f  %v\n", len(c.heads), c.tried.DU, past(c.tried), c.tried.Driest2, c.h2h, c.cost,
				distinct(c.heads), c.tried.Mean, f.DU, past(f), f.Driest2, time.Since(began))
		}
		out := s.anneal(context.Background(), seeds, show)
		fmt.Printf("anneal %v, %d evaluations, %d numbers\n", time.Since(began), s.evaluate-was, len(out))
	}
}

func asRatio(v float64) units.Ratio { return units.Ratio(v) }
