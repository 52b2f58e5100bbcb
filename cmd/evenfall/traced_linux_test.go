package main

import (
	"bufio"
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
)

// traced runs the program under strace, which writes down the calls named, until
// use returns, and returns what it wrote from the first page on.
func traced(t *testing.T, calls, data string, use func(c *client)) string {
	t.Helper()
	strace, err := exec.LookPath("strace")
	if err != nil {
		if os.Getenv("EVENFALL_ALL") != "" {
			t.Fatal("strace is not installed, and every check was asked for")
		}
		t.Skip("strace is not installed; go run ./cmd/dev test brings it")
	}
	if out, err := exec.Command(strace, "-qq", "true").CombinedOutput(); err != nil && strings.Contains(string(out), "PTRACE") {
		t.Skipf("this machine lets no program be traced: %s", out)
	}
	log := filepath.Join(t.TempDir(), "calls")
	cmd, _, url := programIn(t, data, os.Stderr, strace, "-f", "-qq", "-s", "400", "-e", "trace="+calls, "-o", log)
	before, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	c := &client{url: url}
	use(c)
	c.http.CloseIdleConnections()
	// strace passes nothing on to what it runs: the program itself is signalled.
	for _, child := range children(t, cmd.Process.Pid) {
		if err := syscall.Kill(child, syscall.SIGTERM); err != nil {
			t.Fatal(err)
		}
	}
	if err := cmd.Wait(); err != nil {
		t.Fatalf("the traced program: %v", err)
	}
	after, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	return string(after[len(before):])
}

// children are the programs a program has started.
func children(t *testing.T, pid int) []int {
	t.Helper()
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", pid, pid))
	if err != nil {
		t.Fatal(err)
	}
	var all []int
	for _, word := range strings.Fields(string(b)) {
		var child int
		if _, err := fmt.Sscan(word, &child); err != nil {
			t.Fatal(err)
		}
		all = append(all, child)
	}
	return all
}

// ways are thirty ways to write a path that leads out of where it begins. FILE is
// the name of a file that is there to be got at.
var ways = []string{
	"../FILE", "../../FILE", "../../../../../../../../FILE", "..%2fFILE", "..%2FFILE", "%2e%2e/FILE", "%2e%2e%2fFILE", "%2E%2E%2FFILE",
	".%2e/FILE", "%2e./FILE", "..%5cFILE", "..\\FILE", "..%5C..%5CFILE", "%252e%252e%252fFILE", "..%252fFILE", "%c0%ae%c0%ae%c0%afFILE",
	"..%c0%afFILE", "..%ef%bc%8fFILE", "%uff0e%uff0e/FILE", "....//FILE", "..././FILE", "..;/FILE", "..%00/FILE", "FILE%00.css", "./../FILE",
	"x/../../FILE", "x/..%2f..%2fFILE", "/FILE", "%2fFILE", "file:///FILE",
}

// TestRowB10_NoTextOfAUserBecomesAPath asks every route that takes a name for a
// file beside the data file, and for the data file itself, in thirty ways. None is
// answered with anything of it, and the system is asked to open none of them.
func TestRowB10_NoTextOfAUserBecomesAPath(t *testing.T) {
	if len(ways) != 30 {
		t.Fatalf("there are %d ways, want 30", len(ways))
	}
	place := t.TempDir()
	data := filepath.Join(place, "data")
	const words = "the words in the secret file"
	for _, dir := range []string{place, data, filepath.Join(data, "backups")} {
		if err := os.MkdirAll(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "secret.txt"), []byte(words), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	asked := 0
	calls := traced(t, "open,openat,openat2,readlink,readlinkat", data, func(c *client) {
		id := c.make(t, "Yard")
		for _, prefix := range []string{"/static/", "/schema/", "/plans/", "/plans/" + id + "/files/", "/plans/" + id + "/", "/api/plans/", "/"} {
			for _, way := range ways {
				for _, file := range []string{"secret.txt", filepath.Join(place, "secret.txt")[1:], "backups/secret.txt"} {
					path := prefix + strings.ReplaceAll(way, "FILE", file)
					status, body := rawGet(t, c.url, path)
					if status != http.StatusNotFound && status != http.StatusBadRequest {
						t.Errorf("%s: got %d, want 404 or 400", path, status)
					}
					if strings.Contains(body, words) || strings.Contains(body, "root:") {
						t.Errorf("%s hands out the file", path)
					}
					asked++
				}
			}
		}
	})
	for _, line := range strings.Split(calls, "\n") {
		if strings.Contains(line, "secret.txt") {
			t.Errorf("the system was asked: %s", line)
		}
	}
	t.Logf("shown: %d paths asked for, none opened", asked)
}

// rawGet sends a path exactly as it is written, which http.Client would not.
func rawGet(t *testing.T, url, path string) (status int, body string) {
	t.Helper()
	host := strings.TrimPrefix(url, "http://")
	conn, err := net.Dial("tcp", host)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	if _, err := fmt.Fprintf(conn, "GET %s HTTP/1.1\r\nHost: %s\r\nConnection: close\r\n\r\n", path, host); err != nil {
		t.Fatal(err)
	}
	resp, err := http.ReadResponse(bufio.NewReader(conn), nil)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode, string(b)
}

// Addresses strace may show a call of connect to: within the program's own
// machine.
var ownMachine = regexp.MustCompile(`AF_UNIX|AF_UNSPEC|AF_NETLINK|inet_addr\("127\.0\.0\.1"\)|"::1"`)

// TestRowB31_NothingIsConnectedTo watches a running program answer pages, store
// steps, compute, hand out lists and back up: it opens no connection to anywhere,
// and sends no datagram.
func TestRowB31_NothingIsConnectedTo(t *testing.T) {
	data := filepath.Join(t.TempDir(), "data")
	calls := traced(t, "connect,sendto,sendmsg,socket", data, func(c *client) {
		id := c.make(t, "Yard")
		if rev, a := c.step(id, 1, note(1, "wet")); rev != 2 {
			t.Errorf("a step: %+v", a)
		}
		home := c.must(t, http.StatusOK, "GET", "/", "")
		demo := regexp.MustCompile(`/plans/(p\w+)"`).FindAllStringSubmatch(home, -1)
		if len(demo) < 2 {
			t.Fatalf("the list has %d plans", len(demo))
		}
		for _, p := range demo {
			for _, path := range []string{"/plans/" + p[1], "/api/plans/" + p[1], "/api/plans/" + p[1] + "/board", "/api/plans/" + p[1] + "/history",
				"/api/plans/" + p[1] + "/estimate", "/plans/" + p[1] + "/files/plan.json", "/help", "/api/catalog", "/schema/plan.json"} {
				c.must(t, http.StatusOK, "GET", path, "")
			}
		}
		if code, _, said := tryRun("backup", "--data", data); code != exitOK {
			t.Errorf("backup: %s", said)
		}
	})
	for _, line := range strings.Split(calls, "\n") {
		if strings.Contains(line, "connect(") && !ownMachine.MatchString(line) {
			t.Errorf("it connects: %s", line)
		}
		if strings.Contains(line, "SOCK_DGRAM") && strings.Contains(line, "AF_INET") {
			t.Errorf("it opens a socket for datagrams, as asking for a name does: %s", line)
		}
	}
	t.Logf("shown: %d calls looked at, 0 connections off this machine", strings.Count(calls, "\n"))
}

// TestRowB19_TheProgramOutlastsAFullDisk limits the size of the program's files
// while it serves, which is a full disk to it, and lifts the limit again. Steps
// are refused with the sentence, everything is read and handed out meanwhile, and
// saving goes on without a restart.
func TestRowB19_TheProgramOutlastsAFullDisk(t *testing.T) {
	data := filepath.Join(t.TempDir(), "data")
	cmd, out, url := programIn(t, data, os.Stderr)
	c := &client{url: url}
	id := c.make(t, "Yard")
	limitFiles(t, cmd.Process.Pid, 700<<10)
	rev, a := int64(1), reply{status: http.StatusOK}
	for a.status == http.StatusOK && rev < 2000 {
		rev, a = c.step(id, rev, note(rev, strings.Repeat("wet ", 480)))
	}
	for range 3 {
		if a.status != http.StatusInsufficientStorage || !strings.Contains(a.body, "The disk is full, so the change was not saved") {
			t.Fatalf("on a full disk: got %d %s", a.status, a.body)
		}
		_, a = c.step(id, rev, note(rev, "wet"))
		if a.status == http.StatusOK { // a small step may still find room
			rev++
			_, a = c.step(id, rev, note(rev, strings.Repeat("wet ", 480)))
		}
	}
	if got := c.rev(t, id); got != rev {
		t.Errorf("reading on a full disk: revision %d, want %d", got, rev)
	}
	for _, path := range []string{"/", "/help", "/plans/" + id, "/api/plans/" + id + "/board", "/api/plans/" + id + "/history",
		"/plans/" + id + "/files/plan.json", "/plans/" + id + "/files/parts.csv"} {
		c.must(t, http.StatusOK, "GET", path, "")
	}
	limitFiles(t, cmd.Process.Pid, 1<<40)
	for range 5 {
		next, a := c.step(id, rev, note(rev, strings.Repeat("dry ", 480)))
		if next != rev+1 {
			t.Fatalf("with room again: got %d %s", a.status, a.body)
		}
		rev = next
	}
	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if rest, err := io.ReadAll(out); err != nil || !strings.Contains(string(rest), "Everything shown as saved is on disk") {
		t.Errorf("it said %q, %v", rest, err)
	}
	if err := cmd.Wait(); err != nil {
		t.Errorf("it ended with %v", err)
	}
	t.Logf("shown: full after %d steps, all read; 5 more saved with room again, without a restart", rev-6)
}

// limitFiles sets how large the files of a running program may become.
func limitFiles(t *testing.T, pid int, most uint64) {
	t.Helper()
	var limit syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		t.Fatal(err)
	}
	limit.Cur = min(most, limit.Max)
	if err := prlimit(pid, &limit); err != nil {
		t.Skipf("this machine lets no limit be set: %v", err)
	}
}
