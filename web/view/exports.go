package view

import (
	"path"
	"slices"
)

// export is one file a plan can be saved as.
type export struct{ href, label string }

// exports lists the files of a plan in the order of the menu.
func exports(plan string) []export {
	at := "/plans/" + plan + "/files/"
	return []export{
		{at + "parts.csv", "Parts list, CSV"},
		{at + "parts.xlsx", "Parts list, XLSX"},
		{at + "prices.csv", "Price list to fill in, CSV"},
		{at + "quote.csv", "Quote, CSV"},
		{at + "quote.txt", "Quote to be read, text"},
		{at + "zones.csv", "Zones, CSV"},
		{at + "heads.csv", "Heads, CSV"},
		{at + "trenches.csv", "Trench list, CSV"},
		{at + "trench-points.csv", "Points of the trench list, CSV"},
		{at + "sleeves.csv", "Sleeve list, CSV"},
		{at + "sleeves.svg", "Sleeve drawing, SVG"},
		{at + "wires.csv", "Wire list, CSV"},
		{at + "wires.txt", "Wire list to be read, text"},
		{at + "findings.csv", "Findings, CSV"},
		{at + "stakes.csv", "Stake-out, CSV"},
		{at + "stake-points.csv", "Fixed points of the stake-out, CSV"},
		{at + "setting.csv", "Nozzle setting, CSV"},
		{at + "program.csv", "Watering program, CSV"},
		{at + "program.ics", "Watering program, calendar"},
		{at + "start-up.csv", "Start-up log, CSV"},
		{at + "terminal-map.csv", "Terminal map, CSV"},
		{at + "audits.csv", "Catch-can audits, CSV"},
		{at + "as-built.csv", "Record of what was built, CSV"},
		{at + "start-up.csv", "Start-up log, CSV"},
		{at + "terminal-map.csv", "Terminal map, CSV"},
		{at + "audits.csv", "Catch-can audits, CSV"},
		{at + "as-built.csv", "Record of what was built, CSV"},
		{at + "pipe-table.csv", "Pipe table, CSV"},
		{at + "device-table.csv", "Devices and their losses, CSV"},
		{at + "plan.dxf", "Plan in layers, DXF"},
		{at + "layout.svg", "Layout, SVG"},
		{at + "outlines.geojson", "Outlines, GeoJSON"},
		{at + "system.geojson", "System, GeoJSON"},
		{at + "plan.json", "The whole plan, to keep or move"},
	}
}

// digLists lists the files about what is dug and wired.
func digLists(plan string) []export {
	at := "/plans/" + plan + "/files/"
	return []export{
		{at + "sleeves.svg", "Sleeve drawing, SVG"},
		{at + "sleeves.csv", "Sleeve list, CSV"},
		{at + "trenches.csv", "Trench list for the crew, CSV"},
		{at + "wires.csv", "Wire list, CSV"},
		{at + "wires.txt", "Wire list to be read, text"},
	}
}

// quoteLists lists the files of parts and what they come to.
func quoteLists(plan string) []export {
	return exportsOf(plan, "quote.csv", "quote.txt", "parts.csv", "parts.xlsx", "prices.csv")
}

// yardLists lists the files of what was tested, found and measured.
func yardLists(plan string) []export {
	return exportsOf(plan, "start-up.csv", "terminal-map.csv", "setting.csv", "audits.csv", "as-built.csv")
}

// exportsOf are the exports of some names, in the order of the menu.
func exportsOf(plan string, wanted ...string) []export {
	var out []export
	for _, e := range exports(plan) {
		if slices.Contains(wanted, path.Base(e.href)) {
			out = append(out, e)
		}
	}
	return out
}
