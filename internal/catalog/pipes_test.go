package catalog

import (
	"errors"
	"math"
	"math/rand/v2"
	"sort"
	"strings"
	"testing"

	"evenfall/internal/units"
)

func pipeClass(t *testing.T, id string) PipeClass {
	t.Helper()
	c, ok := FindPipeClass(id)
	if !ok {
		t.Fatalf("no pipe class %q", id)
	}
	return c
}

func device1(t *testing.T, id string) Device {
	t.Helper()
	d, ok := FindDevice(id)
	if !ok {
		t.Fatalf("no device %q", id)
	}
	return d
}

func TestBuiltinPipesAndDevicesAreSoundSortedAndGeneric(t *testing.T) {
	pipes, devices := PipeClasses(), Devices()
	if !sort.SliceIsSorted(pipes, func(i, j int) bool { return pipes[i].ID < pipes[j].ID }) ||
		!sort.SliceIsSorted(devices, func(i, j int) bool { return devices[i].ID < devices[j].ID }) {
		t.Error("the rows are not sorted by id")
	}
	seen := map[string]bool{}
	row := func(id, name, source string, generic bool, err error) {
		if err != nil {
			t.Errorf("%s: %v", id, err)
		}
		if !planID.MatchString(id) || name == "" || source == "" || !generic || seen[id] || seen["name "+name] {
			t.Errorf("%s (%s): want an id a plan takes, a name and a source, generic, each once", id, name)
		}
		seen[id], seen["name "+name] = true, true
	}
	for _, c := range pipes {
		row(c.ID, c.Name, c.Source, c.Generic, c.Validate())
		if c.Convention == "" {
			t.Errorf("%s does not say how its inside diameters were taken", c.ID)
		}
	}
	for _, d := range devices {
		row(d.ID, d.Name, d.Source, d.Generic, d.Validate())
		if d.Replace != strings.Contains(d.Source, "A default to replace") {
			t.Errorf("%s: marked to be replaced %v, but its source says %q", d.ID, d.Replace, d.Source)
		}
	}
	for _, id := range []string{"pvc-sch40", "pvc-class200", "pvc-class315", "pe-100", "copper-l", "steel-40"} {
		pipeClass(t, id)
	}
	for _, id := range []string{
		"meter-0_625", "meter-0_75", "meter-1", "isolation-ball-1", "isolation-gate-1", "backflow-pvb-1", "backflow-svb-1", "backflow-avb-1", "backflow-dc-1",
		"backflow-rp-1", "valve-1", "valve-1-low", "master-valve-1", "swing-joint-0_5", "filter-screen-1",
	} {
		device1(t, id)
	}
	if _, ok := FindPipeClass("pvc-class100"); ok {
		t.Error("there is a class 100")
	}
	if _, ok := FindDevice("meter-9"); ok {
		t.Error("there is a 9 in meter")
	}
}

// Schedule 40: inside diameters as printed in a textbook's copy of the table that
// goes with ASTM D1785; SDR 21: outside − 2 (least wall + 0.010), which gives back
// the published friction table of 200 psi pipe to 0.7 %. The rating is the
// standards' 2 S t / (D − t) with S of 2,000 psi, printed to tens of psi.
func TestPipeDimensionsAreTheStandards(t *testing.T) {
	for id, want := range map[string][]float64{
		"pvc-sch40":    {.602, .804, 1.029, 1.360, 1.590, 2.047, 2.445, 3.042},
		"pvc-class200": {.910, 1.169, 1.482, 1.700, 2.129, 2.581, 3.146},
		"pvc-class315": {.696},
		"pe-100":       {.622, .824, 1.049, 1.380, 1.610, 2.067},
		"copper-l":     {.545, .785, 1.025, 1.265, 1.505, 1.985},
		"steel-40":     {.622, .824, 1.049, 1.380, 1.610, 2.067, 2.469, 3.068},
	} {
		c := pipeClass(t, id)
		if len(c.Sizes) != len(want) {
			t.Fatalf("%s has %d sizes, want %d", id, len(c.Sizes), len(want))
		}
		for i, s := range c.Sizes {
			if math.Abs(float64(s.Inside)-want[i]) > 1e-9 {
				t.Errorf("%s %g in: inside %g, want %g", id, float64(s.Nominal), float64(s.Inside), want[i])
			}
			if c.Convention == averageInside && math.Abs(float64(s.Inside-(s.Outside-2*(s.Wall+.010)))) > 0.007 {
				t.Errorf("%s %g in: inside %g is not the average by its convention", id, float64(s.Nominal), float64(s.Inside))
			}
			if c.Convention == leastWall && math.Abs(float64(s.Inside-(s.Outside-2*s.Wall))) > 0.0005 {
				t.Errorf("%s %g in: inside %g is not outside less two walls", id, float64(s.Nominal), float64(s.Inside))
			}
			if c.Material != PVC {
				continue
			}
			rating := 2 * 2000 * float64(s.Wall) / float64(s.Outside-s.Wall)
			// A class is rated by its name; the least wall of small sizes is more than it asks for.
			if id == "pvc-sch40" && math.Abs(float64(s.Rating)-rating) > 5.5 || float64(s.Rating) > 1.03*rating {
				t.Errorf("%s %g in: rated %g psi, want %.1f or less", id, float64(s.Nominal), float64(s.Rating), rating)
			}
		}
	}
}

// 0.4085 q/d²: the greatest flows at 5 ft/s (project's reference of published
// tables), here of the average inside of class 200.
func TestClass200CarriesWhatItShouldAtFiveFeetASecond(t *testing.T) {
	for nominal, want := range map[units.Inches]float64{.75: 10.14, 1: 16.73, 1.25: 26.88, 1.5: 35.37, 2: 55.48} {
		s, ok := pipeClass(t, "pvc-class200").Size(nominal)
		if got := 5 * float64(s.Inside*s.Inside) / 0.4085; !ok || math.Abs(got-want) > 0.01 {
			t.Errorf("%g in: %.2f gpm, want %.2f", float64(nominal), got, want)
		}
	}
}

// Meters follow the law of squares to 0.3 psi from a fifth of their safe flow up:
// 15 psi at 20, 30 and 50 gpm, 20 psi at 100 and 160.
func TestMetersAreTheTableOfDisplacementMeters(t *testing.T) {
	for id, k := range map[string]float64{"meter-0_625": .0375, "meter-0_75": .016667, "meter-1": .006, "meter-1_5": .002, "meter-2": .000781} {
		m := device1(t, id)
		last := m.Loss[len(m.Loss)-1]
		if last.Flow != m.MostGPM {
			t.Errorf("%s: the table ends at %g gpm, the safe flow is %g", id, float64(last.Flow), float64(m.MostGPM))
		}
		for q := float64(m.MostGPM) / 5; q <= float64(m.MostGPM); q += float64(m.MostGPM) / 50 {
			loss, known := m.LossAt(units.GPM(q))
			if want := k * q * q; !known && q < float64(m.MostGPM) || math.Abs(float64(loss)-want) > 0.31 {
				t.Errorf("%s at %.1f gpm: %.2f psi (known %v), the law of squares says %.2f", id, q, float64(loss), known, want)
			}
		}
	}
	if loss, known := device1(t, "meter-0_75").LossAt(14); loss != 3.1 || !known {
		t.Errorf("3/4 in meter at 14 gpm: %g psi, want 3.1", float64(loss))
	}
	if loss, known := device1(t, "meter-0_75").LossAt(60); known || math.Abs(float64(loss)-60) > 1e-9 {
		t.Errorf("3/4 in meter at twice its flow: %g psi, known %v; want four times 15, not known", float64(loss), known)
	}
}

// The loss of every device rises with the flow, is 0 at none, and is the same
// against the flow with its sign turned.
func TestLossesRiseWithTheFlowAndAreOdd(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for _, d := range Devices() {
		last := d.Loss[len(d.Loss)-1].Flow
		for range 200 {
			a := units.GPM(rng.Float64()) * last * 1.5
			b := a + units.GPM(rng.Float64())*last*0.2 + 0.001
			la, _ := d.LossAt(a)
			lb, _ := d.LossAt(b)
			if !(lb > la) || la < 0 {
				t.Fatalf("%s: %g psi at %g gpm, %g psi at %g gpm", d.ID, float64(la), float64(a), float64(lb), float64(b))
			}
			if back, _ := d.LossAt(-a); back != -la {
				t.Fatalf("%s: %g psi against %g", d.ID, float64(back), float64(la))
			}
		}
		for _, p := range d.Loss {
			if got, known := d.LossAt(p.Flow); !known || math.Abs(float64(got-p.Loss)) > 1e-9 {
				t.Errorf("%s at its point of %g gpm: %g psi, want %g", d.ID, float64(p.Flow), float64(got), float64(p.Loss))
			}
		}
		if none, known := d.LossAt(0); none != 0 || !known {
			t.Errorf("%s with no flow: %g psi", d.ID, float64(none))
		}
	}
}

func TestCostIsMoneyOnlyWhereAllSizesHaveAPrice(t *testing.T) {
	c := pipeClass(t, "pvc-class200")
	before := 0.0
	for _, s := range c.Sizes {
		cost, money := c.CostPerFt(s)
		if money || cost <= before {
			t.Errorf("%g in: %g (money %v); want more plastic in each larger size, and no money", float64(s.Nominal), cost, money)
		}
		before = cost
	}
	// Area of the wall times 12 in: π (1.050 − .060) .060 × 12.
	if got := c.Sizes[0].PlasticPerFt(); math.Abs(got-2.239) > 0.001 {
		t.Errorf("a foot of 3/4 in has %.4f in³, want 2.239", got)
	}
	c.Sizes = append([]PipeSize(nil), c.Sizes...)
	c.Sizes[0].PricePerFt = 0.4
	if _, money := c.CostPerFt(c.Sizes[0]); money {
		t.Error("one price of seven is taken for money")
	}
	for i := range c.Sizes {
		c.Sizes[i].PricePerFt = 0.4 + float64(i)
	}
	if cost, money := c.CostPerFt(c.Sizes[1]); !money || cost != 1.4 {
		t.Errorf("with all prices: %g, money %v", cost, money)
	}
}

func TestFaultsOfPipesAndDevicesAreToldInSentences(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*PipeClass, *Device)
		member string
		words  string
	}{
		"no name":              {func(c *PipeClass, _ *Device) { c.Name = " " }, "/name", "empty"},
		"lead":                 {func(c *PipeClass, _ *Device) { c.Material = "lead" }, "/material", "pvc, pe, copper or steel"},
		"glued":                {func(c *PipeClass, _ *Device) { c.Joint = "glue" }, "/joint", "cement, insert"},
		"C of a slip":          {func(c *PipeClass, _ *Device) { c.C = 1500 }, "/c", "150 for plastic"},
		"no modulus":           {func(c *PipeClass, _ *Device) { c.ModulusPSI = 0 }, "/modulus_psi", "above 0"},
		"no sizes":             {func(c *PipeClass, _ *Device) { c.Sizes = nil }, "/sizes", "1 to"},
		"sizes out of order":   {func(c *PipeClass, _ *Device) { c.Sizes[1].Nominal = 0.5 }, "/sizes/1/nominal_in", "rising size"},
		"wider inside":         {func(c *PipeClass, _ *Device) { c.Sizes[0].Inside = 2 }, "/sizes/0/inside_in", "wider inside"},
		"all wall":             {func(c *PipeClass, _ *Device) { c.Sizes[0].Wall = 0.6 }, "/sizes/0/wall_in", "no room"},
		"no rating":            {func(c *PipeClass, _ *Device) { c.Sizes[0].Rating = 0 }, "/sizes/0/rating_psi", "above 0"},
		"price below 0":        {func(c *PipeClass, _ *Device) { c.Sizes[0].PricePerFt = -1 }, "/sizes/0/price_per_ft", "0 (not given)"},
		"a device of no use":   {func(_ *PipeClass, d *Device) { d.Kind = "tap" }, "/kind", "meter, isolation"},
		"backflow unsaid":      {func(_ *PipeClass, d *Device) { d.Backflow = "" }, "/backflow", "how it works"},
		"backflow unknown":     {func(_ *PipeClass, d *Device) { d.Backflow = "flap" }, "/backflow", "double_check"},
		"a meter that checks":  {func(_ *PipeClass, d *Device) { d.Kind = Meter }, "/backflow", "only a backflow device"},
		"most below least":     {func(_ *PipeClass, d *Device) { d.LeastGPM, d.MostGPM = 5, 4 }, "/most_gpm", "less than its least"},
		"psi below least":      {func(_ *PipeClass, d *Device) { d.LeastPSI, d.MostPSI = 50, 40 }, "/most_psi", "less than its least"},
		"no curve":             {func(_ *PipeClass, d *Device) { d.Loss = nil }, "/loss", "0 points"},
		"flows out of order":   {func(_ *PipeClass, d *Device) { d.Loss[1].Flow = d.Loss[0].Flow }, "/loss/1/flow_gpm", "rising flow"},
		"flows as good as one": {func(_ *PipeClass, d *Device) { d.Loss[1].Flow = d.Loss[0].Flow + 0.009 }, "/loss/1/flow_gpm", "0.01 gpm or more"},
		"loss that falls":      {func(_ *PipeClass, d *Device) { d.Loss[1].Loss = 0.1 }, "/loss/1/loss_psi", "never takes less"},
		"loss below 0":         {func(_ *PipeClass, d *Device) { d.Loss[0].Loss = -1 }, "/loss/0/loss_psi", "0 to"},
		"no flow in a point":   {func(_ *PipeClass, d *Device) { d.Loss[0].Flow = 0 }, "/loss/0/flow_gpm", "above 0"},
		"not a number":         {func(_ *PipeClass, d *Device) { d.MostPSI = units.PSI(math.NaN()) }, "/most_psi", "0 (not given)"},
	} {
		class, dev := pipeClass(t, "pvc-sch40"), device1(t, "backflow-pvb-1")
		class.Sizes = append([]PipeSize(nil), class.Sizes...)
		dev.Loss = append([]LossPoint(nil), dev.Loss...)
		c.change(&class, &dev)
		err := errors.Join(class.Validate(), dev.Validate())
		var f *Fault
		if !errors.As(err, &f) || f.Member != c.member || !strings.Contains(f.Sentence, c.words) || !strings.HasSuffix(f.Sentence, ".") {
			t.Errorf("%s: got %v at %v, want %s with %q", name, err, f, c.member, c.words)
		}
	}
}
