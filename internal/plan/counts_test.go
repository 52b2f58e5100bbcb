package plan

import "testing"

func TestRowA31_AChangeIsToldByWhatItTouches(t *testing.T) {
	for _, c := range []struct {
		patch, says string
		count       int
	}{
		{`{}`, "", 0},
		{`{"heads":{"h1":{"x_ft":1},"h2":null,"h3":{"x_ft":2}},"areas":{"a1":{"name":"Lawn"}}}`, "3 heads, 1 area", 4},
		{`{"name":"Yard"}`, "settings", 1},
		{`{"name":"Yard","supply":{"flow_gpm":9},"zones":{"z1":{}}}`, "1 zone, settings", 3},
		{`{"bodies":{"b1":{},"b2":{}},"keep_dry":{"k1":{},"k2":{}}}`, "2 keep-dry places, 2 bodies", 4},
		{`{"site":{"lot":[[0,0],[1,0],[1,1]]}}`, "the property line", 1},
		{`{"barriers":{"b1":{"kind":"hedge","height_ft":3}}}`, "1 hedge", 1},
		{`{"barriers":{"b1":{"kind":"wall"},"b2":{"kind":"wall"},"b3":{"kind":"fence"}}}`, "2 walls, 1 fence", 3},
		{`{"barriers":{"b1":null,"b2":{"height_ft":4}}}`, "2 walls or fences", 2},
		{`{"barriers":{"b1":{"kind":"moat"}}}`, "1 wall or fence", 1},
		{`{"site":{"north_deg":5}}`, "settings", 1},
		{`{"site":null}`, "settings", 1},
		{`{"proof":{"cans":{"c1":{"catch_ml":1}},"minutes":5}}`, "1 catch-can, settings", 2},
		{`{"notes":null}`, "1 note", 1},
		{`{"heads":{}}`, "", 0},
		{`[1]`, "", 0},
		{`{"heads":`, "", 0},
	} {
		p := Patch(c.patch)
		if got := p.Says(); got != c.says {
			t.Errorf("%s: got %q, want %q", c.patch, got, c.says)
		}
		if got := p.Count(); got != c.count {
			t.Errorf("%s: got %d, want %d", c.patch, got, c.count)
		}
	}
}
