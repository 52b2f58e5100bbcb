package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"
)

// asProgram, when set in the environment, makes this test binary the program.
const asProgram = "EVENFALL_TEST_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
	}
	os.Exit(m.Run())
}

// running is a program that serves.
type running struct {
	t    *testing.T
	url  string
	out  *bufio.Reader
	stop func() (code int, errors string)
}

var printedURL = regexp.MustCompile(`http://127\.0\.0\.1:\d+`)

// start runs the program in this process and waits for the address it prints.
func start(t *testing.T, args ...string) *running {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	read, write := io.Pipe()
	var stderr strings.Builder
	code := make(chan int, 1)
	go func() {
		code <- run(ctx, args, func(string) string { return "" }, strings.NewReader(""), write, &stderr)
		write.Close()
	}()
	r := &running{t: t, out: bufio.NewReader(read)}
	r.stop = func() (int, string) {
		cancel()
		go io.Copy(io.Discard, r.out) // what it still says is of no interest
		return <-code, stderr.String()
	}
	for r.url == "" {
		line, err := r.out.ReadString('\n')
		if err != nil {
			t.Fatalf("it ended before it printed an address: code %d, %s", <-code, stderr.String())
		}
		r.url = printedURL.FindString(line)
	}
	return r
}

func (r *running) get(path string) string {
	r.t.Helper()
	resp, err := http.Get(r.url + path)
	if err != nil {
		r.t.Fatal(err)
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(resp.Body)
	if err != nil {
		r.t.Fatal(err)
	}
	return string(b)
}

func (r *running) end(want int) {
	r.t.Helper()
	http.DefaultClient.CloseIdleConnections()
	if code, said := r.stop(); code != want || said != "" {
		r.t.Errorf("it ended with %d and said %q, want %d", code, said, want)
	}
}

func TestServingFromTheFirstStartOn(t *testing.T) {
	data := filepath.Join(t.TempDir(), "evenfall")
	args := []string{"--addr", "127.0.0.1:0", "--data", data, "--no-open"}
	r := start(t, append([]string{"serve"}, args...)...)
	if line, err := r.out.ReadString('\n'); err != nil || !strings.Contains(line, data) {
		t.Errorf("after the address it printed %q, %v; want the data folder", line, err)
	}
	list := r.get("/")
	id := regexp.MustCompile(`/plans/(p\w+)"`).FindStringSubmatch(list)
	if id == nil || !strings.Contains(list, "48 heads") {
		t.Fatalf("the demo is not in the list: %s", list)
	}
	for path, has := range map[string]string{
		"/plans/" + id[1]:                      `data-plan="` + id[1] + `"`,
		"/api/plans/" + id[1]:                  `"rev":1`,
		"/api/plans/" + id[1] + "/board":       `"findings":[{`,
		"/plans/" + id[1] + "/files/plan.json": `"format":"evenfall-plan/1"`,
	} {
		if got := r.get(path); !strings.Contains(got, has) {
			t.Errorf("%s does not hold %q: %.200s", path, has, got)
		}
	}
	r.end(exitOK)
	if _, err := os.Stat(filepath.Join(data, "evenfall.db-wal")); err == nil {
		t.Error("the log of the data file was left behind")
	}

	r = start(t, args...) // serve goes without saying
	if n := strings.Count(r.get("/"), "48 heads"); n != 1 {
		t.Errorf("on the second start there are %d demos, want one", n)
	}
	req, err := http.NewRequest("DELETE", r.url+"/api/plans/"+id[1], http.NoBody)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("If-Match", `"1"`)
	resp, err := http.DefaultClient.Do(req)
	if err != nil || resp.StatusCode != http.StatusNoContent {
		t.Fatalf("deleting the demo: %v, %v", resp, err)
	}
	resp.Body.Close()
	r.end(exitOK)

	r = start(t, args...)
	if strings.Contains(r.get("/"), "48 heads") {
		t.Error("a deleted demo came back")
	}
	r.end(exitOK)
}

// tryRun runs the program to its end.
func tryRun(args ...string) (code int, stdout, stderr string) {
	var out, errs strings.Builder
	code = run(context.Background(), args, func(string) string { return "" }, strings.NewReader(""), &out, &errs)
	return code, out.String(), errs.String()
}

func TestRowB23_TheSecondServerNamesTheFirst(t *testing.T) {
	data := t.TempDir()
	r := start(t, "serve", "--addr", "127.0.0.1:0", "--data", data, "--no-open")
	code, _, said := tryRun("serve", "--addr", "127.0.0.1:0", "--data", data, "--no-open")
	if code != exitUsage || !strings.Contains(said, r.url) {
		t.Errorf("got %d, %q; want %d and %s", code, said, exitUsage, r.url)
	}
	r.end(exitOK)
}

func TestWhatCannotBeServedIsSaidInASentence(t *testing.T) {
	broken := t.TempDir()
	if err := os.WriteFile(filepath.Join(broken, "evenfall.db"), []byte("hello, this is no database"), 0o600); err != nil {
		t.Fatal(err)
	}
	data := t.TempDir()
	for _, c := range []struct {
		name string
		args []string
		code int
		has  string
	}{
		{"all interfaces", []string{"--addr", "0.0.0.0:8740", "--data", data}, exitFailed, "could be reached from other machines"},
		{"another machine", []string{"--addr", "192.168.1.7:80", "--data", data}, exitFailed, "could be reached from other machines"},
		{"no port", []string{"--addr", "127.0.0.1", "--data", data}, exitFailed, "is not an address"},
		{"a broken data file", []string{"--data", broken}, exitUnusable, "It was left untouched."},
		{"a folder in a file", []string{"--data", filepath.Join(broken, "evenfall.db", "x")}, exitFailed, "choose another with --data"},
		{"an unknown flag", []string{"--port", "1"}, exitUsage, "--addr"},
		{"an argument", []string{"serve", "here"}, exitUsage, `no argument "here"`},
		{"an unknown command", []string{"serv"}, exitUsage, `no command "serv"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, stdout, stderr := tryRun(append(c.args, "--no-open")...)
			if c.code == exitUsage {
				code, stdout, stderr = tryRun(c.args...)
			}
			if code != c.code || !strings.Contains(stderr, c.has) || stdout != "" {
				t.Errorf("got %d, %q, %q; want %d with %q", code, stdout, stderr, c.code, c.has)
			}
		})
	}
}

func TestHelpNamesEveryCommand(t *testing.T) {
	for _, args := range [][]string{{"help"}, {"-h"}, {"--help"}} {
		code, out, _ := tryRun(args...)
		for _, name := range []string{"serve", "backup", "restore", "report", "solve", "size", "export", "import-geojson", "version"} {
			if code != exitOK || !strings.Contains(out, "evenfall "+name) {
				t.Errorf("%v: got %d %q, want %s in it", args, code, out, name)
			}
		}
	}
	if code, out, _ := tryRun("serve", "-h"); code != exitOK || !strings.Contains(out, "--no-open") {
		t.Errorf("serve -h: got %d %q", code, out)
	}
	if code, out, _ := tryRun("version"); code != exitOK || !strings.HasPrefix(out, "evenfall ") {
		t.Errorf("version: got %d %q", code, out)
	}
}

func TestTheDataFolderIsWhereTheSystemKeepsData(t *testing.T) {
	home := func() (string, error) { return filepath.FromSlash("/home/ann"), nil }
	homeless := func() (string, error) { return "", fmt.Errorf("no home") }
	for _, c := range []struct {
		system string
		env    map[string]string
		home   func() (string, error)
		want   string
	}{
		{"linux", nil, home, "/home/ann/.local/share/evenfall"},
		{"linux", map[string]string{"XDG_DATA_HOME": "/data"}, home, "/data/evenfall"},
		{"linux", map[string]string{"XDG_DATA_HOME": "relative"}, home, "/home/ann/.local/share/evenfall"},
		{"linux", nil, homeless, ""},
		{"darwin", map[string]string{"XDG_DATA_HOME": "/data"}, home, "/home/ann/Library/Application Support/Evenfall"},
		{"windows", map[string]string{"LocalAppData": "/local"}, home, "/local/Evenfall"},
		{"windows", nil, home, ""},
	} {
		got, err := dataFolderOn(c.system, func(k string) string { return c.env[k] }, c.home)
		if got != filepath.FromSlash(c.want) || (err == nil) != (c.want != "") {
			t.Errorf("%s with %v: got %q, %v; want %q", c.system, c.env, got, err, c.want)
		}
	}
}

// TestRowB13_SignalsStopTheProgram stops the real program by each signal.
func TestRowB13_SignalsStopTheProgram(t *testing.T) {
	for _, sig := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		data := t.TempDir()
		cmd, out := program(t, data)
		if err := cmd.Process.Signal(sig); err != nil {
			t.Fatal(err)
		}
		rest, err := io.ReadAll(out)
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Wait(); err != nil || !strings.Contains(string(rest), "Everything shown as saved is on disk") {
			t.Errorf("%v: ended with %v and said %q", sig, err, rest)
		}
		for _, name := range []string{"evenfall.db-wal", "evenfall.address"} {
			if _, err := os.Stat(filepath.Join(data, name)); err == nil {
				t.Errorf("%v: left %s behind", sig, name)
			}
		}
	}
}

// program starts this test binary as the program and waits for its address.
func program(t *testing.T, data string) (*exec.Cmd, *bufio.Reader) {
	t.Helper()
	cmd, out, _ := programIn(t, data, os.Stderr)
	return cmd, out
}

// programIn starts this test binary as the program, by another program if one is
// named, and waits for the address it prints.
func programIn(t *testing.T, data string, stderr io.Writer, by ...string) (cmd *exec.Cmd, out *bufio.Reader, url string) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	words := append(by, self, "serve", "--addr", "127.0.0.1:0", "--data", data, "--no-open")
	cmd = exec.Command(words[0], words[1:]...)
	cmd.Env = append(os.Environ(), asProgram+"=1")
	cmd.Stderr = stderr
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill() }) // it has ended when all is well
	out = bufio.NewReader(pipe)
	for {
		line, err := out.ReadString('\n')
		if err != nil {
			t.Fatalf("it ended before it printed an address: %v", err)
		}
		if url := printedURL.FindString(line); url != "" {
			return cmd, out, url
		}
	}
}

// TestRowB13_ASecondSignalEndsItAtOnce holds a request open, so that stopping
// waits for it, and signals again.
func TestRowB13_ASecondSignalEndsItAtOnce(t *testing.T) {
	data := t.TempDir()
	cmd, _ := program(t, data)
	address, err := os.ReadFile(filepath.Join(data, "evenfall.address"))
	if err != nil {
		t.Fatal(err)
	}
	at := strings.TrimPrefix(strings.TrimSpace(string(address)), "http://")
	c, err := net.Dial("tcp", at)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if _, err := fmt.Fprintf(c, "POST /api/plans HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nContent-Length: 100\r\nExpect: 100-continue\r\n\r\n", at); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Read(make([]byte, 1)); err != nil { // it waits for the body now
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	for {
		if err := cmd.Process.Signal(syscall.SIGTERM); err != nil && !errors.Is(err, os.ErrProcessDone) {
			t.Fatal(err)
		}
		select {
		case err := <-ended:
			var how *exec.ExitError
			if !errors.As(err, &how) || how.ExitCode() != -1 {
				t.Errorf("got %v, want it ended by the signal", err)
			}
			return
		case <-time.After(20 * time.Millisecond): // and signal again
		}
	}
}
