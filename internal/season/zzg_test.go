package season_test
import ("testing";"context";"fmt";"evenfall/internal/plan";"evenfall/internal/season";"evenfall/internal/watering";"os";"time")
func dump(prog *season.Program){
 m := prog.Year.Months[prog.Year.Peak]
 in := prog.Asked.Input
 fmt.Println("fits",m.Fits,"gal",m.Gallons,"least",m.Least,"plain",m.PlainGallons, "binds",len(m.Binds), len(m.Programs))
 for z := range in.Zones {
  row := make([]int,len(in.Calendar.Days))
  for _,p := range m.Programs { for _,r := range p.Runs { if r.Zone==z { for _,d := range p.Days { row[d]+=r.Minutes } } } }
  fmt.Println(in.Zones[z].ID,row)
 }
 for i,a := range m.Areas { fmt.Printf("%s need %.2f mean %.2f counts %.2f lowest %.3f allowed %.3f interval %d credit %v\n",in.Areas[i].ID,a.Need,a.Mean,a.Counts,a.Lowest,a.Allowed,a.Interval,in.Areas[i].Credit) }
}
func TestZZG(t *testing.T){
 run := func(name string, p *plan.Plan){
  t0:=time.Now()
  q,err := season.Ask(context.Background(),p,even(p,0.65),nil)
  if err!=nil {t.Fatal(err)}
  for i := range q.Input.Areas { if p.Areas[plan.ID(q.Input.Areas[i].ID)].Cover()==plan.Turf { q.Input.Areas[i].Rest=2 } }
  y,err := watering.PlanYear(context.Background(),&q.Input,nil)
  if err!=nil {t.Fatal(err)}
  prog := &season.Program{Asked:q,Year:y}
  fmt.Println("==",name,time.Since(t0)); dump(prog)
 }
 load := func(f string) *plan.Plan { b,_:=os.ReadFile("../../testdata/plans/"+f); p,err:=plan.Decode(b); if err!=nil {t.Fatal(err)}; return p}
 _ = watering.Half
 for _, days := range [][]string{nil} {
 p := load("demo-mended.json")
 p.Watering.Days = days
 run(fmt.Sprint("demo as is ",days),p)
 z := p.Zones["z6"]; z.Name="Island"; z.Station=7; p.Zones["z7"]=z
 for _,id := range []plan.ID{"h6-1","h6-2"} { h:=p.Heads[id]; h.Zone="z7"; p.Heads[id]=h }
 run(fmt.Sprint("split ",days),p)
 change(p,"island",func(a *plan.Area){a.Soil="sand"; a.RootsIn=6})
 run(fmt.Sprint("split, sand ",days),p)
 change(p,"island",func(a *plan.Area){a.OwnZonesOnly=true})
 run(fmt.Sprint("split, sand, own only ",days),p)
 change(p,"island",func(a *plan.Area){a.OwnZonesOnly=false; a.PlantHeightIn=24})
 run(fmt.Sprint("split, sand, height 24 ",days),p)
 }
 p := load("bed-end.json")
 run("bed-end",p)
}
