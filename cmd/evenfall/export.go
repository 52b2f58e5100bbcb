package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"evenfall/internal/packs"
	"evenfall/internal/plan"
)

// exportUsage is how the command is used, with every file it writes.
func exportUsage() string {
	var b strings.Builder
	b.WriteString(`Usage: evenfall export --out DIR [--force] [--paper NAME] [--scale N]
                       [--date DAY] [--revision R] PLAN.json

Reads a plan file ("-" for standard input) and writes into the folder DIR, which
is made if it is not there:

`)
	for _, f := range packs.Files() {
		only := ""
		if f.Place {
			only = ", when the plan has a latitude and longitude"
		}
		fmt.Fprintf(&b, "  %-17s  %s%s\n", f.Name, f.Holds, only)
	}
	b.WriteString(paperUsage)
	b.WriteString(`
Files that are there already are kept, and nothing is written, unless --force
is given.
`)
	return b.String()
}

// runExport writes everything a plan file can be saved as into a folder. It returns
// the exit code.
func runExport(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("export", exportUsage(), stdout, stderr)
	out := c.flags.String("out", "", "")
	force := c.flags.Bool("force", false, "")
	papers := paperFlags(c)
	file, code, done := c.parseOne(args)
	switch {
	case done:
		return code
	case *out == "":
		return c.misused("Name the folder to write to with --out.")
	}
	asked, err := papers.asked()
	if err != nil {
		return c.misused("%s", plan.Capital(err.Error()))
	}
	p, d, err := designOf(ctx, file, stdin)
	if err != nil {
		return c.failed(err)
	}
	asked.Begins = cmp.Or(asked.Date, time.Now().Format(time.DateOnly))
	made, err := exported(ctx, packs.Input{Plan: p, Design: d}, asked)
	if err != nil {
		return c.failed(err)
	}
	if err := writeAll(*out, made, *force); err != nil {
		return c.failed(err)
	}
	for _, f := range made {
		fmt.Fprintln(stdout, filepath.Join(*out, f.name))
	}
	return exitOK
}

// madeFile is a file ready to be written.
type madeFile struct {
	name string
	text []byte
}

// exported makes every file of an export, so that one that cannot be made keeps
// all of them from being written.
func exported(ctx context.Context, in packs.Input, asked packs.Asked) ([]madeFile, error) {
	var made []madeFile
	for _, f := range packs.Files() {
		if !f.Of(in.Plan) {
			continue
		}
		if f.Program {
			var err error
			if in, err = in.Watered(ctx, nil); err != nil { // once for all of them
				return nil, err
			}
		}
		var text bytes.Buffer
		if err := f.Write(ctx, &text, in, asked, nil); err != nil {
			return nil, err
		}
		made = append(made, madeFile{f.Name, text.Bytes()})
	}
	return made, nil
}

// writeAll writes the files into dir. Unless replace is set it first makes sure
// that none of them is there.
func writeAll(dir string, files []madeFile, replace bool) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return fileError(err)
	}
	for _, f := range files {
		if _, err := os.Lstat(filepath.Join(dir, f.name)); err == nil && !replace {
			return fmt.Errorf("%s is there already; add --force to replace it", filepath.Join(dir, f.name))
		}
	}
	for _, f := range files {
		if err := writeFile(filepath.Join(dir, f.name), f.text, replace); err != nil {
			return err
		}
	}
	return nil
}

// writeFile writes one file whole: under another name first, so that a full
// disk leaves the old one as it was.
func writeFile(path string, text []byte, replace bool) (err error) {
	if !replace {
		if _, err := os.Lstat(path); err == nil {
			return fmt.Errorf("%s is there already; add --force to replace it", path)
		}
	}
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return fileError(err)
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name()) // what is left of the attempt; the cause is told
		}
	}()
	if _, err = f.Write(text); err != nil {
		f.Close() // the write's error is the one to tell
		return fileError(err)
	}
	if err = f.Close(); err != nil {
		return fileError(err)
	}
	if err = os.Chmod(f.Name(), 0o644); err != nil {
		return fileError(err)
	}
	if err = os.Rename(f.Name(), path); err != nil {
		return fmt.Errorf("%s cannot be replaced: %w", path, err)
	}
	return nil
}
