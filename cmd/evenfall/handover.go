package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"

	"evenfall/internal/handover"
	"evenfall/internal/packs"
	"evenfall/internal/plan"
)

const handOverUsage = `Usage: evenfall hand-over --out FILE.zip [--pictures FOLDER] [--date DAY] [--force] PLAN.json

Packs a plan file ("-" for standard input), the pictures it names and the owner's
papers into one file for the next person. Evenfall opens it from the list of plans;
anybody else can unpack it and look. The same from a running Evenfall has the
pictures by itself.

  --pictures FOLDER   where the pictures are; they are known by their content
  --date DAY          printed on the papers, as 2026-05-01 (none)
  --force             replace the file when it is there already
`

// runHandOver packs a plan for the next person. It returns the exit code.
func runHandOver(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("hand-over", handOverUsage, stdout, stderr)
	out := c.flags.String("out", "", "")
	folder := c.flags.String("pictures", "", "")
	date := c.flags.String("date", "", "")
	force := c.flags.Bool("force", false, "")
	file, code, done := c.parseOne(args)
	if done {
		return code
	}
	if *out == "" {
		return c.misused("Name the file to write to with --out.")
	}
	nothing := ""
	asked, err := paperWish{&nothing, date, &nothing, new(int)}.asked()
	if err != nil {
		return c.misused("%s", plan.Capital(err.Error()))
	}
	p, d, err := designOf(ctx, file, stdin)
	if err != nil {
		return c.failed(err)
	}
	pictures, err := picturesIn(*folder)
	if err != nil {
		return c.failed(err)
	}
	in, err := packs.Input{Plan: p, Design: d, Photo: pictures}.Watered(ctx, nil)
	if err != nil {
		return c.failed(err)
	}
	book, ok := packs.FileOf(string(packs.Owner) + ".pdf")
	if !ok {
		panic("main: the owner's pack is no file")
	}
	var pdf, packed bytes.Buffer
	if err := book.Write(ctx, &pdf, in, asked, nil); err != nil {
		return c.failed(err)
	}
	missing, err := handover.Write(ctx, &packed, p, pictures, []handover.File{{Name: book.Name, Bytes: pdf.Bytes()}})
	if err != nil {
		return c.failed(err)
	}
	if len(missing) > 0 {
		fmt.Fprintf(stderr, "%s of the plan %s not found and left out. Name the folder they are in with --pictures.\n",
			plan.Plural(len(missing), "picture", "pictures"), plan.Choose(len(missing), "was", "were"))
	}
	return c.done(writeFile(*out, packed.Bytes(), *force))
}

// picturesIn finds pictures in a folder by their content. Without a folder there are none.
func picturesIn(folder string) (handover.Pictures, error) {
	files := map[string]string{} // by checksum
	if folder != "" {
		list, err := os.ReadDir(folder)
		if err != nil {
			return nil, fileError(err)
		}
		for _, e := range list {
			if info, err := e.Info(); err != nil || !info.Mode().IsRegular() || info.Size() > handover.MaxPicture {
				continue // whatever it is, it is no picture of a plan
			}
			name := filepath.Join(folder, e.Name())
			b, err := os.ReadFile(name)
			if err != nil {
				return nil, fileError(err)
			}
			sum := sha256.Sum256(b)
			files[hex.EncodeToString(sum[:])] = name
		}
	}
	return func(sum string) (string, []byte, error) {
		name, ok := files[sum]
		if !ok {
			return "", nil, handover.ErrNoPicture
		}
		b, err := os.ReadFile(name)
		if err != nil {
			return "", nil, fileError(err)
		}
		return http.DetectContentType(b), b, nil
	}, nil
}

const takeOverUsage = `Usage: evenfall take-over --out FOLDER [--force] FILE.zip

Opens a file that was handed over and writes the plan file and its pictures into a
folder. Evenfall itself opens such a file from the list of plans.

  --force   replace files that are there already
`

// runTakeOver opens what was handed over. It returns the exit code.
func runTakeOver(_ context.Context, args []string, _ io.Reader, stdout, stderr io.Writer) int {
	c := newCommand("take-over", takeOverUsage, stdout, stderr)
	out := c.flags.String("out", "", "")
	force := c.flags.Bool("force", false, "")
	files, code, done := c.parse(args)
	switch {
	case done:
		return code
	case len(files) != 1:
		return c.misused("Name one file that was handed over.")
	case *out == "":
		return c.misused("Name the folder to write to with --out.")
	}
	made, notes, err := takenOver(files[0])
	if err != nil {
		return c.failed(err)
	}
	for _, n := range notes {
		fmt.Fprintln(stderr, n)
	}
	if err := writeAll(*out, made, *force); err != nil {
		return c.failed(err)
	}
	for _, f := range made {
		fmt.Fprintln(stdout, filepath.Join(*out, f.name))
	}
	return exitOK
}

// takenOver reads what was handed over: the plan file and its pictures. One that is damaged
// is left out and told: the rest is to be had all the same.
func takenOver(file string) (made []madeFile, notes []string, err error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, nil, fileError(err)
	}
	defer func() {
		if closed := f.Close(); err == nil {
			err = closed
		}
	}()
	info, err := f.Stat()
	if err != nil {
		return nil, nil, fileError(err)
	}
	o, err := handover.Open(f, info.Size())
	if err != nil {
		return nil, nil, &unreadable{file, err}
	}
	made, notes = []madeFile{{"plan.json", o.Plan.Encode()}}, o.Notes
	for _, sum := range o.Plan.Pictures() {
		kind, b, err := o.Picture(sum)
		if errors.Is(err, handover.ErrNoPicture) {
			continue // o.Notes says so
		}
		var no *handover.Refused
		if errors.As(err, &no) {
			notes = append(notes, "Left out: "+no.Sentence)
			continue
		}
		if err != nil {
			return nil, nil, &unreadable{file, err}
		}
		made = append(made, madeFile{handover.PictureName(sum, kind), b})
	}
	return made, notes, nil
}
