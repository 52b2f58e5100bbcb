package main

import (
	"encoding/json"
	"os"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/jsonschema-go/jsonschema"
)

// freshSchema holds the schema that a command prints to the types it prints, and to the
// words after them, so that it cannot say anything else than they do.
func freshSchema[T any](t *testing.T, command, title, says string) {
	t.Helper()
	s, err := jsonschema.For[T](&jsonschema.ForOptions{TypeSchemas: map[reflect.Type]*jsonschema.Schema{
		reflect.TypeFor[figure](): {Types: []string{"number", "null"}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	s.Schema, s.ID, s.Title, s.Description = "https://json-schema.org/draft/2020-12/schema", "urn:evenfall:"+command+":1", title, says
	want, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
	if *update {
		if err := os.WriteFile(command+".schema.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(string(want), ask("", command, "--schema").out); diff != "" {
		t.Errorf("%s.schema.json is not fresh (go test ./cmd/evenfall -run %s -update):\n%s", command, t.Name(), diff)
	}
}
