// Command evenfall designs sprinkler systems: it serves the board to the browser
// of this machine, and makes reports and lists of plan files without one.
//
// Run "evenfall help" for the commands.
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
	_ "time/tzdata" // dates mean the same on machines without time zone files

	"evenfall/web"
)

// What the program ends with.
const (
	exitOK       = 0
	exitFailed   = 1 // it was tried and did not work
	exitUsage    = 2 // it was not understood, or the folder is in use
	exitUnusable = 3 // the data file is not one to write to
)

// task is one thing the program can be asked to do. It returns the exit code.
type task struct {
	name, summary string
	run           func(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int
}

// tasks lists what the program does; the first is done when none is named. env
// reads the environment.
func tasks(env func(string) string) []task {
	return []task{
		{"serve", "serve the board to the browser of this machine (the default)", serving(env)},
		{"backup", "copy all plans into one checked file, also while Evenfall runs", backingUp(env)},
		{"restore", "go back to the plans of a backup, or list the backups", restoring(env)},
		{"report", "print what follows from a plan file: readings, findings, parts", runReport},
		{"solve", "print the pressures and flows of a plan file", runSolve},
		{"size", "choose the pipe sizes of a plan file", runSize},
		{"arrange", "set out heads on the planting areas of a plan file", runArrange},
		{"improve", "mend the layout of a plan file by a few changes", runImprove},
		{"keep-off", "keep the water of other zones off a bed of a plan file", runKeepOff},
		{"group", "group the heads of a plan file into zones", runGroup},
		{"route", "lay pipes, sleeves and wire of a plan file where they cost least to dig", runRoute},
		{"water", "work out the watering program of a plan file", runWater},
		{"proof", "print what was tested and measured beside what a plan file predicts", runProof},
		{"export", "write the lists and papers of a plan file into a folder", runExport},
		{"papers", "write one pack of sheets of a plan file as PDF", runPapers},
		{"hand-over", "pack a plan file, its pictures and the owner's papers into one file", runHandOver},
		{"take-over", "open a file that was handed over", runTakeOver},
		{"import-geojson", "make a plan file of outlines from open geodata", runImportGeoJSON},
	}
}

func main() {
	takeFullDisksAsErrors()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	code := run(ctx, os.Args[1:], os.Getenv, os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run does what the arguments say and returns the exit code.
func run(ctx context.Context, args []string, env func(string) string, stdin io.Reader, stdout, stderr io.Writer) int {
	all := tasks(env)
	name := all[0].name
	if len(args) > 0 && (!strings.HasPrefix(args[0], "-") || isHelp(args[0])) {
		name, args = args[0], args[1:]
	}
	switch {
	case name == "help" || isHelp(name):
		help(stdout, all, env)
		return exitOK
	case name == "version":
		fmt.Fprintln(stdout, "evenfall", version())
		return exitOK
	}
	for _, t := range all {
		if t.name == name {
			return t.run(ctx, args, stdin, stdout, stderr)
		}
	}
	fmt.Fprintf(stderr, "There is no command %q. These are the commands:\n\n", name)
	help(stderr, all, env)
	return exitUsage
}

func isHelp(s string) bool { return s == "-h" || s == "-help" || s == "--help" }

// help lists what the program does.
func help(w io.Writer, all []task, env func(string) string) {
	fmt.Fprint(w, "Evenfall designs sprinkler systems.\n\n")
	for _, t := range all {
		fmt.Fprintf(w, "  evenfall %-15s %s\n", t.name, t.summary)
	}
	fmt.Fprintf(w, "  evenfall %-15s %s\n", "version", "print the version")
	fmt.Fprintf(w, "  evenfall %-15s %s\n\n", "help", "print this")
	fmt.Fprint(w, "Each command takes -h to say more.\n\n")
	fmt.Fprintf(w, "The address is http://127.0.0.1:%d, or the one printed at the start.\n", web.DefaultPort)
	if dir, err := dataFolder(env, ""); err == nil {
		fmt.Fprintf(w, "Your plans are in %s, and copies of each day's in its folder \"backups\".\n", dir)
	}
	fmt.Fprint(w, "Keep them on this machine's own disk, not in a synced folder; keep backups anywhere.\n")
}

// version is the revision the program was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 && (v == "" || v == "(devel)") {
			v = s.Value[:12]
		}
	}
	if v == "" || v == "(devel)" {
		return "development build"
	}
	return v
}
