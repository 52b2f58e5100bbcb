package watering

// field is an area made ready for reckoning: which zones reach it, and the cuts found.
type field struct {
	area  int
	zones []int       // of Input.Zones, whose water reaches it
	rates [][]float32 // by index of zones, in/h, credit taken off
	// factor is from the rate of cells to what counts in a minute: 1/60, and less where
	// the field is less even than the drawing.
	factor float64
	inch   float64 // gallons that its own zones take for an inch of its mean
	// pool is the mean of some target share of its cells by index of zones, in a minute.
	// Each is a bound that holds for every program and every month: no share of the
	// cells gets less than the driest.
	pool  [][]float64
	low   []float64 // what the driest share gets of each zone alone, in a minute
	dry   bool      // its driest share gets nothing from anything
	water []float64
	copy  []float64
	order []int32
}

func (in *Input) fields() []*field {
	var all []*field
	for i := range in.Areas {
		a := &in.Areas[i]
		f := &field{area: i}
		for z, r := range a.Rates {
			if r = a.credited(z, r); r != nil {
				f.zones = append(f.zones, z)
				f.rates = append(f.rates, r)
			}
		}
		f.ready(in, a)
		all = append(all, f)
	}
	return all
}

// credited is the rates of a zone that count; nil when none do.
func (a *Area) credited(zone int, rates []float32) []float32 {
	if a.Credit == nil || a.Credit[zone] == 1 {
		return some(rates)
	}
	less := make([]float32, len(rates))
	for c, v := range rates {
		less[c] = v * float32(a.Credit[zone])
	}
	return some(less)
}

func some(rates []float32) []float32 {
	for _, v := range rates {
		if v > 0 {
			return rates
		}
	}
	return nil
}

// ready finds how uneven the drawing is when its own zones run as long as each other,
// and the first cuts: the driest of that run and of each zone by itself.
func (f *field) ready(in *Input, a *Area) {
	f.factor = 1.0 / 60
	if f.dry = len(f.zones) == 0; f.dry {
		return
	}
	n := len(f.rates[0])
	f.water, f.copy, f.order = make([]float64, n), make([]float64, n), make([]int32, n)
	share := in.Target.share()
	alike, every := make([]float64, len(f.zones)), make([]float64, len(f.zones))
	for i, z := range f.zones {
		every[i] = 1
		for _, own := range in.Zones[z].Own {
			if own == f.area {
				alike[i] = 1
			}
		}
	}
	if low, _ := f.cut(every, share); low <= 0 {
		f.dry = true
		return
	}
	low, cut := f.cut(alike, share)
	if low <= 0 {
		alike = every
		low, cut = f.cut(every, share)
	}
	mean, _ := f.cut(alike, 1)
	for i, z := range f.zones {
		f.inch += alike[i] * float64(in.Zones[z].Flow) * 60 / mean
	}
	if a.FieldDU > 0 {
		f.factor *= min(1, evenness(float64(a.FieldDU), in.Target)*mean/low)
	}
	f.add(cut)
	for i := range f.zones {
		one := make([]float64, len(f.zones))
		one[i] = 1
		low, cut := f.cut(one, share)
		f.low = append(f.low, low*f.factor)
		f.add(cut)
	}
}

// cut finds what the driest share gets by hours of each zone, and those cells' mean rate
// of each zone, in/h.
func (f *field) cut(hours []float64, share float64) (water float64, rates []float64) {
	f.wet(hours)
	whole, part := driest(f.water, f.copy, f.order, share)
	rates = make([]float64, len(f.zones))
	for i := range f.zones {
		rates[i] = meanOf(f.rates[i], f.order, whole, part)
	}
	return meanOf(f.water, f.order, whole, part), rates
}

// wet is what each cell gets by hours of each zone.
func (f *field) wet(hours []float64) {
	clear(f.water)
	for i, h := range hours {
		if h == 0 {
			continue
		}
		for c, r := range f.rates[i] {
			f.water[c] += h * float64(r)
		}
	}
}

// add puts a cut into the pool, in a minute, unless one there asks as much or more.
func (f *field) add(rates []float64) bool {
	cut := make([]float64, len(rates))
	for i, r := range rates {
		cut[i] = r * f.factor
	}
	for _, have := range f.pool {
		less := true
		for i := range cut {
			less = less && have[i] <= cut[i]+1e-9
		}
		if less {
			return false
		}
	}
	f.pool = append(f.pool, cut)
	return true
}

// received is what counts for an area of minutes of each zone of Input.Zones, inches.
func (f *field) received(minutes func(zone int) float64, share float64) float64 {
	ran, any := f.ran(minutes)
	if !any {
		return 0
	}
	f.wet(ran)
	copy(f.copy, f.water)
	return driestMean(f.copy, share) * f.factor
}

// driestOf is the same, with the mean rates of the cells that are the driest, in/h; nil
// when nothing ran.
func (f *field) driestOf(minutes func(zone int) float64, share float64) (float64, []float64) {
	ran, any := f.ran(minutes)
	if !any {
		return 0, nil
	}
	water, cut := f.cut(ran, share)
	return water * f.factor, cut
}

// atLeast is what the driest share gets at least: no less than the driest of each zone by
// itself together.
func (f *field) atLeast(minutes func(zone int) float64) float64 {
	sum := 0.0
	for i, z := range f.zones {
		sum += minutes(z) * f.low[i]
	}
	return sum
}

func (f *field) ran(minutes func(zone int) float64) (ran []float64, any bool) {
	ran = make([]float64, len(f.zones))
	for i, z := range f.zones {
		ran[i] = minutes(z)
		any = any || ran[i] > 0
	}
	return ran, any
}
