package stakeout

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// compassWords are directions of the words of a compass on a plan whose north is up.
var compassWords = map[string]float64{"east": 0, "north-east": 45, "north": 90, "north-west": 135, "west": 180, "south-west": 225, "south": 270, "south-east": 315}

var (
	sayBeside = regexp.MustCompile(`^(\d+)° (left|right) of (.+)$`)
	sayGoing  = regexp.MustCompile(`^(?:the way )?along .+, going ([a-z-]+)$`)
)

// pointed reads the direction that words give from a head, and how exact the words are.
func pointed(t *testing.T, p *plan.Plan, s *Plan, id plan.ID, words string) (deg, exact float64) {
	t.Helper()
	if m := sayBeside.FindStringSubmatch(words); m != nil {
		n, _ := strconv.Atoi(m[1])
		deg, exact = pointed(t, p, s, id, m[3])
		if m[2] == "right" {
			n = -n
		}
		return deg + float64(n), exact + 0.5
	}
	if m := sayGoing.FindStringSubmatch(words); m != nil {
		return compassWords[m[1]], 22.5 + 3
	}
	h := p.Heads[id]
	look := func(x, y float64) float64 {
		return math.Atan2(y-float64(h.Y), x-float64(h.X)) * 180 / math.Pi
	}
	if behind, ok := strings.CutSuffix(words, " behind you"); ok {
		deg, exact = pointed(t, p, s, id, strings.TrimPrefix(behind, "in line with "))
		return deg + 180, exact
	}
	words = strings.TrimPrefix(words, "toward ")
	if tag, ok := strings.CutPrefix(words, "head "); ok {
		for _, o := range plan.SortedIDs(p.Heads) {
			if p.HeadTag(o) == tag {
				return look(float64(p.Heads[o].X), float64(p.Heads[o].Y)), 3
			}
		}
	}
	for _, q := range s.Points {
		if q.Letter == words {
			return look(q.At[0], q.At[1]), 3
		}
	}
	t.Fatalf("nobody could aim by %q", words)
	return 0, 0
}

// Every edge of every arc is where the words point, read back from the words alone.
func TestEdgesOfArcsAreWhereTheWordsPoint(t *testing.T) {
	t.Parallel()
	said := map[string]int{}
	check := func(p *plan.Plan, s *Plan) {
		for id, a := range Aims(p, s) {
			h := p.Heads[id]
			strip := p.Nozzles[h.Nozzle].Family == catalog.Strip
			if a.Strip != strip || a.Whole != (!strip && h.SweepDeg >= 360) {
				t.Errorf("head %s: %+v", h.Tag, a)
			}
			if strip || a.Whole {
				continue
			}
			for words, want := range map[string]float64{a.Left: float64(h.StartDeg + h.SweepDeg), a.Right: float64(h.StartDeg)} {
				switch {
				case strings.HasPrefix(words, "along"):
					said["along an edge"]++
				case strings.HasPrefix(words, "in line"):
					said["in line with something behind"]++
				case strings.HasPrefix(words, "toward"):
					said["toward something"]++
				case strings.HasSuffix(words, "by compass"):
					said["by compass"]++
					continue
				default:
					said["degrees beside"]++
				}
				if deg, exact := pointed(t, p, s, id, words); math.Abs(math.Remainder(deg-want, 360)) > exact+1e-6 {
					t.Errorf("head %s: %q points %.1f°, the edge is at %.1f°", h.Tag, words, deg, want)
				}
			}
		}
	}
	p, s := stakedOut(t, demo(t))
	check(p, s)
	t.Logf("shown: the demo: %v", said)
	for seed := range uint64(20) {
		p, s := stakedOut(t, yardOf(seed, 30))
		check(p, s)
	}
	t.Logf("shown: with yards: %v", said)
}

// What the demo says of heads of each kind.
func TestAimsOfTheDemo(t *testing.T) {
	t.Parallel()
	p, s := stakedOut(t, demo(t))
	aims := Aims(p, s)
	if a := aims["h1-4"]; a.Left != "along the south edge of Service walk, going east" || a.Right != "along the south edge of Service walk, going west" {
		t.Errorf("head 1-4 lies on the walk: %+v", a)
	}
	if a := aims["h1-6"]; !a.Whole || a.Left != "" {
		t.Errorf("head 1-6 is a full circle: %+v", a)
	}
	for _, id := range []plan.ID{"h5-1", "h5-2", "h5-3"} {
		t.Logf("shown: strip %s: %+v", id, aims[id])
		if !aims[id].Strip || aims[id].Left == "" {
			t.Errorf("head %s is a strip: %+v", id, aims[id])
		}
	}
}

func BenchmarkAims(b *testing.B) {
	for _, n := range []int{100, 1000} {
		p, s := stakedOut(b, yardOf(4, n))
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for b.Loop() {
				Aims(p, s)
			}
		})
	}
}
