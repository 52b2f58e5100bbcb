package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"syscall"
)

// soakProgram is the program under soak, in its present life. Every life is at the
// same address, as it is for a page that stays open.
type soakProgram struct {
	binary, data, log string
	addr              string
	cmd               *exec.Cmd
}

var saysWhere = regexp.MustCompile(`http://127\.0\.0\.1:\d+`)

func (p *soakProgram) url() string { return "http://" + p.addr }

// start starts the program and waits until it says where it is.
func (p *soakProgram) start(ctx context.Context) error {
	if p.addr == "" {
		free, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			return err
		}
		p.addr = free.Addr().String()
		if err := free.Close(); err != nil {
			return err
		}
	}
	log, err := os.OpenFile(p.log, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer log.Close() // the program has its own
	p.cmd = exec.CommandContext(ctx, p.binary, "serve", "--addr", p.addr, "--data", p.data, "--no-open")
	p.cmd.Stderr = log
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := p.cmd.Start(); err != nil {
		return err
	}
	lines := bufio.NewReader(out)
	for {
		line, err := lines.ReadString('\n')
		if err != nil {
			said, _ := os.ReadFile(p.log)
			return fmt.Errorf("the program did not start: %w: %s", p.cmd.Wait(), said)
		}
		if saysWhere.MatchString(line) {
			go io.Copy(io.Discard, lines)
			return nil
		}
	}
}

// end kills the program, or asks it to stop.
func (p *soakProgram) end(asked bool) error {
	if !asked {
		p.kill()
		return nil
	}
	if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		return err
	}
	if err := p.cmd.Wait(); err != nil {
		return fmt.Errorf("the program was asked to stop and ended with: %w", err)
	}
	return nil
}

func (p *soakProgram) kill() {
	p.cmd.Process.Kill()
	p.cmd.Wait() // it was killed: that is its error
}

// gauges are what an idle program holds.
type gauges struct{ files, threads, memory int } // memory in KiB

// measure reads them from Linux's /proc; other systems do not say, which is the
// zero gauges.
func (p *soakProgram) measure() (gauges, error) {
	at := fmt.Sprintf("/proc/%d/", p.cmd.Process.Pid)
	status, err := os.ReadFile(at + "status")
	if errors.Is(err, os.ErrNotExist) {
		return gauges{}, nil
	}
	if err != nil {
		return gauges{}, err
	}
	files, err := os.ReadDir(at + "fd")
	if err != nil {
		return gauges{}, err
	}
	g := gauges{files: len(files)}
	for _, line := range strings.Split(string(status), "\n") {
		name, value, _ := strings.Cut(line, ":")
		into := map[string]*int{"Threads": &g.threads, "VmRSS": &g.memory}[name]
		if into == nil {
			continue
		}
		if _, err := fmt.Sscan(value, into); err != nil {
			return gauges{}, err
		}
	}
	return g, nil
}
