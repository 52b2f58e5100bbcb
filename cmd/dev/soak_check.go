package main

import (
	"bytes"
	"context"
	"fmt"
	"os/exec"
	"path/filepath"
	"slices"
)

// checkAll stops the program and starts it again, and holds every plan and every
// step of its history against what was acknowledged. Then it has the program back
// itself up, which reads everything through, restores the backup elsewhere, and
// compares the plans there.
func (s *soaking) checkAll(ctx context.Context) error {
	s.flat()
	if err := s.prog.end(true); err != nil {
		return err
	}
	if err := s.prog.start(ctx); err != nil {
		return err
	}
	c := newSoakClient(s.prog.url())
	docs := s.checkPlans(c)
	backup := filepath.Join(s.dir, "backup.db")
	if err := s.task(ctx, "backup", "--to", backup, "--data", s.prog.data); err != nil {
		return err
	}
	if err := s.prog.end(true); err != nil {
		return err
	}
	elsewhere := &soakProgram{binary: s.binary, data: filepath.Join(s.dir, "restored"), log: s.prog.log}
	if err := s.task(ctx, "restore", backup, "--data", elsewhere.data); err != nil {
		return err
	}
	if err := elsewhere.start(ctx); err != nil {
		return err
	}
	defer elsewhere.kill()
	restored := newSoakClient(elsewhere.url())
	for id, doc := range docs {
		if a := restored.get("/api/plans/" + id); !a.ok() || !bytes.Equal(a.body, doc) {
			s.fault("plan %s is not the same in the restored backup: %d", id, a.status)
		}
		s.count("plans compared in the restored backup")
	}
	return nil
}

// task has the program do one of its other tasks; it fails when that does.
func (s *soaking) task(ctx context.Context, args ...string) error {
	out, err := exec.CommandContext(ctx, s.binary, args...).CombinedOutput()
	if err != nil {
		return fmt.Errorf("evenfall %s: %w: %s", args[0], err, out)
	}
	s.count("program: " + args[0] + ", read through and whole")
	return nil
}

// checkPlans compares every plan with what was acknowledged, and returns them.
func (s *soaking) checkPlans(c *soakClient) map[string][]byte {
	docs := map[string][]byte{}
	steps := 0
	for _, u := range s.people {
		for _, p := range u.plans {
			a := c.get("/api/plans/" + p.id)
			h, err := a.held()
			if !a.ok() || err != nil || h.Rev != p.rev || p.doc != nil && !bytes.Equal(p.doc, h.Doc) {
				s.fault("LOST: plan %s is at revision %d (%d, %v); %d was acknowledged", p.id, h.Rev, a.status, err, p.rev)
			}
			docs[p.id] = a.body
			lines, err := c.history(p.id)
			if err != nil {
				s.fault("LOST: %v", err)
				continue
			}
			if got, want := labels(lines, false), p.line; !slices.Equal(got, want) {
				s.fault("LOST: plan %s has %d steps in force, %d were acknowledged", p.id, len(got), len(want))
			}
			undone := labels(lines, true)
			slices.Reverse(undone)
			if !slices.Equal(undone, p.undone) {
				s.fault("LOST: plan %s has %d steps to do again, %d were acknowledged", p.id, len(undone), len(p.undone))
			}
			steps += len(lines) - 1
		}
		for sum, b := range u.pictures {
			if a := c.get("/api/pictures/" + sum); !a.ok() || !bytes.Equal(a.body, b) {
				s.fault("LOST: picture %s: %d", sum, a.status)
			}
		}
	}
	s.checkShared(c, docs)
	s.mu.Lock()
	s.counts["steps of the users' own plans found in the end"] = steps
	s.mu.Unlock()
	return docs
}

// checkShared looks for every acknowledged step of the shared plan.
func (s *soaking) checkShared(c *soakClient, docs map[string][]byte) {
	docs[s.shared.id] = c.get("/api/plans/" + s.shared.id).body
	lines, err := c.history(s.shared.id)
	if err != nil {
		s.fault("LOST: %v", err)
		return
	}
	there := map[string]int64{}
	for _, l := range lines {
		there[l.Label] = l.Rev
	}
	for _, l := range s.shared.steps {
		if there[l.Label] != l.Rev {
			s.fault("LOST: %q of revision %d in the shared plan", l.Label, l.Rev)
		}
	}
}

// labels lists the steps in force, or those taken back, without the making of the
// plan.
func labels(lines []histLine, undone bool) []string {
	var all []string
	for _, l := range lines[min(1, len(lines)):] {
		if l.Undone == undone {
			all = append(all, l.Label)
		}
	}
	return all
}
