//go:build browser

package walk

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/input"
)

// A second tab on the same plan shows what the first one does.
func TestASecondTabFollows(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	q := p.another(1280, 800)
	q.visit(prog.url + path)
	q.onBoard()
	p.drag(56, 24, 50, 24, 0)
	p.settled()
	q.until(`evenfall.state.plan.heads["h2-8"].x_ft === 50`)
	q.settled()
	q.drag(50, 24, 45, 25, 0) // on the grid of 5 ft, whatever room the notices leave the board
	q.settled()
	p.until(`evenfall.state.plan.heads["h2-8"].x_ft === 45`)
	p.settled()
	if a, b := eval[int](p, "evenfall.state.rev"), eval[int](q, "evenfall.state.rev"); a != b {
		t.Errorf("the tabs show the revisions %d and %d", a, b)
	}
}

// Two tabs change the plan at the same time: the later is asked, and both
// changes are kept, one in the plan and one in its copy.
func TestTwoTabsAtTheSameTimeLoseNothing(t *testing.T) {
	for _, answer := range []string{"mine", "theirs"} {
		t.Run(answer, func(t *testing.T) { twoTabs(t, answer) })
	}
}

func twoTabs(t *testing.T, answer string) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	q := p.another(1280, 800)
	q.visit(prog.url + path)
	q.onBoard()

	// The second tab has a head in hand while the first stores another's move.
	q.mouse(input.DispatchMouseEventTypeMouseMoved, 56, 24, 0)
	q.mouse(input.DispatchMouseEventTypeMousePressed, 56, 24, 0)
	q.mouse(input.DispatchMouseEventTypeMouseMoved, 52, 24, held)
	q.mouse(input.DispatchMouseEventTypeMouseMoved, 50, 24, held)
	q.until(`evenfall.board.drafting && evenfall.state.plan.heads["h2-8"].x_ft === 50`)
	p.until("evenfall.board.saved.state === 'yes'")
	p.moveHead("h2-1", 3)
	p.settled()
	theirs := p.headAt("h2-1")
	q.excuse(toldStale)
	q.mouse(input.DispatchMouseEventTypeMouseReleased, 50, 24, 0)

	q.until(`document.querySelector("dialog[open][role=alertdialog]")`)
	q.axe("dialog of a conflict")
	q.shot("conflict")
	if q.headAt("h2-8") == p.headAt("h2-8") {
		t.Error("behind the dialog the tab no longer shows its own change")
	}
	mine := q.headAt("h2-8")
	q.click(fmt.Sprintf(`dialog[open] button[value=%q]`, answer))
	if answer == "mine" {
		q.until(fmt.Sprintf(`location.pathname !== %q && window.evenfall && document.documentElement`, path))
		q.settled()
		if got := q.headAt("h2-8"); got != mine {
			t.Errorf("the copy has head 2-8 at %s, want %s", got, mine)
		}
	} else {
		q.until("!document.querySelector('dialog[open]')")
		q.settled()
		if got := q.headAt("h2-1"); got != theirs {
			t.Errorf("after taking theirs head 2-1 is at %s, want %s", got, theirs)
		}
	}
	p.settled()
	stored := eval[string](p, fmt.Sprintf(`fetch("/api%s").then((r) => r.json()).then((s) => JSON.stringify([s.doc.heads["h2-1"].x_ft, s.doc.heads["h2-1"].y_ft]))`, path))
	if stored != theirs {
		t.Errorf("the plan has head 2-1 at %s, want %s", stored, theirs)
	}
}

func (p *tab) headAt(id string) string {
	p.t.Helper()
	return eval[string](p, fmt.Sprintf(`(({ x_ft, y_ft }) => JSON.stringify([x_ft, y_ft]))(evenfall.state.plan.heads[%q])`, id))
}

// moveHead drags a head some feet east.
func (p *tab) moveHead(id string, east float64) {
	p.t.Helper()
	at := eval[[]float64](p, fmt.Sprintf(`(({ x_ft, y_ft }) => [x_ft, y_ft])(evenfall.state.plan.heads[%q])`, id))
	p.drag(at[0], at[1], at[0]+east, at[1], altKey)
}
