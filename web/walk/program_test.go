//go:build browser

package walk

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sync"
	"syscall"
	"testing"
	"time"
)

// binary is the built program, made once for all tests.
var binary string

func TestMain(m *testing.M) {
	os.Exit(func() int {
		dir, err := os.MkdirTemp("", "evenfall-walk-")
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		defer os.RemoveAll(dir)
		binary = filepath.Join(dir, "evenfall")
		build := exec.Command("go", "build", "-o", binary, "evenfall/cmd/evenfall")
		build.Stderr = os.Stderr
		if err := build.Run(); err != nil {
			fmt.Fprintln(os.Stderr, "building the program:", err)
			return 1
		}
		stop, err := startBrowser(dir)
		if err != nil {
			fmt.Fprintln(os.Stderr, "starting Chromium:", err)
			return 1
		}
		defer stop()
		return m.Run()
	}())
}

// program is one running Evenfall with a data folder of its own.
type program struct {
	url, data string
	cmd       *exec.Cmd
	mu        sync.Mutex
	log       bytes.Buffer
	gone      chan struct{}
}

var address = regexp.MustCompile(`http://127\.0\.0\.1:\d+`)

// startProgram runs the program on a free port and a data folder and waits for
// the address it prints. It is stopped when the test ends.
func startProgram(t *testing.T, data string) *program {
	t.Helper()
	return startProgramAt(t, data, "127.0.0.1:0")
}

// startProgramAt runs the program at an address, to come back where it was.
func startProgramAt(t *testing.T, data, addr string) *program {
	t.Helper()
	p := &program{data: data, gone: make(chan struct{})}
	p.cmd = exec.Command(binary, "serve", "--addr", addr, "--data", data, "--no-open")
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	p.cmd.Stderr = &lockedWriter{p: p}
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	found := make(chan string, 1)
	go func() {
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			(&lockedWriter{p: p}).Write(append(lines.Bytes(), '\n'))
			if u := address.FindString(lines.Text()); u != "" {
				select {
				case found <- u:
				default:
				}
			}
		}
		p.cmd.Wait()
		close(p.gone)
	}()
	select {
	case p.url = <-found:
	case <-p.gone:
		t.Fatalf("the program ended before it printed an address:\n%s", p.output())
	case <-time.After(30 * time.Second):
		t.Fatalf("no address after 30 s:\n%s", p.output())
	}
	t.Cleanup(func() { p.stop() })
	return p
}

// stop asks the program to end, as Ctrl-C does, and waits.
func (p *program) stop() {
	p.cmd.Process.Signal(syscall.SIGTERM)
	select {
	case <-p.gone:
	case <-time.After(15 * time.Second):
		p.cmd.Process.Kill()
		<-p.gone
	}
}

func (p *program) output() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.log.String()
}

type lockedWriter struct{ p *program }

func (w *lockedWriter) Write(b []byte) (int, error) {
	w.p.mu.Lock()
	defer w.p.mu.Unlock()
	return w.p.log.Write(b)
}
