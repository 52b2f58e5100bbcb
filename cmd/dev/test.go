package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"
)

// phase is one part of the whole check.
type phase struct {
	name string
	run  func(context.Context, string) error
}

// phases in the order they run: cheap and telling first, the browser alone on
// the machine near the end.
var phases = []phase{
	{"install", install},
	{"fresh", fresh},
	{"vet", vet},
	{"ts", typescript},
	{"go", goTests},
	{"race", raceTests},
	{"browser", browserTests},
	{"fuzz", fuzz},
	{"bench-smoke", benchSmoke},
}

// test runs the phases, prints the time of each, and fails if any failed. A
// failed phase does not hide what later ones would say, except installation.
func test(ctx context.Context, root string, args []string) error {
	flags := flag.NewFlagSet("test", flag.ContinueOnError)
	only := flags.String("only", "", "run only these phases, by name, separated by commas")
	if err := flags.Parse(args); err != nil {
		return err
	}
	chosen, err := choose(*only)
	if err != nil {
		return err
	}
	var passed int
	var failed []string
	for _, p := range chosen {
		fmt.Printf("== %s\n", p.name)
		start := time.Now()
		err := p.run(ctx, root)
		took := time.Since(start).Round(100 * time.Millisecond)
		if err != nil {
			failed = append(failed, p.name)
			fmt.Printf("-- %s FAILED after %s: %v\n", p.name, took, err)
			if p.name == "install" {
				break
			}
			continue
		}
		passed++
		fmt.Printf("-- %s passed in %s\n", p.name, took)
	}
	fmt.Printf("%d passed, %d failed\n", passed, len(failed))
	if len(failed) > 0 {
		return fmt.Errorf("failed: %s", strings.Join(failed, ", "))
	}
	return nil
}

func choose(only string) ([]phase, error) {
	if only == "" {
		return phases, nil
	}
	var chosen []phase
	for _, name := range strings.Split(only, ",") {
		i := slices.IndexFunc(phases, func(p phase) bool { return p.name == name })
		if i < 0 {
			fmt.Fprintln(os.Stderr, "phases:")
			for _, p := range phases {
				fmt.Fprintln(os.Stderr, "  "+p.name)
			}
			return nil, fmt.Errorf("there is no phase %q", name)
		}
		chosen = append(chosen, phases[i])
	}
	return chosen, nil
}
