package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
)

// tools are the programs the checks need besides Go, and the Debian packages
// that hold them.
var tools = []struct {
	name     string
	packages []string
}{
	{"gcc", []string{"gcc", "libc6-dev"}},
	{"node", []string{"nodejs", "npm"}},
	{"npm", []string{"npm"}},
	{"strace", []string{"strace"}},
	{"pdftoppm", []string{"poppler-utils"}},
	{"ssconvert", []string{"gnumeric"}},
	{"ezdxf", []string{"python3-ezdxf"}},
	{"chromium", []string{"chromium", "fonts-liberation"}},
}

// install puts what is missing on the machine, or says how to.
func install(ctx context.Context, root string) error {
	var missing []string
	for _, t := range tools {
		if t.name == "chromium" && browserOnPath() || t.name == "strace" && runtime.GOOS != "linux" {
			continue
		}
		if _, err := exec.LookPath(t.name); err != nil {
			missing = append(missing, t.packages...)
		}
	}
	if len(missing) > 0 {
		if err := systemInstall(ctx, root, missing); err != nil {
			return err
		}
	}
	return npmInstall(ctx, root)
}

func browserOnPath() bool {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if _, err := exec.LookPath(name); err == nil {
			return true
		}
	}
	return false
}

// systemInstall asks the system's package manager, as root or by a sudo that
// needs no password; elsewhere it names the packages.
func systemInstall(ctx context.Context, root string, packages []string) error {
	apt, err := exec.LookPath("apt-get")
	if err != nil {
		return fmt.Errorf("missing on this machine (%s): install %v, then run again", runtime.GOOS, packages)
	}
	prefix := []string{}
	if os.Geteuid() != 0 {
		if err := exec.CommandContext(ctx, "sudo", "-n", "true").Run(); err != nil {
			return fmt.Errorf("missing programs: run 'sudo apt-get install %v', then run again", packages)
		}
		prefix = []string{"sudo", "-n"}
	}
	for _, args := range [][]string{
		{apt, "update", "-qq"},
		append([]string{apt, "install", "-y", "-qq", "--no-install-recommends"}, packages...),
	} {
		full := append(append([]string{}, prefix...), args...)
		c := command(ctx, root, full[0], full[1:]...)
		c.Env = append(os.Environ(), "DEBIAN_FRONTEND=noninteractive")
		if err := c.Run(); err != nil {
			return fmt.Errorf("%v: %w", args, err)
		}
	}
	return nil
}

// npmInstall brings the pinned packages when the lock file is newer than what
// is installed.
func npmInstall(ctx context.Context, root string) error {
	web := filepath.Join(root, "web")
	lock, err := os.Stat(filepath.Join(web, "package-lock.json"))
	if err != nil {
		return fmt.Errorf("npm: %w", err)
	}
	have, err := os.Stat(filepath.Join(web, "node_modules", ".package-lock.json"))
	if err == nil && !have.ModTime().Before(lock.ModTime()) {
		return nil
	}
	if err := command(ctx, web, "npm", "ci", "--no-audit", "--no-fund").Run(); err != nil {
		return fmt.Errorf("npm ci: %w", err)
	}
	return nil
}
