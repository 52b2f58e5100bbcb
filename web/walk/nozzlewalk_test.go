//go:build browser

package walk

import (
	"fmt"
	"math"
	"testing"

	"evenfall/internal/plan"
)

// On the walk from head to head one is ticked, one changed and one noted: what is changed
// becomes steps of the plan, each by its name and undone by itself, and the water, the map
// and the setting list follow.
func TestNozzleWalk_ChangesAreStepsOfThePlan(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 768, 1024)
	p.coarse()
	path := openYard(t, p, prog, "#heads")
	order := eval[[]plan.ID](p, `evenfall.yard.view.heads.map((h) => h.id)`)

	// Ticked: the page is at the next head.
	p.until(fmt.Sprintf(`evenfall.yard.place.item === %q`, order[0]))
	p.thumb(".yard-bar", "Set as drawn")
	p.until(fmt.Sprintf(`evenfall.yard.place.item === %q`, order[1]))
	p.inYard()
	if s := p.storedPlan(path).Heads[order[0]].State; s == nil || s.SetOn != eval[string](p, `evenfall.yard.today`) {
		t.Errorf("the head that was set is %+v", s)
	}

	// Changed: a head of the front lawn with an arc that can be turned.
	const changed = plan.ID("h1-5")
	p.yardAt("#heads/" + string(changed))
	before := p.storedPlan(path)
	was := before.Heads[changed]
	flow := func() float64 {
		t.Helper()
		return eval[float64](p, `parseFloat(evenfall.yard.view.start.zones.find((z) => z.id === "z1").flow)`)
	}
	gpm := flow()
	facts := p.yardText()
	p.thumb("#yard-screen", "It is otherwise")
	p.until(fmt.Sprintf(`evenfall.yard.place.item === %q`, string(changed)+"/change"))
	p.thumbType("#yard-screen", "Arc", "150")
	p.enter()
	p.inYard()
	p.thumb("#yard-screen", "↺ 45°")
	p.inYard()
	p.thumbType("#yard-screen", "Throw", "22")
	p.enter()
	p.inYard()
	doc := p.storedPlan(path)
	now := doc.Heads[changed]
	if now.SweepDeg != 150 || now.ThrowFt == nil || math.Abs(float64(*now.ThrowFt)-22) > 1e-6 || math.Abs(math.Mod(float64(now.StartDeg-was.StartDeg)+360, 360)-45) > 1e-6 {
		t.Errorf("the head is %+v, and it was %+v", now, was)
	}
	for id, h := range doc.Heads {
		if old := before.Heads[id]; id != changed && (h.SweepDeg != old.SweepDeg || h.StartDeg != old.StartDeg || h.Nozzle != old.Nozzle) {
			t.Errorf("head %s is another, too", id)
		}
	}
	if got := flow(); got >= gpm {
		t.Errorf("with an arc made smaller zone 1 is predicted to run %.2f gpm, before %.2f", got, gpm)
	}
	p.thumb(".yard-bar", "Back to the head")
	p.inYard()
	if got := p.yardText(); got == facts {
		t.Errorf("the walk says of the head what it said before:\n%s", got)
	}

	// Each is one step, and taken back by itself.
	p.thumb("#yard", "Undo")
	p.inYard()
	if h := p.storedPlan(path).Heads[changed]; h.SweepDeg != 150 || (h.ThrowFt == nil) != (was.ThrowFt == nil) || h.ThrowFt != nil && *h.ThrowFt != *was.ThrowFt {
		t.Errorf("one step back the head is %+v", h)
	}

	// Noted, and left as it is.
	p.thumb("#yard-screen .yard-faults", "Sunk")
	p.inYard()
	p.thumbType("#yard-screen", "Note", "two fingers under the grass")
	p.thumb(".yard-bar", "Next") // straight on, with the note still under the cursor
	p.until(fmt.Sprintf(`evenfall.yard.place.item !== %q`, string(changed)))
	p.inYard()
	if s := p.storedPlan(path).Heads[changed].State; s == nil || len(s.Faults) != 1 || s.Faults[0] != plan.Sunk || s.Note != "two fingers under the grass" || s.SeenOn == "" || s.SetOn != "" {
		t.Errorf("the head that was noted is %+v", s)
	}
}
