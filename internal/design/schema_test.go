package design

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// The schema of the report is made from the types and from the comments on
// their fields, so that it cannot say anything else than they do.
func TestSchemaIsTrueToTheTypes(t *testing.T) {
	m := &schemaMaker{t: t, comments: map[string]map[string]string{}, defs: map[string]any{}, names: map[string]reflect.Type{}}
	root := m.object(reflect.TypeFor[Report]())
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["$id"] = "urn:evenfall:report:1"
	root["title"] = "Evenfall report"
	root["description"] = "What follows from one plan. Lengths are feet on the plan's plane, x east and y north; shares are 0 to 1."
	root["$defs"] = m.defs
	want := append(print(t, root, 3), '\n')
	if *update {
		if err := os.WriteFile("report.schema.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(Schema()), "\n")); diff != "" {
		t.Errorf("report.schema.json is not fresh (go test ./internal/design -update):\n%s", diff)
	}
}

// print writes a value as JSON: objects a line a member down to a depth, all
// below on one line, so that the file reads as a list of members.
func print(t *testing.T, v any, depth int) []byte {
	t.Helper()
	members, ok := v.(map[string]any)
	if !ok || depth == 0 {
		var out bytes.Buffer
		e := json.NewEncoder(&out)
		e.SetEscapeHTML(false)
		if err := e.Encode(v); err != nil {
			t.Fatal(err)
		}
		return bytes.TrimSpace(out.Bytes())
	}
	out := []byte("{")
	for i, name := range slices.Sorted(maps.Keys(members)) {
		if i > 0 {
			out = append(out, ',')
		}
		below := depth - 1
		if name == "$defs" {
			below = depth
		}
		out = fmt.Appendf(out, "\n%q: %s", name, print(t, members[name], below))
	}
	return append(out, "\n}"...)
}

// schemaMaker turns types into JSON Schema, structs by name into $defs.
type schemaMaker struct {
	t        *testing.T
	comments map[string]map[string]string // of a package's folder: "Type" or "Type.Field"
	defs     map[string]any
	names    map[string]reflect.Type // of defs
}

func (m *schemaMaker) of(t reflect.Type) map[string]any {
	switch t {
	case reflect.TypeFor[orb.Point]():
		return map[string]any{"type": "array", "items": map[string]any{"type": "number"}, "minItems": 2, "maxItems": 2}
	case reflect.TypeFor[orb.Bound]():
		return map[string]any{"type": "object", "description": "corners Min (south-west) and Max (north-east)"}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return m.of(t.Elem())
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Int64, reflect.Uint64:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Slice, reflect.Array:
		return map[string]any{"type": "array", "items": m.of(t.Elem())}
	case reflect.Map:
		return map[string]any{"type": "object", "additionalProperties": m.of(t.Elem())}
	case reflect.Struct:
		name := m.name(t)
		if _, done := m.defs[name]; !done {
			m.defs[name] = nil // stands for itself while it is made
			m.defs[name] = m.object(t)
		}
		return map[string]any{"$ref": "#/$defs/" + name}
	}
	m.t.Fatalf("the report holds a %v, for which no schema is known", t)
	return nil
}

// name is a struct's name, with its package's before it where another package
// had the name first.
func (m *schemaMaker) name(t reflect.Type) string {
	name := t.Name()
	if first, taken := m.names[name]; taken && first != t {
		pkg := path.Base(t.PkgPath())
		name = strings.ToUpper(pkg[:1]) + pkg[1:] + name
	}
	m.names[name] = t
	return name
}

func (m *schemaMaker) object(t reflect.Type) map[string]any {
	properties, required := map[string]any{}, []string{}
	m.members(t, properties, &required)
	slices.Sort(required)
	out := map[string]any{"type": "object", "properties": properties, "additionalProperties": false}
	if len(required) > 0 {
		out["required"] = required
	}
	if text := m.comment(t, t.Name()); text != "" {
		out["description"] = text
	}
	return out
}

func (m *schemaMaker) members(t reflect.Type, properties map[string]any, required *[]string) {
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous && name == "" {
			m.members(f.Type, properties, required)
			continue
		}
		if name == "" || name == "-" {
			m.t.Errorf("%s.%s has no JSON name", t, f.Name)
			continue
		}
		member := m.of(f.Type)
		if f.Type.Kind() == reflect.Slice && !strings.Contains(options, "omit") {
			member = map[string]any{"type": []string{"array", "null"}, "items": m.of(f.Type.Elem())}
		}
		if text := m.comment(t, t.Name()+"."+f.Name); text != "" {
			member["description"] = text
		}
		properties[name] = member
		if !strings.Contains(options, "omit") {
			*required = append(*required, name)
		}
	}
}

// comment is what the source says of a type or a field.
func (m *schemaMaker) comment(t reflect.Type, name string) string {
	dir := filepath.Join("..", "..", strings.TrimPrefix(t.PkgPath(), "evenfall/"))
	if !strings.HasPrefix(t.PkgPath(), "evenfall/") {
		return ""
	}
	if m.comments[dir] == nil {
		m.comments[dir] = readComments(m.t, dir)
	}
	return m.comments[dir][name]
}

func readComments(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	paths, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.TYPE {
				continue
			}
			for _, s := range g.Specs {
				spec := s.(*ast.TypeSpec)
				keep(out, spec.Name.Name, g.Doc, spec.Doc)
				if st, ok := spec.Type.(*ast.StructType); ok {
					for _, f := range st.Fields.List {
						for _, n := range f.Names {
							keep(out, spec.Name.Name+"."+n.Name, f.Doc, f.Comment)
						}
					}
				}
			}
		}
	}
	return out
}

func keep(out map[string]string, name string, groups ...*ast.CommentGroup) {
	for _, g := range groups {
		if text := strings.Join(strings.Fields(g.Text()), " "); text != "" {
			out[name] = text
		}
	}
}

// A report holds to its schema: every member it writes is named there.
func checkAgainstSchema(t *testing.T, text []byte) {
	t.Helper()
	var schema, doc map[string]any
	if err := json.Unmarshal(Schema(), &schema); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	defs := schema["$defs"].(map[string]any)
	var walk func(path string, node map[string]any, v any)
	walk = func(path string, node map[string]any, v any) {
		if ref, ok := node["$ref"].(string); ok {
			node = defs[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
		}
		switch v := v.(type) {
		case map[string]any:
			properties, _ := node["properties"].(map[string]any)
			each, _ := node["additionalProperties"].(map[string]any)
			for _, name := range slices.Sorted(maps.Keys(v)) {
				member, ok := properties[name].(map[string]any)
				if !ok {
					member = each
				}
				if member == nil {
					if properties != nil {
						t.Errorf("%s/%s is not in the schema", path, name)
					}
					continue
				}
				walk(path+"/"+name, member, v[name])
			}
			required, _ := node["required"].([]any)
			for _, name := range required {
				if _, ok := v[name.(string)]; !ok {
					t.Errorf("%s has no %s", path, name)
				}
			}
		case []any:
			items, _ := node["items"].(map[string]any)
			for _, e := range v {
				walk(path+"/-", items, e)
			}
		}
	}
	walk("", schema, doc)
}
