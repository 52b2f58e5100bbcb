package main

import (
	"flag"
	"fmt"
	"io"
	"strings"
)

// command is one subcommand being run: its flags and where it talks to.
type command struct {
	name, usage    string
	flags          *flag.FlagSet
	stdout, stderr io.Writer
}

func newCommand(name, usage string, stdout, stderr io.Writer) *command {
	c := &command{name, usage, flag.NewFlagSet(name, flag.ContinueOnError), stdout, stderr}
	c.flags.SetOutput(io.Discard) // its messages are not in our words
	c.flags.Usage = func() {}
	return c
}

// flagWords puts what package flag says into our words.
var flagWords = strings.NewReplacer("invalid boolean value", "cannot use", "invalid value", "cannot use",
	"flag provided but not defined:", "there is no option", "parse error", "it takes a whole number",
	"value out of range", "that is too large")

// parse reads flags and file names in any order; everything after -- is a file
// name. done says that there is nothing left to do but return the code.
func (c *command) parse(args []string) (files []string, code int, done bool) {
	for len(args) > 0 {
		err := c.flags.Parse(args)
		if err == flag.ErrHelp {
			return nil, c.write([]byte(c.usage)), true
		}
		if err != nil {
			return nil, c.misused("%s.", flagWords.Replace(err.Error())), true
		}
		rest := c.flags.Args()
		if used := len(args) - len(rest); used > 0 && args[used-1] == "--" {
			return append(files, rest...), exitOK, false
		}
		if len(rest) > 0 {
			files, rest = append(files, rest[0]), rest[1:]
		}
		args = rest
	}
	return files, exitOK, false
}

// parseOne is parse where one plan file is to be named.
func (c *command) parseOne(args []string) (file string, code int, done bool) {
	files, code, done := c.parse(args)
	switch {
	case done:
		return "", code, true
	case len(files) != 1:
		return "", c.misused("Name one plan file, or - for standard input."), true
	}
	return files[0], exitOK, false
}

// misused says what was not understood about the command and returns exitUsage.
func (c *command) misused(format string, args ...any) int {
	fmt.Fprintf(c.stderr, "evenfall %s: %s\n\n%s", c.name, fmt.Sprintf(format, args...), c.usage)
	return exitUsage
}

// failed says why the request cannot be done and returns exitFailed.
func (c *command) failed(err error) int {
	for _, line := range explain(err) {
		fmt.Fprintf(c.stderr, "evenfall %s: %s\n", c.name, line)
	}
	return exitFailed
}

// done returns exitOK, or says what went wrong and returns exitFailed.
func (c *command) done(err error) int {
	if err != nil {
		return c.failed(err)
	}
	return exitOK
}

func (c *command) write(text []byte) int {
	_, err := c.stdout.Write(text)
	return c.done(err)
}
