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
			c, _ := s.solve(context.Background(), on, n, 0, starts)
			sum += c.cost
			line += fmt.Sprintf(" %.3f", float64(c.tried.DU))
		}
		fmt.Printf("%-28s mean cost %.4f  DU%s\n", job, sum/tries, line)
		total += sum / tries
	}
	fmt.Printf("TOTAL %.4f\n", total)
}

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
