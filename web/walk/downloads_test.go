//go:build browser

package walk

import (
	"context"
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	protocol "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
)

// downloads has the tab's browser context save what it downloads in a folder,
// as a browser of a user would.
func (p *tab) downloads() string {
	p.t.Helper()
	dir := p.t.TempDir()
	params := protocol.SetDownloadBehaviorParams{
		Behavior: protocol.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir,
		BrowserContextID: chromedp.FromContext(p.ctx).BrowserContextID,
	}
	if _, err := chromedp.CallBrowser(p.ctx, protocol.SetDownloadBehavior, params); err != nil {
		p.t.Fatal(err)
	}
	return dir
}

// downloaded waits for a finished file with that ending and reads it from disk.
func (p *tab) downloaded(dir, ending string) []byte {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	for ctx.Err() == nil {
		all, err := os.ReadDir(dir)
		if err != nil {
			p.t.Fatal(err)
		}
		for _, f := range all {
			if !strings.HasSuffix(f.Name(), ending) {
				continue // a file on its way has a name of the browser's own
			}
			raw, err := os.ReadFile(filepath.Join(dir, f.Name()))
			if err != nil {
				p.t.Fatal(err)
			}
			if len(raw) > 0 {
				p.t.Logf("downloaded %s, %d bytes", f.Name(), len(raw))
				return raw
			}
		}
		time.Sleep(15 * time.Millisecond)
	}
	p.t.Fatalf("no file …%s was downloaded", ending)
	return nil
}

// fetch reads a file of the running program as the page would.
func (p *tab) fetch(path string) string {
	p.t.Helper()
	return string(p.fetchBytes(path))
}

func (p *tab) fetchBytes(path string) []byte {
	p.t.Helper()
	packed := eval[string](p, fmt.Sprintf(`fetch(%q).then(async (r) => {
		if (!r.ok) throw new Error(r.status + " " + %q);
		const read = new FileReader(), blob = await r.blob();
		return new Promise((done) => { read.onload = () => done(read.result.split(",")[1] ?? ""); read.readAsDataURL(blob); });
	})`, path, path))
	raw, err := base64.StdEncoding.DecodeString(packed)
	if err != nil {
		p.t.Fatal(err)
	}
	return raw
}
