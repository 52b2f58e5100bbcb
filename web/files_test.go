package web

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestFilesComeAsAttachments(t *testing.T) {
	f := newFixture(t)
	attached := func(name string) string { return `Content-Disposition: attachment; filename="yard-` + name + `"` }
	f.play(t, []scenario{
		{name: "plan", method: "GET", path: "/plans/PLAN/files/plan.json", status: 200, has: []string{`{"format":"evenfall-plan/1","name":"Yard"`}, hasHeader: []string{attached("plan.json"), "Content-Type: application/json"}},
		{name: "outlines", method: "GET", path: "/plans/PLAN/files/outlines.geojson", status: 200, has: []string{`"FeatureCollection"`, "Front lawn"}, hasHeader: []string{attached("outlines.geojson"), "Content-Type: application/geo+json"}},
		{name: "parts", method: "GET", path: "/plans/PLAN/files/parts.csv", status: 200, has: []string{"Body 4", "Spray 15"}, hasHeader: []string{attached("parts.csv"), "Content-Type: text/csv; charset=utf-8"}},
		{name: "workbook", method: "GET", path: "/plans/PLAN/files/parts.xlsx", status: 200, has: []string{"PK"}, hasHeader: []string{attached("parts.xlsx")}},
		{name: "zones", method: "GET", path: "/plans/PLAN/files/zones.csv", status: 200, has: []string{"Front"}},
		{name: "heads", method: "GET", path: "/plans/PLAN/files/heads.csv", status: 200, has: []string{"1-1", "1-4"}},
		{name: "findings", method: "GET", path: "/plans/PLAN/files/findings.csv", status: 200},
		{name: "program", method: "GET", path: "/plans/PLAN/files/program.csv", status: 200, has: []string{"Month,Fits,Program,Days", "The program follows"}, hasHeader: []string{attached("program.csv"), "Content-Type: text/csv; charset=utf-8"}},
		{name: "calendar", method: "GET", path: "/plans/PLAN/files/program.ics", status: 200, has: []string{"BEGIN:VCALENDAR\r\n", "DTSTART"}, hasHeader: []string{attached("program.ics"), "Content-Type: text/calendar; charset=utf-8"}},
		{name: "none", method: "GET", path: "/plans/PLAN/files/other.csv", status: 404},
		{name: "schema of plans", method: "GET", path: "/schema/plan.json", status: 200, has: []string{`"$schema"`}, hasHeader: []string{"Content-Type: application/schema+json"}},
		{name: "schema of reports", method: "GET", path: "/schema/report.json", status: 200, has: []string{`"$schema"`}},
	})
	if got := f.do("GET", "/plans/"+f.plan.ID+"/files/plan.json", "").Body.String(); got != string(f.plan.Doc) {
		t.Error("the file is not the stored document byte for byte")
	}
}

func TestAPlanFileMakesTheSamePlan(t *testing.T) {
	f := newFixture(t)
	file := f.do("GET", "/plans/"+f.plan.ID+"/files/plan.json", "").Body.String()
	var made struct{ ID string }
	if err := json.Unmarshal(f.do("POST", "/api/plans", `{"doc":`+file+`}`, jsonType).Body.Bytes(), &made); err != nil {
		t.Fatal(err)
	}
	if got := f.do("GET", "/plans/"+made.ID+"/files/plan.json", "").Body.String(); got != file {
		t.Errorf("after bringing it in: got %s, want %s", got, file)
	}
}

func TestTheCatalogueAndAUsersTable(t *testing.T) {
	csv := "Content-Type: text/csv"
	newFixture(t).play(t, []scenario{
		{name: "catalogue", method: "GET", path: "/api/catalog", status: 200, has: []string{`"nozzles":[{"id":"`, `"bodies":[{"id":"`, `"rows":[{"pressure_psi":`}},
		{name: "empty table", method: "POST", path: "/api/catalog/preview", header: []string{csv}, status: 200, has: []string{`"rows":[]`, `"errors":[{"line":`}},
		{name: "not a table", method: "POST", path: "/api/catalog/preview", header: []string{csv}, body: "hello,world\n1,2\n", status: 200, has: []string{`"rows":[]`, `"sentence":"`}},
		{name: "a pipe table", method: "POST", path: "/api/catalog/preview?of=pipes", header: []string{csv}, status: 200,
			body: "name,material,nominal_in,outside_in,wall_in,inside_in,rating_psi\nOurs,pe,1,1.2,0.07,1.05,100\n", has: []string{`"rows":[{"id":"p-ours"`, `"c":140`, `"errors":[]`}},
		{name: "a device table gone wrong", method: "POST", path: "/api/catalog/preview?of=devices", header: []string{csv}, status: 200,
			body: "name,kind,flow_gpm,loss_psi\nOurs,filter,5,2\nOurs,,9,1\n", has: []string{`"rows":[]`, `"line":3,"column":"loss_psi"`}},
		{name: "a table of nothing known", method: "POST", path: "/api/catalog/preview?of=pumps", header: []string{csv}, status: 400},
		{name: "not text", method: "POST", path: "/api/catalog/preview", header: []string{csv}, body: "\xff\xfe\x00\x01", status: 200, has: []string{`"rows":[]`}},
	})
}

// The tables handed out are those that are brought in: the plan's own rows among
// them.
func TestPipeAndDeviceTablesGoOutAndComeBack(t *testing.T) {
	f := newFixture(t)
	for name, of := range map[string]string{"pipe-table.csv": "pipes", "device-table.csv": "devices"} {
		file := f.do("GET", "/plans/"+f.plan.ID+"/files/"+name, "").Body.String()
		answer := f.do("POST", "/api/catalog/preview?of="+of, file, "Content-Type: text/csv").Body.String()
		if !strings.Contains(answer, `"errors":[]`) || !strings.Contains(answer, `"rows":[{"id":`) {
			t.Errorf("%s brought in again: %.200s", name, answer)
		}
	}
}

func TestOutlinesComeFromGeoJSON(t *testing.T) {
	geo := "Content-Type: application/geo+json"
	square := `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"House"},"geometry":{"type":"Polygon","coordinates":[[[-105,40],[-104.9999,40],[-104.9999,40.0001],[-105,40.0001],[-105,40]]]}}]}`
	newFixture(t).play(t, []scenario{
		{name: "a house", method: "POST", path: "/api/import/geojson", header: []string{geo}, body: square, status: 200,
			has: []string{`"shapes":[{"name":"House","kind_guess":"`, `"outline":[[`, `"area":"1,`, ` ft²"`, `"size":"28' `, `"origin":{"lat":40,"lon":-105}`, `"left_out":[]`}},
		{name: "on a plan's own place", method: "POST", path: "/api/import/geojson?lat=40.0001&lon=-105.0001", header: []string{geo}, body: square, status: 200, has: []string{`"origin":{"lat":40.0001,"lon":-105.0001}`}},
		{name: "in metres", method: "POST", path: "/api/import/geojson?show=metric", header: []string{geo}, body: square, status: 200, has: []string{` m²"`, `"size":"8.5`}},
		{name: "in furlongs", method: "POST", path: "/api/import/geojson?show=furlongs", header: []string{geo}, body: square, status: 400},
		{name: "half a place", method: "POST", path: "/api/import/geojson?lat=40", header: []string{geo}, body: square, status: 422},
		{name: "crossing itself", method: "POST", path: "/api/import/geojson", header: []string{geo},
			body: `{"type":"Polygon","coordinates":[[[-105,40],[-104.9999,40.0001],[-104.9999,40],[-105,40.0001],[-105,40]]]}`, status: 422},
		{name: "points only", method: "POST", path: "/api/import/geojson", header: []string{geo}, body: `{"type":"Point","coordinates":[-105,40]}`, status: 422},
		{name: "not GeoJSON", method: "POST", path: "/api/import/geojson", header: []string{geo}, body: `{"type":"Topology"}`, status: 422},
		{name: "not JSON", method: "POST", path: "/api/import/geojson", header: []string{geo}, body: `hello`, status: 422},
	})
}
