package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"evenfall/internal/packs"
	"evenfall/internal/plan"
)

// paperUsage says how papers are asked for.
const paperUsage = `
  --paper NAME    of drawings: letter, tabloid, arch_d, a4 or a3 (letter; a4 in metric);
                  lists are on letter, or on a4 with a4 or a3
  --scale N       of plans, 1 to N: 120 is 1 in = 10 ft (the largest that fits)
  --date DAY      printed on every sheet, as 2026-05-01 (none)
  --revision R    printed on every sheet, 20 letters at most (none)
`

const papersUsage = `Usage: evenfall papers --pack crew|owner|office --out FILE.pdf [--force]
                       [--paper NAME] [--scale N] [--date DAY] [--revision R] PLAN.json

Reads a plan file ("-" for standard input) and writes one pack of sheets as PDF:
for the crew that builds, for the owner, or for the office. Print it at 100 %.
` + paperUsage + `
A file that is there already is kept unless --force is given.
`

// mostRevision is how many letters a title block has room for.
const mostRevision = 20

// paperWish is how papers are asked for on the command line.
type paperWish struct {
	paper, date, revision *string
	scale                 *int
}

func paperFlags(c *command) paperWish {
	return paperWish{c.flags.String("paper", "", ""), c.flags.String("date", "", ""), c.flags.String("revision", "", ""), c.flags.Int("scale", 0, "")}
}

// asked is the wish as packs take it. What they cannot make they say themselves.
func (w paperWish) asked() (packs.Asked, error) {
	if *w.date != "" {
		if _, err := time.Parse(time.DateOnly, *w.date); err != nil {
			return packs.Asked{}, fmt.Errorf("--date takes a day of the calendar as 2026-05-01, not %q", *w.date)
		}
	}
	if utf8.RuneCountInString(*w.revision) > mostRevision {
		return packs.Asked{}, fmt.Errorf("--revision takes %d letters at most", mostRevision)
	}
	return packs.Asked{Paper: packs.PaperID(*w.paper), Scale: *w.scale, Date: *w.date, Revision: *w.revision}, nil
}

// runPapers writes one pack of sheets. It returns the exit code.
func runPapers(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("papers", papersUsage, stdout, stderr)
	kind := c.flags.String("pack", "", "")
	out := c.flags.String("out", "", "")
	force := c.flags.Bool("force", false, "")
	papers := paperFlags(c)
	file, code, done := c.parseOne(args)
	if done {
		return code
	}
	pack, ok := packs.FileOf(*kind + ".pdf")
	switch {
	case !ok || pack.Pack == "":
		return c.misused("Name the pack with --pack: crew, owner or office.")
	case *out == "":
		return c.misused("Name the file to write to with --out.")
	}
	asked, err := papers.asked()
	if err != nil {
		return c.misused("%s", plan.Capital(err.Error()))
	}
	p, d, err := designOf(ctx, file, stdin)
	if err != nil {
		return c.failed(err)
	}
	in := packs.Input{Plan: p, Design: d}
	if pack.Program {
		if in, err = in.Watered(ctx, nil); err != nil {
			return c.failed(err)
		}
	}
	var text bytes.Buffer
	if err := pack.Write(ctx, &text, in, asked, nil); err != nil {
		return c.failed(err)
	}
	return c.done(writeFile(strings.TrimSpace(*out), text.Bytes(), *force))
}
