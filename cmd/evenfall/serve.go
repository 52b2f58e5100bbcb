package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"strings"
	"sync"

	"evenfall/internal/plan"
	"evenfall/internal/store"
	"evenfall/testdata/plans"
	"evenfall/web"
)

const serveUsage = `Usage: evenfall [serve] [--addr ADDRESS] [--data DIR] [--no-open]

Serves the board to the browser of this machine, at an address no other machine
can reach, and keeps the plans in one folder. On the first start a demo plan is
there to look at. Stop it with Ctrl-C.

  --addr ADDRESS  address to serve at (127.0.0.1:8740, or a free port if that is taken)
  --data DIR      folder to keep the plans in (the system's place for data)
  --no-open       do not open the browser
`

// serveOptions say how to serve.
type serveOptions struct {
	addr, data string
	noOpen     bool
}

// serving returns the task that serves the board until ctx ends.
func serving(env func(string) string) func(context.Context, []string, io.Reader, io.Writer, io.Writer) int {
	return func(ctx context.Context, args []string, _ io.Reader, stdout, stderr io.Writer) int {
		c := newCommand("serve", serveUsage, stdout, stderr)
		var o serveOptions
		c.flags.StringVar(&o.addr, "addr", "", "")
		c.flags.StringVar(&o.data, "data", "", "")
		c.flags.BoolVar(&o.noOpen, "no-open", false, "")
		rest, code, done := c.parse(args)
		if done {
			return code
		}
		if len(rest) > 0 {
			return c.misused("It takes no argument %q.", rest[0])
		}
		var err error
		if o.data, err = dataFolder(env, o.data); err != nil {
			return c.misused("%s.", plan.Capital(err.Error()))
		}
		return serve(ctx, o, stdout, stderr)
	}
}

// serve serves the board until ctx ends and returns the exit code.
func serve(ctx context.Context, o serveOptions, stdout, stderr io.Writer) int {
	kept, err := store.Open(ctx, o.data)
	if err != nil {
		return sayWhy(stderr, err)
	}
	daily, stop := context.WithCancel(ctx)
	var backups sync.WaitGroup
	backups.Go(func() { backUpDaily(daily, kept, backupEvery, func(s string) { fmt.Fprintln(stderr, s) }) })
	err = serveStore(ctx, o, kept, stdout, stderr)
	stop()
	backups.Wait()
	if err := errors.Join(err, kept.Close()); err != nil {
		return sayWhy(stderr, err)
	}
	fmt.Fprintln(stdout, "Evenfall has stopped. Everything shown as saved is on disk.")
	return exitOK
}

// sayWhy tells the user why the program ends.
func sayWhy(stderr io.Writer, err error) int {
	fmt.Fprintf(stderr, "%s.\n", strings.TrimSuffix(plan.Capital(err.Error()), "."))
	var busy *store.InUse
	var unusable *store.Unusable
	switch {
	case errors.As(err, &busy):
		return exitUsage
	case errors.As(err, &unusable):
		return exitUnusable
	}
	return exitFailed
}

// serveStore serves the plans of an open store.
func serveStore(ctx context.Context, o serveOptions, kept *store.Store, stdout, stderr io.Writer) error {
	for _, w := range kept.Warnings {
		fmt.Fprintln(stderr, w)
	}
	demo, err := demoPlan(ctx, kept)
	if err != nil {
		return err
	}
	door, err := openDoor(o.addr)
	if err != nil {
		return err
	}
	if err := kept.Announce(door.URL()); err != nil {
		return errors.Join(err, door.Close())
	}
	fmt.Fprintf(stdout, "Evenfall is at %s\nYour plans are in %s\nStop it with Ctrl-C.\n", door.URL(), kept.Dir())
	if !o.noOpen {
		if err := openBrowser(ctx, door.URL()); err != nil {
			fmt.Fprintf(stderr, "The browser could not be opened (%v); open %s yourself.\n", err, door.URL())
		}
	}
	site := web.New(web.Options{
		Plans: kept, Hosts: door.Hosts(), Data: kept.Dir(), Version: version(), Demo: demo,
		Log: slog.New(slog.NewTextHandler(stderr, nil)),
	})
	return site.Serve(ctx, door)
}

// openDoor opens the address asked for, or the usual one; only the usual one may
// give way to another port.
func openDoor(addr string) (*web.Door, error) {
	if addr != "" {
		return web.NewDoor(addr, false)
	}
	return web.NewDoor(fmt.Sprintf("127.0.0.1:%d", web.DefaultPort), true)
}

// demoPlan returns the demo document as it is stored, and keeps it as a plan on
// the very first start.
func demoPlan(ctx context.Context, kept *store.Store) ([]byte, error) {
	p, err := plan.Decode(plans.Demo)
	if err != nil {
		return nil, fmt.Errorf("the demo plan: %w", err)
	}
	doc := p.Encode()
	if kept.New {
		if _, err := kept.Create(ctx, doc); err != nil {
			return nil, fmt.Errorf("the demo plan: %w", err)
		}
	}
	return doc, nil
}
