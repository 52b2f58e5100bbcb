package plan

import (
	"math"

	"github.com/go-json-experiment/json"
	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// systemProperties are what is said of a thing of the system; lengths in feet, sizes
// in inches, directions clockwise from true north.
type systemProperties struct {
	Kind     string  `json:"kind"` // head | valve | main | lateral | sleeve | wire | box | controller | outlet | sensor | connection | backflow | drain
	Name     string  `json:"name,omitzero"`
	Status   Status  `json:"status"`
	Zone     string  `json:"zone,omitzero"`
	Station  int     `json:"station,omitzero"`
	Nozzle   string  `json:"nozzle,omitzero"`
	Body     string  `json:"body,omitzero"`
	Sweep    float64 `json:"arc_deg,omitzero"`
	Left     *int    `json:"left_edge_bearing_deg,omitempty"` // of the arc, seen from the head
	ThrowFt  float64 `json:"throw_ft,omitzero"`               // where it is set by the plan
	Class    string  `json:"class,omitzero"`
	Nominal  float64 `json:"nominal_in,omitzero"`
	LengthFt float64 `json:"length_ft,omitzero"`
	Carries  string  `json:"carries,omitzero"`
	Method   string  `json:"method,omitzero"`
	Lay      string  `json:"lay,omitzero"`
	Model    string  `json:"device,omitzero"`
}

// systemWriter gathers the features of a system.
type systemWriter struct {
	p     *Plan
	plane tangentPlane
	out   outCollection
}

// SystemGeoJSON writes what a plan has of the system itself as GeoJSON (RFC 7946):
// heads, valves, pipes, sleeves, wire, boxes, controller, sensors and the points of the
// supply, each with what is said of it. The ground is in ToGeoJSON. Features have the
// paths of the document as ids, as "heads/h1". Longitude and latitude to 1e-9 degrees. The same
// plan gives the same bytes. A plan without latitude and longitude is refused with a
// *Problem.
func SystemGeoJSON(p *Plan) ([]byte, error) {
	plane, err := p.onEarth()
	if err != nil {
		return nil, err
	}
	w := &systemWriter{p: p, plane: plane, out: outCollection{Type: "FeatureCollection", Features: []outFeature{}}}
	w.supply()
	w.pipes()
	w.zones()
	w.heads()
	w.electric()
	doc, err := json.Marshal(w.out, json.Deterministic(true))
	if err != nil {
		return nil, problem("", "The system could not be written: %v.", err)
	}
	return append(doc, '\n'), nil
}

// onEarth is the plane that a plan lies on.
func (p *Plan) onEarth() (tangentPlane, error) {
	if p.Site.Latitude == nil || p.Site.Longitude == nil {
		return tangentPlane{}, problem("/site", "The plan does not say where on the earth it is. Give the site a latitude and a longitude first.")
	}
	return Origin{Latitude: *p.Site.Latitude, Longitude: *p.Site.Longitude, NorthDeg: float64(p.Site.NorthDeg)}.plane(), nil
}

func (w *systemWriter) add(id string, is systemProperties, g outGeometry) {
	if is.Status == "" {
		is.Status = New
	}
	w.out.Features = append(w.out.Features, outFeature{Type: "Feature", ID: id, Properties: is, Geometry: g})
}

func (w *systemWriter) point(id string, x, y units.Feet, is systemProperties) {
	at := w.plane.lonLats(orb.LineString{{float64(x), float64(y)}}, false)[0]
	w.add(id, is, outGeometry{"Point", at})
}

// line is a way with its length on the plan.
func (w *systemWriter) line(id string, way geom.Line, is systemProperties) {
	if len(way) < 2 {
		return
	}
	is.LengthFt = math.Round(way.Length()*100) / 100
	w.add(id, is, outGeometry{"LineString", w.plane.lonLats(way.Points(), false)})
}

func (w *systemWriter) supply() {
	s := w.p.Supply
	if s.Connection != nil {
		w.point("supply/connection", s.Connection.X, s.Connection.Y, systemProperties{Kind: "connection", Name: "Point of connection", Status: s.Status})
	}
	if s.BackflowAt != nil {
		is := systemProperties{Kind: "backflow", Name: "Backflow device", Status: s.Status}
		if id, _, ok := w.p.BackflowDevice(); ok {
			is.Model = w.p.DeviceName(id)
		}
		w.point("supply/backflow_at", s.BackflowAt.X, s.BackflowAt.Y, is)
	}
	for _, id := range SortedIDs(w.p.Nodes) {
		if n := w.p.Nodes[id]; n.Kind == "drain" {
			w.point("nodes/"+string(id), n.X, n.Y, systemProperties{Kind: "drain", Name: "Drain", Status: n.Status, Zone: w.zone(n.Zone)})
		}
	}
}

func (w *systemWriter) zone(id ID) string { return w.p.Zones[id].Name }

func (w *systemWriter) pipes() {
	for _, id := range SortedIDs(w.p.Pipes) {
		v := w.p.Pipes[id]
		from, ok1 := w.p.Nodes[v.From]
		to, ok2 := w.p.Nodes[v.To]
		if !ok1 || !ok2 {
			continue
		}
		way := geom.Line{{X: float64(from.X), Y: float64(from.Y)}}
		way = append(way, v.Via...)
		way = append(way, geom.Vertex{X: float64(to.X), Y: float64(to.Y)})
		is := systemProperties{Kind: "main", Status: v.Status, Class: w.p.PipeClassName(v.Class), Nominal: float64(v.NominalIn)}
		if is.Class == "" {
			is.Class = v.Material
		}
		if v.Zone != "" {
			is.Kind, is.Zone, is.Station = "lateral", w.zone(v.Zone), w.p.Zones[v.Zone].Station
		}
		w.line("pipes/"+string(id), way, is)
	}
	for _, id := range SortedIDs(w.p.Sleeves) {
		s := w.p.Sleeves[id]
		w.line("sleeves/"+string(id), spotsLine(s.From, s.To), systemProperties{
			Kind: "sleeve", Status: s.Status, Nominal: float64(s.NominalIn), Carries: s.Carries, Method: s.Method,
		})
	}
}

func spotsLine(a, b Spot) geom.Line {
	return geom.Line{{X: float64(a.X), Y: float64(a.Y)}, {X: float64(b.X), Y: float64(b.Y)}}
}

func (w *systemWriter) zones() {
	for _, id := range SortedIDs(w.p.Zones) {
		z := w.p.Zones[id]
		if z.ValveAt == nil {
			continue
		}
		valve, _ := w.p.ZoneValve(id)
		w.point("zones/"+string(id), z.ValveAt.X, z.ValveAt.Y, systemProperties{
			Kind: "valve", Name: "Valve of " + w.p.ZoneName(id), Status: z.Status, Zone: z.Name, Station: z.Station, Model: w.p.DeviceName(valve),
		})
	}
}

func (w *systemWriter) heads() {
	for _, id := range SortedIDs(w.p.Heads) {
		h := w.p.Heads[id]
		is := systemProperties{
			Kind: "head", Name: w.p.HeadTag(id), Status: h.Status, Zone: w.zone(h.Zone), Station: w.p.Zones[h.Zone].Station,
			Nozzle: w.p.NozzleName(h.Nozzle), Body: w.p.BodyName(h.Body), Sweep: float64(h.SweepDeg),
		}
		if h.ThrowFt != nil {
			is.ThrowFt = float64(*h.ThrowFt)
		}
		if h.SweepDeg > 0 && h.SweepDeg < 360 {
			left := w.bearing(float64(h.StartDeg + h.SweepDeg))
			is.Left = &left
		}
		w.point("heads/"+string(id), h.X, h.Y, is)
	}
}

// bearing is a direction of the plan, anticlockwise from its x, as degrees clockwise
// from true north, 0 to 359.
func (w *systemWriter) bearing(deg float64) int {
	b := math.Mod(math.Round(90+float64(w.p.Site.NorthDeg)-deg), 360)
	if b < 0 {
		b += 360
	}
	return int(b)
}

func (w *systemWriter) electric() {
	c := w.p.Controller
	if c.At != nil {
		w.point("controller", c.At.X, c.At.Y, systemProperties{Kind: "controller", Name: "Controller", Status: c.Status})
	}
	if c.OutletAt != nil {
		w.point("controller/outlet_at", c.OutletAt.X, c.OutletAt.Y, systemProperties{Kind: "outlet", Name: "Mains outlet of the controller", Status: c.Status})
	}
	for _, id := range SortedIDs(w.p.Sensors) {
		s := w.p.Sensors[id]
		w.point("sensors/"+string(id), s.X, s.Y, systemProperties{Kind: "sensor", Name: s.Kind + " sensor", Status: s.Status})
	}
	for _, id := range SortedIDs(w.p.Boxes) {
		b := w.p.Boxes[id]
		w.point("boxes/"+string(id), b.X, b.Y, systemProperties{Kind: "box", Name: b.Name, Status: b.Status})
	}
	for _, id := range SortedIDs(w.p.Wires) {
		r := w.p.Wires[id]
		w.line("wires/"+string(id), r.Line, systemProperties{Kind: "wire", Status: r.Status, Lay: r.Lay})
	}
}
