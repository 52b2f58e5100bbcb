package catalog

import (
	"maps"
	"sync"

	"evenfall/internal/units"
)

// naming writes the name of a built-in row with its size in a system of units.
// The name in US units is the one that plans carry and rows are known by.
type naming func(units.System) string

// NameIn is the name of a row as it reads in a system of units. Built-in rows are
// named by their sizes; what a user named keeps the name it has.
func NameIn(sys units.System, name string) string {
	if metric, ok := metricNames()[name]; ok && sys == units.Metric {
		return metric
	}
	return name
}

// MetricNames are the names of the built-in rows in metric plans, by the names that
// plans carry. The caller owns the map.
func MetricNames() map[string]string { return maps.Clone(metricNames()) }

var metricNames = sync.OnceValue(func() map[string]string {
	names := map[string]string{}
	for _, n := range builtinNozzles() {
		names[n.Name] = n.Metric
	}
	for _, b := range builtinBodies() {
		names[b.Name] = b.Metric
	}
	for _, c := range builtinPipes() {
		if c.Metric != c.Name { // most are called by their standard
			names[c.Name] = c.Metric
		}
	}
	for _, d := range builtinDevices() {
		names[d.Name] = d.Metric
	}
	return names
})
