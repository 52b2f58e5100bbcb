//go:build browser

package walk

import (
	"fmt"
	"testing"
)

func TestZZLook(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, w := range []int64{1280, 1024} {
		p := open(t, w, 800)
		openDemo(t, p, prog)
		p.shot(fmt.Sprintf("look-%d", w))
		eval[bool](p, `(document.querySelector("#drawer [role=tab]") && [...document.querySelectorAll("#drawer [role=tab]")].find(b => /Zones/.test(b.textContent)).click(), true)`)
		p.frame()
		p.shot(fmt.Sprintf("look-%d-zones", w))
		eval[bool](p, `(document.querySelector("#readings details.more").open = true, true)`)
		p.until(`/Scheduling/.test(document.querySelector("#readings").textContent) && /by size/.test(document.querySelector("#readings").textContent)`)
		p.frame()
		p.shot(fmt.Sprintf("look-%d-more", w))
		t.Log(eval[string](p, `document.documentElement.scrollHeight + " " + innerHeight + " " + getComputedStyle(document.body).overflow + " " + getComputedStyle(document.documentElement).overflow + JSON.stringify([...document.querySelectorAll("body *")].filter(e => { const r = e.getBoundingClientRect(); return r.bottom > innerHeight && (!e.offsetParent || e.offsetParent === document.body); }).map(e => e.tagName + "#" + e.id + "." + (e.className.baseVal ?? e.className) + " " + Math.round(e.getBoundingClientRect().bottom) + " " + getComputedStyle(e).position).slice(0, 30))`))
		eval[bool](p, `(document.querySelector("#readings .estimate table").scrollIntoView(), true)`)
		p.frame()
		p.shot(fmt.Sprintf("look-%d-more2", w))
		t.Log(eval[string](p, `JSON.stringify([...document.querySelectorAll("#readings *, #legend *, #zones *")].filter(e => e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflowX !== "visible" && !e.classList.contains("unseen")).map(e => e.tagName + "." + e.className + " " + e.scrollWidth + ">" + e.clientWidth + " " + e.textContent.slice(0,60)))`))
	}
}

func TestZZEmpty(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	id := p.create(map[string]any{"format": "evenfall-plan/1", "name": "Bare", "show": "us"})
	p.visit(prog.url + "/plans/" + id)
	p.until("window.evenfall")
	p.shot("empty")
	eval[bool](p, `(() => { const dt = new DataTransfer(); dt.items.add(new File([JSON.stringify({type:"FeatureCollection",features:[{type:"Feature",properties:{name:"House"},geometry:{type:"Polygon",coordinates:[[[-105,40],[-104.9998,40],[-104.9998,40.0002],[-105,40.0002],[-105,40]]]}}]})], "lot.geojson")); const f = document.querySelector("#empty-file"); f.files = dt.files; f.dispatchEvent(new Event("change")); return true; })()`)
	p.until(`document.querySelector("#outlines-title")`)
	p.shot("empty-outlines")
	t.Log(eval[string](p, `document.querySelector("dialog[open]").textContent`))
	eval[bool](p, `(() => { document.querySelector("dialog select").value = "building"; document.querySelector("dialog button[value=make]").click(); return true; })()`)
	p.until(`Object.keys(evenfall.state.plan.areas || {}).length === 1`)
	p.settled()
	p.shot("empty-after")
	q := p.another(1280, 800)
	q.visit(prog.url + "/plans/" + id)
	q.until("window.evenfall")
	q.until(`/open in another tab/.test(document.querySelector("#notice").textContent)`)
	p.until(`/open in another tab/.test(document.querySelector("#notice").textContent)`)
	q.shot("two-tabs")
	id2 := p.create(map[string]any{"format": "evenfall-plan/1", "name": "Bare 2", "show": "us"})
	p.visit(prog.url + "/plans/" + id2)
	p.until("window.evenfall")
	p.click("#empty-demo")
	p.until(`document.body && document.body.dataset.demo !== undefined && window.evenfall`)
	t.Log(eval[string](p, "location.href"))
}
