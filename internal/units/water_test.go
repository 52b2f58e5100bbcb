package units

import (
	"math"
	"strings"
	"testing"
)

func TestWaterInPipesIsPrintedAsPeopleSayIt(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{US.Velocity(4.86), "4.9 ft/s"}, {Metric.Velocity(5), "1.52 m/s"}, {US.Velocity(FeetPerSecond(math.NaN())), "– ft/s"},
		{US.Volume(5), "5 gal"}, {US.Volume(2.5), "2.5 gal"}, {Metric.Volume(5), "18.9 L"}, {Metric.Volume(Gallons(20 / LitresPerGallon)), "20 L"},
		{US.Time(22.5), "22.5 s"}, {Metric.Time(30), "30 s"},
		{US.PipeSize(.5), "1/2 in"}, {US.PipeSize(.75), "3/4 in"}, {US.PipeSize(1), "1 in"}, {US.PipeSize(1.25), "1-1/4 in"}, {US.PipeSize(2.5), "2-1/2 in"}, {US.PipeSize(12), "12 in"},
		{US.PipeSize(.625), "5/8 in"}, {US.PipeSize(Inches(math.Inf(1))), "–"},
		// Designations of ISO 6708 for the inch sizes.
		{Metric.PipeSize(.5), "DN 15"}, {Metric.PipeSize(1.25), "DN 32"}, {Metric.PipeSize(3), "DN 80"}, {Metric.PipeSize(1.1), "28 mm"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestWaterReadersRefuseInSentences(t *testing.T) {
	for typed, err := range map[string]error{
		"fast": second(ParseVelocity("fast", US)), "5 knots": second(ParseVelocity("5 knots", US)), "-5": second(ParseVelocity("-5", US)), "400": second(ParseVelocity("400", US)),
		"5 pints": second(ParseVolume("5 pints", US)), "0": second(ParseVolume("0", Metric)), "1e6": second(ParseVolume("1000000", US)),
		"soon": second(ParseTime("soon")), "0 s": second(ParseTime("0 s")), "2 days": second(ParseTime("2 days")), "100000": second(ParseTime("100000")),
	} {
		if err == nil || !strings.HasSuffix(err.Error(), ".") || strings.Contains(err.Error(), "invalid") {
			t.Errorf("%q: %v", typed, err)
		}
	}
}

func second[T any](_ T, err error) error { return err }

func FuzzWaterReaders(f *testing.F) {
	for _, s := range []string{"5", "5 gal", "1.5 m/s", "22.5 s", "3 l", "-1 ft/s", "1e9", "½ gal"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		holds := func(what string, v, most float64, err error) {
			if err != nil {
				checkSentence(t, err.Error())
			} else if !(v > 0 && v <= most) {
				t.Errorf("%s %q: %v", what, s, v)
			}
		}
		for _, sys := range []System{US, Metric} {
			fast, err := ParseVelocity(s, sys)
			holds("velocity", float64(fast), float64(MaxVelocity), err)
			volume, err := ParseVolume(s, sys)
			holds("volume", float64(volume), float64(MaxVolume), err)
		}
		short, err := ParseTime(s)
		holds("time", float64(short), float64(MaxTime), err)
	})
}
