package packs

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

// findingRanks are the ranks of open findings, worst first, in words.
var findingRanks = []struct {
	rank       plan.Rank
	title, one string // over its findings; for a count
}{
	{plan.Stop, "Stop: wrong to build as it is", "to stop for"},
	{plan.Mend, "Mend: worth curing before anything is bought", "to mend"},
	{plan.Notice, "Notes: to be known", "to note"},
}

// findingsSheet lists what was found, by rank and cause, then what was accepted, with
// the reason.
func (b *builder) findingsSheet() error {
	f := b.list()
	all := b.in.Design.Findings
	done := slices.IndexFunc(all, func(x plan.Finding) bool { return x.Accepted != nil })
	if done < 0 {
		done = len(all)
	}
	open, accepted := all[:done], all[done:]
	f.para(countOfFindings(open, accepted))
	for _, r := range findingRanks {
		var of []plan.Finding
		for _, x := range open {
			if x.Rank == r.rank {
				of = append(of, x)
			}
		}
		if len(of) > 0 {
			f.section(r.title)
			f.causes(of)
		}
	}
	if len(accepted) > 0 {
		f.section("Accepted, each with its reason")
		f.para("Who works by this plan knows of these and leaves them as they are. One that grows worse, or comes to be about other things, is open again.")
		f.causes(accepted)
	}
	f.note("A finding holds the plan to the rule named under it, as drawn and with the supply as noted. It takes the place of no inspection: local code and licensed practice decide.")
	return nil
}

// countOfFindings is how many there are in words.
func countOfFindings(open, accepted []plan.Finding) string {
	if len(open)+len(accepted) == 0 {
		return "Nothing was found to mend, and nothing was accepted."
	}
	var parts []string
	for _, r := range findingRanks {
		n := 0
		for _, x := range open {
			if x.Rank == r.rank {
				n++
			}
		}
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, r.one))
		}
	}
	says := "None is open"
	if len(parts) > 0 {
		says = "Open: " + strings.Join(parts, ", ")
	}
	return fmt.Sprintf("%s; %s accepted.", says, plan.Choose(len(accepted), "1 is", fmt.Sprintf("%d are", len(accepted))))
}

// causes sets findings, what to do about those of one cause said once.
func (f *flow) causes(list []plan.Finding) {
	for cases := range sheets.Causes(list) {
		first := cases[0]
		title := first.Title
		if len(cases) > 1 {
			title = fmt.Sprintf("%s (%d)", title, len(cases))
		}
		f.lines(title, bodySize, true, 0, 3*bodySize*leading)
		f.gap(1)
		var points []string
		for _, c := range cases {
			says := c.Sentence
			if c.Accepted != nil {
				says += " " + closed(sheets.AcceptedWords(c.Accepted))
				if c.Accepted.By == "" {
					says += " No name is noted: ______________________"
				}
			}
			points = append(points, says)
		}
		f.bullets(points...)
		f.gap(-2)
		if first.Accepted == nil {
			f.lines("Why: "+first.Why, bodySize, false, 13, 0)
			f.lines("Do: "+first.Do, bodySize, false, 13, 0)
		}
		f.lines("Rule: "+first.Source, noteSize, false, 13, 0)
		f.gap(7)
	}
}

// closed is a text that ends as a sentence does.
func closed(s string) string {
	if s = strings.TrimSpace(s); s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s
	}
	return s + "."
}
