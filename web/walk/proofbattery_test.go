//go:build browser

package walk

import (
	"context"
	"fmt"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"syscall"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// typedInBrowser is what is half typed as the browser's own database has it on the disk:
// it answers once everything that was written before it is.
const typedInBrowser = `new Promise((ok, no) => {
	const o = indexedDB.open("evenfall-yard");
	o.onerror = () => no(o.error);
	o.onsuccess = () => {
		const g = o.result.transaction("typed").objectStore("typed").getAll();
		g.onsuccess = () => { o.result.close(); ok(JSON.stringify(g.result.map((t) => t.text))); };
	};
})`

// device is a tablet with a battery: a Chromium with a memory of its own that can be ended
// as a battery ends it, all of it in the same moment.
type device struct {
	*tab
	pid int
}

func startDevice(t *testing.T, profile string) *device {
	t.Helper()
	ctx, stop, err := chromiumOn(profile, chromedp.ModifyCmdFunc(func(cmd *exec.Cmd) {
		// A group of its own, so that none of its processes outlives the others.
		cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
	}))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(stop)
	d := &device{tab: &tab{t: t, ctx: ctx, patience: stepLimit, heard: make(chan string, 8)}}
	d.pid = chromedp.FromContext(ctx).Browser.Process().Pid
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(768, 1024)); err != nil {
		t.Fatal(err)
	}
	d.coarse()
	d.media("light")
	return d
}

// die ends the device, and waits until nothing of it is left.
func (d *device) die() {
	d.t.Helper()
	if err := syscall.Kill(-d.pid, syscall.SIGKILL); err != nil {
		d.t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(d.ctx, stepLimit)
	defer cancel()
	if err := chromedp.WaitClosed(ctx); err != nil && d.ctx.Err() == nil {
		d.t.Fatal(err)
	}
}

// kill ends the program in the middle of whatever it does.
func (p *program) kill() {
	p.cmd.Process.Kill()
	<-p.gone
}

// Program and browser are ended in the middle of the walk, each by a kill that lets
// neither finish anything. Whatever was entered is there when both are back, stored or
// not, and what was half typed stands in its field and is said to be back.
func TestADeadBatteryLosesNothing(t *testing.T) {
	data, profile := t.TempDir(), filepath.Join(t.TempDir(), "tablet")
	prog := startProgram(t, data)
	one := startDevice(t, profile)
	path := openYard(t, one.tab, prog, "#start")
	one.thumbType("#yard-screen", "Who did it", "M. Rivera")
	one.thumb(".yard-bar", "Done")
	one.inYard()
	one.yardAt("#start/zone/z2")
	one.thumbType("#yard-screen", "At rest", "61")
	one.enter()
	one.inYard() // stored
	rev := eval[int](one.tab, `evenfall.board.rev`)
	prog.kill()

	one.write("38")
	one.enter()
	one.thumb("#yard-screen", "The valve")
	one.thumb("#yard .yard-tabs", "Wires")
	one.thumb("#yard-screen .yard-choices", "Red")
	one.thumb("#yard-screen .yard-choices", "White")
	one.until(`evenfall.board.saved.state === "no" && !evenfall.board.saved.keeping`)
	one.thumb("#yard .yard-tabs", "Start up")
	eval[bool](one.tab, `(location.hash = "#start/zone/z2", true)`)
	one.until(`evenfall.yard.place.item === "zone/z2"`)
	one.thumbType("#yard-screen", "Flow, as read", "9.")
	if got := eval[string](one.tab, typedInBrowser); got != `["9."]` {
		t.Fatalf("the browser keeps %s", got)
	}
	mine := anyJSON(t, eval[string](one.tab, `JSON.stringify(evenfall.board.committed)`))
	one.die()

	again := startProgramAt(t, data, strings.TrimPrefix(prog.url, "http://"))
	two := startDevice(t, profile)
	two.visit(again.url + path + "/yard")
	two.until(`window.evenfall?.yard?.view`)
	two.until(fmt.Sprintf(`evenfall.board.rev >= %d`, rev+4))
	two.inYard()
	for what, js := range map[string]string{
		"the page":    `JSON.stringify(evenfall.board.committed)`,
		"the program": `fetch("/api` + path + `").then((r) => r.json()).then((s) => JSON.stringify(s.doc))`,
	} {
		if got := anyJSON(t, eval[string](two.tab, js)); !reflect.DeepEqual(got, mine) {
			t.Errorf("the plan of %s is not the one the dead tablet showed", what)
		}
	}
	if got := eval[string](two.tab, `document.querySelector("#notice").innerText`); !strings.Contains(got, "4 changes from last time had not been stored. They are back.") {
		t.Errorf("of what was not stored the page says %q; the steps are %s", got, eval[string](two.tab, `fetch("/api`+path+`/history").then((r) => r.json()).then((h) => h.steps.map((s) => s.label).join(", "))`))
	}
	if got := eval[string](two.tab, `document.querySelector("#yard-back").innerText`); !strings.Contains(got, "flow of Zone 2") || !strings.Contains(got, "“9.”") {
		t.Errorf("of what was half typed the page says %q", got)
	}
	two.axe("a page that is back")
	two.shot("yard-back")
	two.thumb("#yard-back", "Take me there")
	two.until(`evenfall.yard.place.item === "zone/z2"`)
	two.inYard()
	two.thumbOn(labelled("#yard-screen", "Flow, as read"))
	two.press(kb.End)
	if got := eval[string](two.tab, `document.activeElement.value`); got != "9." {
		t.Errorf("the field has %q in it", got)
	}
	two.write("4")
	two.enter()
	two.inYard()
	run := `Object.values(evenfall.board.committed.zones.z2.runs)[0]`
	if got := eval[string](two.tab, `JSON.stringify([`+run+`.static_psi, `+run+`.running_psi, `+run+`.psi_at, `+run+`.flow_gpm])`); got != `[61,38,"valve",9.4]` {
		t.Errorf("the run of zone 2 is %s", got)
	}
}
