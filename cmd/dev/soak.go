package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"time"
)

// A soak is the program in use for a stated time: users who draw, drag, undo, copy
// and export over HTTP and the live channel, while the program is killed and
// stopped at random moments. What was acknowledged is written down outside the
// program and compared with what it holds in the end.

// How much more an idle program may hold at the end of its last life than after
// its first load in that life.
const (
	moreFiles   = 4
	moreThreads = 10
	moreMemory  = 96 << 10 // KiB; what a garbage collector gives back, it gives back late
)

type soakOptions struct {
	length time.Duration
	users  int
	seed   uint64
}

// soak builds the program and runs it for a while. It fails when anything that was
// acknowledged is lost, or when the program keeps more and more.
func soak(ctx context.Context, root string, args []string) error {
	flags := flag.NewFlagSet("soak", flag.ContinueOnError)
	o := soakOptions{seed: uint64(time.Now().UnixNano())}
	flags.DurationVar(&o.length, "for", 10*time.Minute, "how long")
	flags.IntVar(&o.users, "users", 6, "how many users at a time")
	flags.Uint64Var(&o.seed, "seed", o.seed, "seed of what the users do")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if o.users < 1 || o.length <= 0 {
		return errors.New("a soak wants a user and some time at least")
	}
	dir, err := os.MkdirTemp("", "evenfall-soak-")
	if err != nil {
		return err
	}
	binary := filepath.Join(dir, "evenfall")
	if err := command(ctx, root, "go", "build", "-o", binary, "./cmd/evenfall").Run(); err != nil {
		return fmt.Errorf("building the program: %w", err)
	}
	demo, err := os.ReadFile(filepath.Join(root, "testdata", "plans", "demo.json"))
	if err != nil {
		return err
	}
	s := newSoaking(o, binary, dir, demo)
	fmt.Printf("%d users for %v, seed %d, in %s\n", o.users, o.length, o.seed, dir)
	if err := s.run(ctx); err != nil {
		return fmt.Errorf("%w (left in %s)", err, dir)
	}
	s.report(os.Stdout)
	if len(s.faults) > 0 {
		return fmt.Errorf("%d faults (left in %s)", len(s.faults), dir)
	}
	return os.RemoveAll(dir)
}

// soaking is a soak under way.
type soaking struct {
	soakOptions
	binary, dir string
	demo        []byte
	prog        *soakProgram
	gate        sync.RWMutex // held by users as they act, wholly to have them pause
	over        atomic.Bool  // users stop
	shared      *sharedPlan  // every user draws in it too
	people      []*soakUser
	first, last gauges // of the last life

	mu     sync.Mutex
	counts map[string]int
	faults []string
}

func newSoaking(o soakOptions, binary, dir string, demo []byte) *soaking {
	return &soaking{soakOptions: o, binary: binary, dir: dir, demo: demo, counts: map[string]int{},
		prog: &soakProgram{binary: binary, data: filepath.Join(dir, "data"), log: filepath.Join(dir, "log")}}
}

func (s *soaking) count(what string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.counts[what]++
}

// fault notes something that must not happen.
func (s *soaking) fault(format string, args ...any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.faults) < 50 {
		s.faults = append(s.faults, fmt.Sprintf(format, args...))
	}
}

// run lives through the program's lives and then checks everything.
func (s *soaking) run(ctx context.Context) error {
	if err := s.prog.start(ctx); err != nil {
		return err
	}
	defer s.prog.kill()
	if err := s.enter(); err != nil {
		return err
	}
	var working sync.WaitGroup
	for _, u := range s.people {
		working.Go(func() { u.live() })
	}
	err := s.lives(ctx)
	s.over.Store(true)
	working.Wait()
	if err != nil {
		return err
	}
	return s.checkAll(ctx)
}

// enter makes the users and the plan they share.
func (s *soaking) enter() error {
	c := newSoakClient(s.prog.url())
	id, err := c.make("The yard all share", s.demo)
	if err != nil {
		return err
	}
	s.shared = &sharedPlan{id: id}
	for n := range s.users {
		s.people = append(s.people, &soakUser{soaking: s, n: n, client: newSoakClient(s.prog.url()), pick: rand.New(rand.NewPCG(s.seed, uint64(n)))})
	}
	return nil
}

// lives ends the program again and again, more often killed than asked, and
// starts it anew. The last life is the longest, and is measured.
func (s *soaking) lives(ctx context.Context) error {
	pick := rand.New(rand.NewPCG(s.seed, 1<<32))
	end := time.Now().Add(s.length)
	lastLife := end.Add(-s.length / 3)
	for time.Now().Before(lastLife) {
		life := s.length/20 + time.Duration(pick.Int64N(int64(s.length/8)))
		if err := rest(ctx, min(life, time.Until(lastLife))); err != nil {
			return err
		}
		how := "killed"
		if pick.IntN(4) == 0 {
			how = "stopped"
		}
		s.count("program " + how)
		if err := s.prog.end(how == "stopped"); err != nil {
			return err
		}
		if err := s.prog.start(ctx); err != nil {
			return err
		}
	}
	if err := rest(ctx, time.Until(end)/4); err != nil {
		return err
	}
	var err error
	if s.first, err = s.idle(ctx); err != nil {
		return err
	}
	if err := rest(ctx, time.Until(end)); err != nil {
		return err
	}
	s.last, err = s.idle(ctx)
	return err
}

func rest(ctx context.Context, d time.Duration) error {
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(d):
		return nil
	}
}

// idle has the users pause and measures the program.
func (s *soaking) idle(ctx context.Context) (gauges, error) {
	s.gate.Lock()
	defer s.gate.Unlock()
	for _, u := range s.people {
		u.client.http.CloseIdleConnections()
	}
	if err := rest(ctx, min(3*time.Second, s.length/10)); err != nil {
		return gauges{}, err
	}
	return s.prog.measure()
}

// flat compares what the idle program holds.
func (s *soaking) flat() {
	if s.first == (gauges{}) {
		return // a system that does not say
	}
	for _, g := range []struct {
		what        string
		first, last int
		more        int
	}{
		{"open files", s.first.files, s.last.files, moreFiles},
		{"threads", s.first.threads, s.last.threads, moreThreads},
		{"KiB of memory", s.first.memory, s.last.memory, moreMemory},
	} {
		if g.last > g.first+g.more {
			s.fault("the idle program holds %d %s, after its first load it was %d", g.last, g.what, g.first)
		}
	}
}

// report prints what was done and what came of it.
func (s *soaking) report(w io.Writer) {
	for _, what := range slices.Sorted(maps.Keys(s.counts)) {
		fmt.Fprintf(w, "  %7d  %s\n", s.counts[what], what)
	}
	fmt.Fprintf(w, "idle program, after the first load of its last life and at the end: files %d, %d; threads %d, %d; memory %d, %d KiB\n",
		s.first.files, s.last.files, s.first.threads, s.last.threads, s.first.memory, s.last.memory)
	for _, f := range s.faults {
		fmt.Fprintln(w, "FAULT:", f)
	}
	fmt.Fprintf(w, "%d faults\n", len(s.faults))
}
