package main

import (
	"encoding/json"
	"io"

	"evenfall/internal/plan"
)

// A command that changes a plan file (arrange, improve, group) is made of this
// file. To write another:
//
//	func runRoute(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
//		c := newCommand("route", routeUsage, stdout, stderr)
//		return c.changes(args, stdin, []string{"zones", "seed"}, func(p *plan.Plan, asked func(string) string) (*changed, error) {
//			o, err := route.Asked(p, asked)
//			if err != nil {
//				return nil, err
//			}
//			found, err := route.Propose(ctx, p, o, func(int, int) {})
//			if err != nil {
//				return nil, err
//			}
//			next, err := withPatch(p, found.Patch)
//			told := routes{heading: headingOf("routes", p), …}
//			return &changed{plan: next, told: told, text: func(w io.Writer) error { return sheets.Routes(w, p, found) }}, err
//		})
//	}
//
// and add its line to tasks. The flags --out, --force and --text come by themselves;
// those named to changes take a text each, "" when it is not given; what chooses
// among the answers, as --offer of arrange, is a flag of c made before. The usage
// names them all. An error answered is said, and nothing is written.

// changed is the answer of such a command: the plan to write, and what is told of
// it, for programs (as JSON) and to be read.
type changed struct {
	plan *plan.Plan
	told any
	text func(io.Writer) error
	// early is why the answer is not the one that was sought to its end; the command
	// fails once it is written. Nil: it is.
	early error
}

// heading is what begins everything printed for programs.
type heading struct {
	Format string `json:"format"`
	Name   string `json:"name"`        // of the plan
	Plan   string `json:"plan_sha256"` // of the plan's canonical form, as it was read
}

// headingOf is the heading of a kind of print, version 1 of its form.
func headingOf(kind string, p *plan.Plan) heading {
	return heading{"evenfall-" + kind + "/1", p.Name, plan.Digest(p.Encode())}
}

// withPatch is the plan with a patch made to it; without one, the plan itself.
func withPatch(p *plan.Plan, patch plan.Patch) (*plan.Plan, error) {
	if len(patch) == 0 {
		return p, nil
	}
	return plan.Preview(p.Encode(), patch)
}

// changes reads flags and plan, asks seek for a changed plan, writes it where --out
// says and tells of it. It returns the exit code. The named flags are what seek
// reads its question from.
func (c *command) changes(args []string, stdin io.Reader, named []string, seek func(p *plan.Plan, asked func(string) string) (*changed, error)) int {
	to := c.target()
	asText := c.flags.Bool("text", false, "")
	given := map[string]*string{}
	for _, name := range named {
		given[name] = c.flags.String(name, "", "")
	}
	p, code := to.read(args, stdin)
	if p == nil {
		return code
	}
	got, err := seek(p, func(name string) string {
		if s, ok := given[name]; ok {
			return *s
		}
		return ""
	})
	if err != nil {
		return c.failed(err)
	}
	if err := to.write(got.plan); err != nil {
		return c.failed(err)
	}
	about := c.stdout
	if *to.out == "-" {
		about = c.stderr
	}
	if *asText {
		err = got.text(about)
	} else {
		err = printJSON(about, got.told)
	}
	if err == nil {
		err = got.early
	}
	return c.done(err)
}

// target is where a changed plan is written to.
type target struct {
	c     *command
	out   *string
	force *bool
}

// target makes the flags --out and --force.
func (c *command) target() target {
	return target{c, c.flags.String("out", "", ""), c.flags.Bool("force", false, "")}
}

// read reads the arguments and the one plan file they name. When there is nothing
// left to do but to return the code, p is nil.
func (t target) read(args []string, stdin io.Reader) (p *plan.Plan, code int) {
	file, code, done := t.c.parseOne(args)
	switch {
	case done:
		return nil, code
	case *t.out == "":
		return nil, t.c.misused("Name the plan file to write with --out.")
	}
	p, err := readPlan(file, stdin)
	if err != nil {
		return nil, t.c.failed(err)
	}
	return p, exitOK
}

// write writes the plan, to standard output for "-".
func (t target) write(p *plan.Plan) error {
	if *t.out == "-" {
		_, err := t.c.stdout.Write(p.Encode())
		return err
	}
	return writeFile(*t.out, p.Encode(), *t.force)
}

// printJSON prints a value for programs.
func printJSON(w io.Writer, v any) error {
	out := json.NewEncoder(w)
	out.SetEscapeHTML(false)
	out.SetIndent("", "  ")
	return out.Encode(v)
}
