package main

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// fresh makes the generated files again and fails if any came out different.
func fresh(ctx context.Context, root string) error {
	before, err := generatedSums(root)
	if err != nil {
		return err
	}
	if err := generate(ctx, root); err != nil {
		return err
	}
	after, err := generatedSums(root)
	if err != nil {
		return err
	}
	var stale []string
	for name, sum := range after {
		if before[name] != sum {
			stale = append(stale, name)
		}
	}
	sort.Strings(stale)
	if len(stale) > 0 {
		return fmt.Errorf("out of date, made again now (commit them): %s", strings.Join(stale, ", "))
	}
	return nil
}

// generatedSums maps every generated file to its checksum.
func generatedSums(root string) (map[string][32]byte, error) {
	sums := map[string][32]byte{}
	add := func(name string) error {
		b, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		sums[strings.TrimPrefix(name, root+"/")] = sha256.Sum256(b)
		return nil
	}
	for _, b := range bundles {
		if err := add(filepath.Join(root, b.to)); err != nil {
			return nil, err
		}
	}
	pages, err := filepath.Glob(filepath.Join(root, "web/view/*_templ.go"))
	if err != nil {
		return nil, err
	}
	for _, name := range pages {
		if err := add(name); err != nil {
			return nil, err
		}
	}
	return sums, nil
}

// vet is everything that reads Go without running it.
func vet(ctx context.Context, root string) error {
	list, err := exec.CommandContext(ctx, "git", "-C", root, "ls-files", "-co", "--exclude-standard", "*.go").Output()
	if err != nil {
		return fmt.Errorf("git ls-files: %w", err)
	}
	args := append([]string{"-l"}, strings.Fields(string(list))...)
	var unformatted bytes.Buffer
	c := command(ctx, root, "gofmt", args...)
	c.Stdout = &unformatted
	if err := c.Run(); err != nil {
		return fmt.Errorf("gofmt: %w", err)
	}
	if unformatted.Len() > 0 {
		return fmt.Errorf("not formatted by gofmt: %s", strings.Join(strings.Fields(unformatted.String()), ", "))
	}
	if err := command(ctx, root, "go", "vet", "-tags", "browser", "./...").Run(); err != nil {
		return fmt.Errorf("go vet: %w", err)
	}
	if err := command(ctx, root, "go", "tool", "staticcheck", "-tags", "browser", "./...").Run(); err != nil {
		return fmt.Errorf("staticcheck: %w", err)
	}
	return nil
}

// typescript checks types and style of the board's source and runs its tests.
func typescript(ctx context.Context, root string) error {
	web := filepath.Join(root, "web")
	if err := command(ctx, web, "node_modules/.bin/tsc", "--project", "tsconfig.json").Run(); err != nil {
		return fmt.Errorf("tsc: %w", err)
	}
	if err := command(ctx, web, "node_modules/.bin/biome", "check", "editor").Run(); err != nil {
		return fmt.Errorf("biome: %w", err)
	}
	return nodeTests(ctx, root, os.Stdout)
}

// nodeTests bundles every *.test.ts for Node and runs them, with more options
// for Node if need be.
func nodeTests(ctx context.Context, root string, to io.Writer, options ...string) error {
	out, err := os.MkdirTemp("", "evenfall-node-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(out)
	var files []string
	err = filepath.WalkDir(filepath.Join(root, "web/editor"), func(path string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".test.ts") {
			files = append(files, path)
		}
		return err
	})
	if err != nil {
		return err
	}
	if len(files) == 0 {
		return fmt.Errorf("found no *.test.ts under web/editor")
	}
	result := api.Build(api.BuildOptions{
		EntryPoints: files, Outdir: out, Outbase: filepath.Join(root, "web/editor"),
		Bundle: true, Platform: api.PlatformNode, Format: api.FormatESModule, Target: api.ES2022,
		OutExtension: map[string]string{".js": ".mjs"}, Sourcemap: api.SourceMapInline,
		Write: true, LogLevel: api.LogLevelInfo,
	})
	if len(result.Errors) > 0 {
		return fmt.Errorf("bundling the tests: %s", result.Errors[0].Text)
	}
	args := append([]string{"--enable-source-maps", "--test"}, options...)
	for _, f := range result.OutputFiles {
		args = append(args, f.Path)
	}
	c := command(ctx, root, "node", args...)
	c.Stdout = to
	c.Env = append(os.Environ(), "EVENFALL_ROOT="+root)
	if err := c.Run(); err != nil {
		return fmt.Errorf("node --test: %w", err)
	}
	return nil
}

// goTests runs every Go test but the browser's.
func goTests(ctx context.Context, root string) error {
	c := command(ctx, root, "go", "test", "-count=1", "./...")
	c.Env = append(os.Environ(), "EVENFALL_ALL=1") // a missing tool fails here, where alone it skips
	return c.Run()
}

// raced are the packages with goroutines of their own.
var raced = []string{"./internal/coverage", "./internal/design", "./internal/store", "./web", "./cmd/evenfall"}

// raceTests runs the concurrent packages under the race detector; -short leaves
// out the long sweeps of numbers, which have no second goroutine to race with.
func raceTests(ctx context.Context, root string) error {
	return command(ctx, root, "go", append([]string{"test", "-race", "-short", "-count=1"}, raced...)...).Run()
}

// browserTests drives a real Chromium, with nothing else running.
func browserTests(ctx context.Context, root string) error {
	return command(ctx, root, "go", "test", "-tags", "browser", "-p", "1", "-count=1", "-timeout", "30m", "./web/walk").Run()
}

var fuzzTarget = regexp.MustCompile(`^func (Fuzz\w+)\(`)

// fuzz runs every fuzz target for a while.
func fuzz(ctx context.Context, root string) error {
	targets, err := fuzzTargets(root)
	if err != nil {
		return err
	}
	if len(targets) == 0 {
		return fmt.Errorf("found no fuzz target")
	}
	for _, t := range targets {
		if err := fuzzOne(ctx, root, t); err != nil {
			return fmt.Errorf("%s in %s: %w", t.name, t.dir, err)
		}
	}
	return nil
}

// fuzzTime is how long each target is fuzzed, unless EVENFALL_FUZZ says
// otherwise, as in 30m for a night.
const fuzzTime = "5s"

// fuzzOne fuzzes one target. At the end of its time go test now
// and then reports its own deadline as a failure, without a failing input; the
// target then runs a fixed number of inputs, which has no deadline, and that
// counts.
func fuzzOne(ctx context.Context, root string, t target) error {
	run := func(budget string) (string, error) {
		var out bytes.Buffer
		c := command(ctx, root, "go", "test", "-run", "^$", "-fuzz", "^"+t.name+"$", "-fuzztime", budget, "./"+t.dir)
		c.Stdout = io.MultiWriter(os.Stdout, &out)
		err := c.Run()
		return out.String(), err
	}
	out, err := run(cmp.Or(os.Getenv("EVENFALL_FUZZ"), fuzzTime))
	if err != nil && strings.Contains(out, "context deadline exceeded") && !strings.Contains(out, "Failing input written") {
		fmt.Printf("%s: go test met its own deadline and names no failing input; running 2000 inputs instead\n", t.name)
		_, err = run("2000x")
	}
	return err
}

type target struct{ dir, name string }

func fuzzTargets(root string) ([]target, error) {
	var found []target
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "node_modules" || d.Name() == ".git") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, "_test.go") {
			return nil
		}
		b, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		lines := bufio.NewScanner(bytes.NewReader(b))
		lines.Buffer(nil, 1<<20)
		for lines.Scan() {
			if m := fuzzTarget.FindStringSubmatch(lines.Text()); m != nil {
				rel, err := filepath.Rel(root, filepath.Dir(path))
				if err != nil {
					return err
				}
				found = append(found, target{rel, m[1]})
			}
		}
		return lines.Err()
	})
	return found, err
}

// benchSmoke runs every benchmark once, so that none rots.
func benchSmoke(ctx context.Context, root string) error {
	return command(ctx, root, "go", "test", "-run", "^$", "-bench", ".", "-benchtime", "1x", "./...").Run()
}
