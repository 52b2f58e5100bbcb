//go:build unix

package store

import (
	"fmt"
	"os"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// whoMayWrite says whose a file is, or the nearest folder above it that exists,
// and what to do to be let write to it.
func whoMayWrite(path string) string {
	asked := path
	info, err := os.Stat(path)
	for err != nil && path != filepath.Dir(path) {
		path = filepath.Dir(path)
		info, err = os.Stat(path)
	}
	if err != nil {
		return ". Choose another folder with --data"
	}
	owner, me := int(info.Sys().(*syscall.Stat_t).Uid), os.Geteuid()
	it := "it"
	if path != asked {
		it = "the folder above it, " + path + ","
	}
	said := fmt.Sprintf(": %s belongs to %s, with rights %v, and Evenfall runs as %s. ", it, userName(owner), info.Mode(), userName(me))
	if owner == me {
		return said + "Give yourself the right with: " + command("chmod", "u+rw"+searchable(info), path)
	}
	return said + fmt.Sprintf("Start Evenfall as its owner, or have it given to you with: %s. Or choose another folder with --data", command("chown", strconv.Itoa(me), path))
}

func searchable(info os.FileInfo) string {
	if info.IsDir() {
		return "x"
	}
	return ""
}

// userName names a user of this machine.
func userName(id int) string {
	u, err := user.LookupId(strconv.Itoa(id))
	if err != nil {
		return fmt.Sprintf("user %d", id)
	}
	return fmt.Sprintf("%s (user %d)", u.Username, id)
}
