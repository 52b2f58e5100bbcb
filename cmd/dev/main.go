// Command dev is the contributor's tool: it makes the generated files, runs
// every check the project has, and measures the kernels.
//
//	go run ./cmd/dev gen              templ pages, browser bundle
//	go run ./cmd/dev test [-only P]   installs what is missing, runs everything
//	go run ./cmd/dev bench            kernels against their targets and oracles
//	go run ./cmd/dev soak -for 10m    random users and kills for a while, and nothing lost
//	go run ./cmd/dev rows             the page of what is promised and which test shows it
//	go run ./cmd/dev layouts          the page of what the search for layouts finds
//
// It is run from anywhere inside the checkout.
package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "dev:", err)
		os.Exit(1)
	}
}

const usage = `usage:
  go run ./cmd/dev gen               make the generated files (idempotent)
  go run ./cmd/dev test [-only P,…]  install what is missing, run every check
  go run ./cmd/dev bench             measure the kernels and the board
  go run ./cmd/dev soak [-for 10m]   use, kill and check the program for a while (-users, -seed)
  go run ./cmd/dev rows              run the tests of all rows, write testdata/rows.md
  go run ./cmd/dev layouts           search the layouts of known shapes in full, write testdata/layouts.md`

func run(ctx context.Context, args []string) error {
	root, err := checkout(ctx)
	if err != nil {
		return err
	}
	if len(args) == 0 {
		return fmt.Errorf("say what to do\n%s", usage)
	}
	switch args[0] {
	case "gen":
		return generate(ctx, root)
	case "test":
		return test(ctx, root, args[1:])
	case "bench":
		return bench(ctx, root, args[1:])
	case "soak":
		return soak(ctx, root, args[1:])
	case "rows":
		return rows(ctx, root)
	case "layouts":
		return layouts(ctx, root)
	}
	return fmt.Errorf("there is no command %q\n%s", args[0], usage)
}

// checkout returns the folder of go.mod.
func checkout(ctx context.Context) (string, error) {
	out, err := exec.CommandContext(ctx, "go", "env", "GOMOD").Output()
	if err != nil {
		return "", fmt.Errorf("asking go for the module: %w", err)
	}
	mod := strings.TrimSpace(string(out))
	if mod == "" || mod == os.DevNull {
		return "", fmt.Errorf("run this inside the Evenfall checkout")
	}
	return filepath.Dir(mod), nil
}

// command prepares a program that runs in dir and speaks to the terminal.
func command(ctx context.Context, dir, name string, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, name, args...)
	c.Dir, c.Stdout, c.Stderr = dir, os.Stdout, os.Stderr
	return c
}
