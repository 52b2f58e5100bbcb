package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"github.com/evanw/esbuild/pkg/api"
)

// bundles are the browser's entry points and what each becomes.
var bundles = []struct{ from, to string }{
	{"web/editor/main.ts", "static/board.js"},
	{"web/editor/plans.ts", "static/plans.js"},
	{"web/editor/yard/main.ts", "static/yard.js"},
	{"web/editor/style.css", "static/board.css"},
}

// generate makes every generated file of the project. Running it twice changes
// nothing, so a conflict in static/ is settled by running it again.
func generate(ctx context.Context, root string) error {
	if err := command(ctx, root, "go", "tool", "templ", "generate", "-path", "web").Run(); err != nil {
		return fmt.Errorf("templ: %w", err)
	}
	for _, b := range bundles {
		if err := bundle(filepath.Join(root, b.from), filepath.Join(root, b.to), api.FormatIIFE); err != nil {
			return err
		}
	}
	return nil
}

// bundle joins one entry point and everything it imports into one file.
func bundle(from, to string, format api.Format) error {
	result := api.Build(api.BuildOptions{
		EntryPoints: []string{from},
		Outfile:     to,
		Bundle:      true,
		Format:      format,
		Target:      api.ES2022,
		Charset:     api.CharsetUTF8,

		// Names are kept, so that a trace from a user can be read.
		MinifyWhitespace: true,
		MinifySyntax:     true,
		Loader:           map[string]api.Loader{".css": api.LoaderCSS},
		LogLevel:         api.LogLevelSilent,
	})
	if len(result.Errors) > 0 {
		m, where := result.Errors[0], from
		if m.Location != nil {
			where = fmt.Sprintf("%s:%d:%d", m.Location.File, m.Location.Line, m.Location.Column)
		}
		return fmt.Errorf("bundle: %s: %s", where, m.Text)
	}
	for _, f := range result.OutputFiles {
		if err := os.WriteFile(f.Path, f.Contents, 0o644); err != nil {
			return fmt.Errorf("bundle: %w", err)
		}
	}
	return nil
}
