package plan

import "testing"

func TestSmoke(t *testing.T) {
	doc := []byte(`{"format":"evenfall-plan/1","name":"x","areas":{"a1":{"name":"Lawn","kind":"planting","outline":[[0,0],[10,0,0.5],[10,10]]}},"heads":{"h2":{"nozzle":"n","body":"b","x_ft":1,"y_ft":2,"status":"new"}}}`)
	p, err := Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	enc := p.Encode()
	t.Logf("%s", enc)
	next, inv, err := Apply(enc, Patch(`{"heads":{"h2":{"x_ft":5},"h3":{"nozzle":"n","body":"b","x_ft":1,"y_ft":2}}}`))
	t.Logf("%s %s %v", next, inv, err)
	back, _, err := Apply(next, inv)
	if string(back) != string(enc) || err != nil {
		t.Fatal(string(back), err)
	}
	for _, d := range []string{`{"format":"evenfall-plan/1","heads":{"h2":{"tag":"2-8","sweep":3}}}`,
		`{"format":"evenfall-plan/1","heads":{"h2":{"tag":"2-8","x_ft":"a"}}}`,
		`{"format":"evenfall-plan/1","heads":{"h2":{"tag":"2-8","x_ft":1,"x_ft":1e999}}}`,
		`{"format":"evenfall-plan/1","heads":{"h2":{"tag":"2-8","x_ft":1e999}}}`,
		`{"format":"evenfall-plan/1","heads":{"h2":{"tag":"2-8","x_ft":null}}}`,
		`{"format":"evenfall-plan/1","areas":{"h2":{"name":"Front","outline":[[1,2],[1]]}}}`,
		`{"format":"evenfall-plan/1","areas":{"h2":{"name":"Front","outline":[[1,2],[1,2,3,4]]}}}`,
		`{"format":"evenfall-plan/1","areas":{"h2":{"name":"Front","outline":[[1,2],[1,1e400]]}}}`,
		`{"format":"evenfall-plan/1","areas":{"h2":{"name":"Front","outline":[[1,2],3]}}}`,
		`{"format":"evenfall-plan/1","areas":{"h2":{"name":"Front","outline":[[1,2],["a"]]}}}`,
		`{"format":"evenfall-plan/1","zones":{"h2":{"name":"Front","station":1.5}}}`,
		`{"format":"evenfall-plan/2","zones":{"h2":{"name":"Front","station":1.5}}}`,
		`{"format":"evenfall-plan/1","zones":{"h2":{"name":"Front","station":1.5}}`,
		`{"format":"evenfall-plan/1",,"zones":{"h2":{"name":"Front","station":1.5}}`,
	} {
		_, err := Decode([]byte(d))
		t.Log(err, err.(*Problem).Pointer)
	}
}
