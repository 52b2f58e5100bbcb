package pipesize

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// pipeName names a pipe by where it leads, within a sentence: "the pipe from the
// valve of zone 3 to head 3-2".
func (j *job) pipeName(id plan.ID) string { return pipeName(j.p, j.net, id) }

func pipeName(p *plan.Plan, net *pipework.Network, id plan.ID) string {
	v := net.Pipes[id]
	name := fmt.Sprintf("the pipe from %s to %s", placeName(p, v.From), placeName(p, v.To))
	if v.Valved && v.Zone != "" && p.Nodes[v.From].Kind == "joint" && p.Nodes[v.To].Kind == "joint" {
		name += " in " + p.ZoneName(v.Zone)
	}
	return name
}

func placeName(p *plan.Plan, id plan.ID) string {
	n := p.Nodes[id]
	switch {
	case n.Kind == "head" && n.Head != "":
		return p.HeadName(n.Head)
	case n.Kind == "valve" && n.Zone != "":
		return "the valve of " + p.ZoneName(n.Zone)
	case n.Kind == "connection":
		return "the point of connection"
	case n.Kind == "backflow":
		return "the backflow device"
	case n.Kind == "drain":
		return "a drain"
	}
	return "the joint " + string(id)
}

// sizeName is a size of a class, as it is asked for: "1-1/4 in Class 200 PVC".
func sizeName(sys units.System, in units.Inches, row catalog.PipeClass) string {
	return sys.PipeSize(in) + " " + catalog.NameIn(sys, row.Name)
}
