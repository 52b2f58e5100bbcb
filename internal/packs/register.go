package packs

// sheet is one sheet of a pack: one or more pages.
type sheet struct {
	code  string
	title string
	holds string // for the list of sheets
	make  func(*builder) error
}

func sheetsOf(k Kind) []sheet {
	switch k {
	case Crew:
		return []sheet{
			{"C1", "Cover", "the papers in order, what is assumed, what comes before digging", (*builder).crewCover},
			{"C2", "Order of work", "from the locate to the program, with cautions in place", (*builder).orderOfWork},
			{"C3", "Layout plan", "areas, heads with their tags, zones, legend", (*builder).layoutPlan},
			{"C4", "Pipe and wire plan", "pipe with sizes, sleeves, wire, boxes, key dimensions", (*builder).pipePlan},
			{"C5", "Stake-out", "where each flag goes, by tape, in walking order", (*builder).stakeOut},
			{"C6", "Nozzle setting", "what to set on each head", (*builder).nozzleSetting},
			{"C7", "Trenches and sleeves", "what to dig, how deep, in order", (*builder).trenchesAndSleeves},
			{"C8", "Valves and wire", "which wire goes where", (*builder).valvesAndWire},
			{"C9", "Zone cards", "what belongs to each valve", (*builder).zoneCards},
			{"C10", "Details", "how things are put together, to scale", (*builder).details},
		}
	case Owner:
		return []sheet{
			{"O1", "Your yard", "where everything is, and where not to dig", (*builder).yardPlan},
			{"O2", "Zones and stations", "what each station waters, where its valve is, how to shut off, who to call", (*builder).zonesAndStations},
			{"O3", "Program card", "what is keyed into the controller", (*builder).programCard},
			{"O4", "Winter card", "how it is made safe from freezing and started again", (*builder).winterCard},
			{"O5", "Each season", "what to look at, and when", (*builder).seasonChecks},
			{recordCode, "Record drawing", "what went into the ground and where, found by tape from fixed corners", (*builder).recordDrawing},
			{"O7", "Terminal map", "which wire goes to which terminal of the controller, and what it read", (*builder).terminalMap},
			{"O8", "Start-up and tests", "test dates, each zone as it ran beside what was predicted", (*builder).startUpAndTests},
			{auditCode, "Catch-can audits", "what cans caught beside what was predicted, and heads to look at", (*builder).audits},
			{"O10", "Photographs", "what is shown of what nobody sees any more", (*builder).photographs},
		}
	case Office:
		return []sheet{
			{"F1", "Cover", "permits and dates, water and backflow, what is assumed", (*builder).officeCover},
			{"F2", "Coverage", "map of the water, readings, field estimate, zones", (*builder).coverageSheet},
			{"F3", "Parts", "what to buy, in total and by list", (*builder).partsSheet},
			{"F4", "Quote", "what parts and work come to", (*builder).quoteSheet},
			{"F5", "Findings", "what was found, and what was accepted with its reason", (*builder).findingsSheet},
		}
	}
	return nil
}
