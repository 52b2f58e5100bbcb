package main

import (
	"context"
	"fmt"
	"os"
	"strings"
)

// bench measures the kernels in one run, so that ratios are fair on a noisy
// machine, and says how loaded the machine was.
func bench(ctx context.Context, root string, args []string) error {
	pattern := "."
	if len(args) > 0 {
		pattern = args[0]
	}
	if load, err := os.ReadFile("/proc/loadavg"); err == nil {
		fmt.Printf("load average: %s", load)
	}
	err := command(ctx, root, "go", "test", "-run", "^$", "-bench", pattern, "-benchmem", "-cpu", "1", "./internal/...").Run()
	if err != nil {
		return err
	}
	if strings.Contains(pattern, "Board") || pattern == "." {
		c := command(ctx, root, "go", "test", "-tags", "browser", "-count=1", "-v", "-run", "^TestDragFrames$", "./web/walk")
		return c.Run()
	}
	return nil
}
