package store

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
)

// conflictCopy matches the names that programs which keep folders the same on
// several machines give to the loser of two changes.
var conflictCopy = regexp.MustCompile(`(?i)^evenfall.*conflict`)

// risks says what about a data folder's place may cost the user plans.
func risks(dir string) []string {
	var all []string
	if kind := diskKind(dir); kind != "" {
		all = append(all, fmt.Sprintf("The data folder %s is on %s. Such places do not always put on the disk what they say they have, or keep two machines apart. Keep the plans in a folder of this machine's own disk (--data), and put backups on the other.", dir, kind))
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return all // takeFolder has read it a moment ago; what is unreadable now shows soon
	}
	for _, e := range entries {
		if conflictCopy.MatchString(e.Name()) {
			all = append(all, fmt.Sprintf("There is a file %s. A program that keeps folders the same on several machines makes such copies, and does not know a data file in use from any other. Take the data folder out of what it keeps (--data), and let it have the backups instead.", filepath.Join(dir, e.Name())))
			break
		}
	}
	return all
}
