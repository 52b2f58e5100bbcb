//go:build browser

package walk

import "testing"

func TestLook(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	p.shot("plans-1280")
	t.Log(eval[string](p, `document.body.innerText`))
	href := eval[string](p, `document.querySelector('a[href^="/plans/"]').href`)
	p.visit(href)
	p.settled()
	p.shot("demo-1280")
	p.quiet()
}
