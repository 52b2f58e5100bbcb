package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
)

const goos = runtime.GOOS

// dataFolder returns the data folder asked for, or the usual one.
func dataFolder(env func(string) string, asked string) (string, error) {
	if asked != "" {
		return asked, nil
	}
	dir, err := dataFolderOn(goos, env, os.UserHomeDir)
	if err != nil {
		return "", fmt.Errorf("this system has no place for data (%v). choose a folder with --data", err)
	}
	return dir, nil
}

// dataFolderOn finds the data folder of a system: what the XDG Base Directory
// Specification says, and the usual places on macOS and Windows.
func dataFolderOn(system string, env func(string) string, home func() (string, error)) (string, error) {
	name := "evenfall"
	if system == "windows" || system == "darwin" {
		name = "Evenfall"
	}
	if system == "windows" {
		if local := env("LocalAppData"); local != "" {
			return filepath.Join(local, name), nil
		}
		return "", fmt.Errorf("LocalAppData is not set")
	}
	// A relative XDG_DATA_HOME is to be passed over, by the specification.
	if xdg := env("XDG_DATA_HOME"); system != "darwin" && filepath.IsAbs(xdg) {
		return filepath.Join(xdg, name), nil
	}
	at, err := home()
	if err != nil {
		return "", err
	}
	if system == "darwin" {
		return filepath.Join(at, "Library", "Application Support", name), nil
	}
	return filepath.Join(at, ".local", "share", name), nil
}

// openers are the commands that open an address in the user's browser.
var openers = map[string][]string{
	"darwin":  {"open"},
	"windows": {"rundll32", "url.dll,FileProtocolHandler"},
}

// openBrowser opens an address of ours in the browser. It does not wait for it.
func openBrowser(ctx context.Context, url string) error {
	words, ok := openers[goos]
	if !ok {
		words = []string{"xdg-open"}
	}
	cmd := exec.CommandContext(context.WithoutCancel(ctx), words[0], append(words[1:], url)...)
	if err := cmd.Start(); err != nil {
		return err
	}
	go cmd.Wait() // the browser's own end is no news
	return nil
}
