package web

import (
	"fmt"
	"net/http"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// waterOptions answers with what a page needs to ask for climate, plants and soil.
func (s *Site) waterOptions(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, waterAsk(q.p))
}

func waterAsk(p *plan.Plan) *WaterOptions {
	v := &WaterOptions{Zones: waterZones(p.Show), Months: []WaterClimate{}, Needs: []WaterNeed{}, Columns: climate.WeatherHeader + "."}
	from, until := season.UsualHours()
	holds := watering.Controller{}.Taken()
	v.Usual = map[string]string{
		"start": sheets.Clock(from), "end": sheets.Clock(until), "programs": fmt.Sprint(holds.Programs), "starts": fmt.Sprint(holds.Starts),
	}
	y, _, err := season.YearOf(p)
	if err != nil {
		v.Climate = sentence(err.Error())
		return v
	}
	v.Climate = sentence(y.Source)
	v.Months = climateMonths(p.Show, y)
	hottest := 0
	for m := range y.Months {
		if y.Months[m].ET > y.Months[hottest].ET {
			hottest = m
		}
	}
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
		if a.Kind != plan.Planting || a.Status == plan.Remove || a.WateredBy() != plan.Overhead {
			continue
		}
		need := WaterNeed{ID: id, Name: plan.Capital(p.AreaName(id)), Facts: []WaterFact{}, Taken: map[string]string{}}
		n, err := season.NeedOf(p, id, y)
		if err != nil {
			need.Facts = append(need.Facts, WaterFact{What: "Cannot be reckoned", Value: "–", Source: sentence(err.Error())})
		} else {
			need.Facts = needFacts(p.Show, y, n, hottest)
			for member, f := range n.Taken(hottest) {
				need.Taken[member] = f.Shown(p.Show)
			}
		}
		v.Needs = append(v.Needs, need)
	}
	return v
}

// waterZones are the zones of the public table with what they ask in a year.
func waterZones(sys units.System) []WaterZone {
	list := []WaterZone{}
	for z := 1; z <= climate.Zones; z++ {
		y, err := climate.OfZone(z)
		if err != nil {
			panic(fmt.Sprintf("web: a zone of the public table: %v", err))
		}
		sum := units.Inches(0)
		for _, m := range y.Months {
			sum += m.ET
		}
		list = append(list, WaterZone{z, fmt.Sprintf("Zone %d, %s a year", z, depthOf(sys, sum))})
	}
	return list
}

func climateMonths(sys units.System, y climate.Year) []WaterClimate {
	list := []WaterClimate{}
	for m, month := range y.Months {
		list = append(list, WaterClimate{climate.MonthNames[m], depthOf(sys, month.ET), depthOf(sys, month.Rain)})
	}
	return list
}

// needFacts is the chain of an area in a month, and its soil.
func needFacts(sys units.System, y climate.Year, n season.Need, month int) []WaterFact {
	asked := &season.Question{Year: y, Needs: []season.Need{n}}
	facts := append(factsOf(sys, season.ChainOf(asked, n.ID, month)), factsOf(sys, n.Soil)...)
	return append(facts, WaterFact{"Its roots reach, of water", depthOf(sys, n.Holds), "What a foot holds, by the depth of the roots"})
}

// factsOf are figures of a chain in the units of the plan.
func factsOf(sys units.System, chain []season.Factor) []WaterFact {
	facts := make([]WaterFact, 0, len(chain))
	for _, f := range chain {
		facts = append(facts, WaterFact{f.What, f.Shown(sys), plan.Capital(f.Source)})
	}
	return facts
}
