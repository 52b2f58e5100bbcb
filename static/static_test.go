package static

import "testing"

func TestEveryFileThePagesAskForIsEmbedded(t *testing.T) {
	for _, name := range []string{"board.js", "plans.js", "yard.js", "board.css", "icon.svg"} {
		b, err := Files.ReadFile(name)
		if err != nil || len(b) == 0 {
			t.Errorf("static file %s: got %d bytes, %v; want a built file (run: go run ./cmd/dev gen)", name, len(b), err)
		}
	}
}
