//go:build browser

package walk

import (
	"fmt"
	"testing"
)

// Said on the Supply page that a pump stands after the breaker, the page draws it in
// the way of the water and says that the breaker does not stop it; a reduced-pressure
// device takes the words away.
func TestRow24_ABreakerBeforeAPumpIsSaidToBeTheWrongKind(t *testing.T) {
	for _, scheme := range []string{"light", "dark"} {
		t.Run(scheme, func(t *testing.T) {
			prog := startProgram(t, t.TempDir())
			p := open(t, 1280, 900)
			p.media(scheme)
			openDemo(t, p, prog)
			eval[bool](p, `evenfall.drawing.commands.run("plan.supply", () => {}) ?? true`)
			p.chooseSupply("Backflow device", "backflow-pvb-1")
			p.settled()
			p.chooseSupply("After it, water is pushed back by", "pump")
			p.settled()
			eval[bool](p, fmt.Sprintf(`(%s.click(), true)`, supplyField("Fertilizer or other chemicals are put into the water")))
			p.supplyPlan(`s.push_back === "pump" && s.injection === true`)
			p.settled()
			p.until(`["Booster pump", "Injector of fertilizer or chemicals"].every((name) => [...document.querySelectorAll(".backflow > div .chain li")].some((l) => l.textContent === name))`)
			unfit := `[...document.querySelectorAll(".backflow .height-says")].some((e) => e.checkVisibility() && e.textContent.includes("can push it back"))`
			p.until(unfit)
			eval[bool](p, fmt.Sprintf(`(%s.scrollIntoView({ block: "start" }), true)`, supplyField("Backflow device")))
			p.frame()
			p.axeOf("#supply")
			p.shot("unfit-" + scheme)
			p.chooseSupply("Backflow device", "backflow-rp-1")
			p.settled()
			p.until(`!` + unfit)
		})
	}
}
