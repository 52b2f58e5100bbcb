package plan

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/jsonschema-go/jsonschema"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
)

func resolvedSchema(t *testing.T) *jsonschema.Resolved {
	t.Helper()
	var s jsonschema.Schema
	if err := json.Unmarshal(Schema(), &s); err != nil {
		t.Fatal(err)
	}
	r, err := s.Resolve(nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func validateBySchema(t *testing.T, r *jsonschema.Resolved, doc []byte) error {
	t.Helper()
	var v any
	if err := json.Unmarshal(doc, &v); err != nil {
		t.Fatalf("%v\n%s", err, doc)
	}
	return r.Validate(v)
}

func TestSchemaTakesEveryPlanOfTheTests(t *testing.T) {
	r := resolvedSchema(t)
	docs := map[string][]byte{"every member": fullPlan().Encode(), "empty": Empty("", "us").Encode()}
	err := filepath.WalkDir("../../testdata/plans", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".json" {
			return err
		}
		docs[path], err = os.ReadFile(path)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, doc := range docs {
		if !strings.Contains(string(doc), formatName) {
			continue // lists beside the plans
		}
		if err := validateBySchema(t, r, doc); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := Decode(doc); err != nil {
			t.Errorf("%s: Decode: %v", name, err)
		}
	}
}

// structs returns the types of the document's objects.
func structs(t reflect.Type, seen map[reflect.Type]bool) {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map:
		structs(t.Elem(), seen)
	case reflect.Struct:
		if seen[t] || t == reflect.TypeFor[geom.Vertex]() {
			return
		}
		seen[t] = true
		for i := range t.NumField() {
			structs(t.Field(i).Type, seen)
		}
	}
}

func TestSchemaSpeaksOfEveryMember(t *testing.T) {
	seen := map[reflect.Type]bool{}
	structs(reflect.TypeFor[Plan](), seen)
	known := 0
	for st := range seen {
		for i := range st.NumField() {
			name := memberName(st.Field(i))
			if e, ok := entryOf(st.Name(), name); !ok || e.says == "" {
				t.Errorf("the schema says nothing of %s.%s", st.Name(), name)
			}
			if !strings.Contains(string(Schema()), `"`+name+`"`) {
				t.Errorf("the schema has no %s.%s", st.Name(), name)
			}
			known++
		}
	}
	for _, table := range []map[string]map[string]entry{groundEntries, systemEntries, catalogEntries, pipeEntries, proofEntries} {
		for _, members := range table {
			known -= len(members)
		}
	}
	if known != 0 {
		t.Errorf("the tables have %d members that the types do not", -known)
	}
}

// leaf is one value in a document: where, what, and by what to put another there.
type leaf struct {
	pointer string
	value   any
	put     func(any)
	drop    func()
}

// leaves lists every value under v, objects and lists too.
func leaves(pointer string, v any) []leaf {
	var out []leaf
	switch v := v.(type) {
	case map[string]any:
		var keys []string
		for k := range v {
			keys = append(keys, k)
		}
		slices.Sort(keys)
		for _, k := range keys {
			out = append(out, leaf{pointer + "/" + k, v[k], func(x any) { v[k] = x }, func() { delete(v, k) }})
			out = append(out, leaves(pointer+"/"+k, v[k])...)
		}
	case []any:
		for i := range v {
			out = append(out, leaf{fmt.Sprintf("%s/%d", pointer, i), v[i], func(x any) { v[i] = x }, nil})
			out = append(out, leaves(fmt.Sprintf("%s/%d", pointer, i), v[i])...)
		}
	}
	return out
}

// eachFault calls do with the full plan in which one value at a time has been
// put wrong.
func eachFault(t *testing.T, wrong func(leaf) (values []any), do func(pointer string, doc []byte)) {
	t.Helper()
	full := fullPlan().Encode()
	var v any
	if err := json.Unmarshal(full, &v); err != nil {
		t.Fatal(err)
	}
	for _, l := range leaves("", v) {
		for _, w := range wrong(l) {
			l.put(w)
			doc, err := json.Marshal(v)
			if err != nil {
				t.Fatal(err)
			}
			do(l.pointer, doc)
			l.put(l.value)
		}
	}
}

// otherKinds returns values of every JSON kind but the given one's.
func otherKinds(l leaf) []any {
	all := []any{"x", 1.5, true, []any{"x"}, map[string]any{"x": 1.0}, nil}
	return slices.DeleteFunc(all, func(v any) bool { return reflect.TypeOf(v) == reflect.TypeOf(l.value) })
}

func TestSchemaAndDecodeRefuseTheSameStructuralFaults(t *testing.T) {
	r := resolvedSchema(t)
	for _, test := range []struct {
		name  string
		wrong func(leaf) []any
	}{
		{"another kind of value", otherKinds},
		{"a text too long", func(l leaf) []any {
			if _, ok := l.value.(string); ok {
				return []any{strings.Repeat("ä", MaxText+1)}
			}
			return nil
		}},
		{"a control character", func(l leaf) []any {
			if s, ok := l.value.(string); ok {
				return []any{s + "\x00", "\x07" + s, s + "\u0085"}
			}
			return nil
		}},
		{"a number out of any range", func(l leaf) []any {
			if _, ok := l.value.(float64); ok {
				return []any{1e9, -1e9}
			}
			return nil
		}},
		{"an unknown member", func(l leaf) []any {
			if m, ok := l.value.(map[string]any); ok {
				more := map[string]any{"colour?": 1.0}
				for k, v := range m {
					more[k] = v
				}
				return []any{more}
			}
			return nil
		}},
	} {
		t.Run(test.name, func(t *testing.T) {
			faults := 0
			eachFault(t, test.wrong, func(pointer string, doc []byte) {
				faults++
				if err := validateBySchema(t, r, doc); err == nil {
					t.Errorf("%s: the schema takes it: %s", pointer, find(doc, strings.Split(pointer, "/")[1:]...))
				}
				if _, err := Decode(doc); err == nil {
					t.Errorf("%s: Decode takes it: %s", pointer, find(doc, strings.Split(pointer, "/")[1:]...))
				}
			})
			if faults == 0 {
				t.Error("nothing was put wrong")
			}
		})
	}
}

func TestSchemaAndDecodeNeedTheSameMembers(t *testing.T) {
	// Members that are needed only because of the values of others.
	conditional := []string{"/heads/h1/sweep_deg", "/nozzles/n1/profile/shares", "/nozzles/n2/strip", "/nozzles/n2/strip/right_ft",
		"/nozzles/n1/arc_least_deg", "/nozzles/n1/arc_most_deg", "/nodes/j1/head", "/devices/d3/backflow"}
	r := resolvedSchema(t)
	var v any
	if err := json.Unmarshal(fullPlan().Encode(), &v); err != nil {
		t.Fatal(err)
	}
	for _, l := range leaves("", v) {
		if l.drop == nil || slices.Contains(conditional, l.pointer) || strings.Count(l.pointer, "/") < 3 && l.pointer != "/format" {
			continue // taking a whole thing away leaves references to it
		}
		l.drop()
		doc, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		_, refused := Decode(doc)
		invalid := validateBySchema(t, r, doc)
		if (refused == nil) != (invalid == nil) {
			t.Errorf("without %s: Decode says %v, the schema says %v", l.pointer, refused, invalid)
		}
		l.put(l.value)
	}
}

// TestSchemaRefusesBadDocuments holds the schema to the bad documents that are
// JSON, but for those only wrong in what their members say of one another.
func TestSchemaRefusesBadDocuments(t *testing.T) {
	r, saved := resolvedSchema(t), readFile(t, savedPlan)
	for _, bad := range readBad[struct {
		Name     string
		Change   json.RawMessage
		InItself bool `json:"in_itself"` // the form is right
	}](t, "documents.json") {
		if bad.Change == nil {
			continue
		}
		doc, err := merge(saved, bad.Change)
		if err != nil {
			t.Fatal(err)
		}
		if err := validateBySchema(t, r, doc); (err == nil) != bad.InItself {
			t.Errorf("%s: the schema says %v", bad.Name, err)
		}
	}
}

func TestCatalogRangesAreNoNarrowerThanTheCatalogs(t *testing.T) {
	r := resolvedSchema(t)
	for _, e := range catalog.Nozzles() {
		p := fullPlan()
		p.Nozzles = with(p.Nozzles, "x1", e.Nozzle)
		if err := validateBySchema(t, r, p.Encode()); err != nil {
			t.Errorf("%s: %v", e.ID, err)
		}
		if _, err := Decode(p.Encode()); err != nil {
			t.Errorf("%s: Decode: %v", e.ID, err)
		}
	}
}
