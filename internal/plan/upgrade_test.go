package plan

import (
	"bytes"
	"errors"
	"testing"
)

func TestFormats(t *testing.T) {
	for _, test := range []struct {
		format  string
		version int // 0 when it is refused as no format of ours
	}{
		{"evenfall-plan/1", 1},
		{"evenfall-plan/2", 2},
		{"evenfall-plan/12", 12},
		{"evenfall-plan/", 0},
		{"evenfall-plan", 0},
		{"evenfall-plan/-1", 0},
		{"evenfall-plan/+1", 0},
		{"evenfall-plan/1.0", 0},
		{"evenfall-plan/ 1", 0},
		{"evenfall-plan/99999999999999999999", 0},
		{"Evenfall-plan/1", 0},
		{"", 0},
	} {
		got, ok := versionOf(test.format)
		if got != test.version || ok != (test.version > 0) {
			t.Errorf("versionOf(%q) = %d, %v, want %d", test.format, got, ok, test.version)
		}
	}
	if v, ok := versionOf(Format); !ok || v != formatVersion {
		t.Errorf("Format is %q, version %d", Format, formatVersion)
	}
	if len(upgrades) != formatVersion-1 {
		t.Errorf("%d upgrades to version %d", len(upgrades), formatVersion)
	}
}

func TestUpgradesRunOneAfterTheOther(t *testing.T) {
	mark := func(m string) func([]byte) ([]byte, error) {
		return func(doc []byte) ([]byte, error) { return append(bytes.Clone(doc), m...), nil }
	}
	steps := []func([]byte) ([]byte, error){mark("2"), mark("3"), mark("4")}
	for _, test := range []struct{ format, want string }{
		{"evenfall-plan/1", "doc234"},
		{"evenfall-plan/3", "doc4"},
		{"evenfall-plan/4", "doc"},
	} {
		got, err := upgrade([]byte("doc"), test.format, 4, steps)
		if err != nil || string(got) != test.want {
			t.Errorf("upgrade from %s = %q, %v, want %q", test.format, got, err, test.want)
		}
	}
	_, err := upgrade([]byte("doc"), "evenfall-plan/5", 4, steps)
	checkProblem(t, err, "/format", []string{"newer Evenfall", "evenfall-plan/5", "evenfall-plan/4"})

	stuck := errors.New("stuck")
	steps[1] = func([]byte) ([]byte, error) { return nil, stuck }
	if _, err := upgrade([]byte("doc"), "evenfall-plan/1", 4, steps); err != stuck {
		t.Errorf("a failing step: %v", err)
	}
}

func TestFormatMayStandAnywhere(t *testing.T) {
	if _, err := Decode([]byte(`{"name":"x","trees":{},"format":"evenfall-plan/1"}`)); err != nil {
		t.Error(err)
	}
	// A newer plan is told as newer, whatever else it has that is not known here.
	_, err := Decode([]byte(`{"pumps":{"p":[1]},"heads":[],"format":"evenfall-plan/7"}`))
	checkProblem(t, err, "/format", []string{"newer Evenfall", "evenfall-plan/7"})
}
