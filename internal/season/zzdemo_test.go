package season_test
import ("context";"testing";"fmt";"evenfall/internal/watering";"evenfall/internal/season";"os";"strings";"evenfall/internal/plan")
func TestZZDemo(t *testing.T) {
	for _, days := range strings.Split(os.Getenv("DD"),";") {
	p := demo(t)
	p.Watering.Days = strings.Fields(days)
	if os.Getenv("ZONE") != "" { fmt.Sscan(os.Getenv("ZONE"), &p.Watering.ETZone) ; p.Watering.Turf="cool"}
	if os.Getenv("SOAKS") != "" { p.Controller.Soaks = true }
	_ = plan.ByMean
	q, err := season.Ask(context.Background(), p, even(p, 0.65), nil)
	if err != nil { t.Fatal(err) }
	y, err := watering.PlanYear(context.Background(), &q.Input, nil)
	if err != nil { t.Fatal(err) }
	fmt.Println("====", days, "peak", y.Peak, "gallons", y.Gallons, "plain", y.PlainGallons, "saved", y.Saved, y.SavedSays, "M:", y.Months[y.Peak].SavedSays)
	m := y.Months[y.Peak]
	fmt.Println("fits", m.Fits, "over", m.Over, "gal", m.Gallons, "least", m.Least)
	for _, p := range m.Programs { fmt.Println(" ", p.Days, p.Starts, "ends", watering.Clock(p.Ends), p.Runs) }
	for _, b := range m.Binds { fmt.Println("  BIND", b.Limit, b.Says) }
	for _, b := range m.Eases { fmt.Println("  EASE", b.Fits, b.Says, b.Over, b.Gallons) }
	for i, a := range m.Areas { fmt.Printf("  %s need %.2f counts %.2f mean %.2f lowest %.2f allowed %.2f interval %d rest %d\n", q.Input.Areas[i].Name, a.Need, a.Counts, a.Mean, a.Lowest, a.Allowed, a.Interval, q.Input.Areas[i].Rest) }
	for z, a := range m.Plain { fmt.Printf("  plain %s %.1f min, area %d DU %.2f mult %.2f gal %.0f\n", q.Input.Zones[z].Name, a.Minutes, a.Area, a.DU, a.Multiplier, a.Gallons) }
	for _, w := range y.SoilWater(&q.Input) { fmt.Println("  ", q.Input.Areas[w.Area].Name, "past", w.Past, "most", w.Most, "may", w.May[6]) }
	fmt.Printf("%+v\n", y.Percent)
	for _, m := range y.Months { if m != nil { fmt.Println(m.Month, m.Fits, m.Gallons, m.PlainGallons, len(m.Programs)) } }
	}
}
