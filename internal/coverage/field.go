package coverage

import (
	"context"
	"math"
	"slices"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// Field keeps the water of one plan so that an edit redoes only what it touches:
// a moved head is taken off the grid and put back elsewhere, the others keep
// their footprints. What it answers never depends on the edits that led to the
// plan. It is not safe for use by two goroutines at once.
type Field struct {
	whole bool // the last update came to its end; if not, the next starts afresh
	lean  bool // only evenness is wanted: who reaches where is not counted
	blind bool // nobody looks at the map

	frame     geom.Frame
	plots     []plot
	index     map[plan.ID]int // of the plots
	obstacles []obstacle
	lips      lips
	scale     int
	walled    int // counts the changes of the obstacles

	land    *ground
	grid    *grid
	showers []*shower // by id
	kept    int       // bytes of their footprints
	known   profiles
	tables  map[tableKey]*Table
	reaches map[*profile]*Table

	tell  Progress  // of the load under way; nil is told nothing
	swept windswept // scratch: the rates of the head at hand in the wind

	count  counter
	tally  tally
	blocks blocks
	reads  []areaRead // by plot; what is dirty is read again
	bytes  []byte     // the map as it was last given
	shown  geom.Frame // the frame it was given for
}

type tableKey struct {
	fall *profile
	peak int32
}

// New returns an empty field.
func New() *Field { return &Field{} }

// NewUnseen returns an empty field whose map nobody looks at: it reads the same
// and is never painted, which for a large plan takes a quarter of an update. It has
// no Window to give.
func NewUnseen() *Field { return &Field{blind: true} }

// Changed is what an update changed on the map.
type Changed struct {
	Cells geom.Cells // the dirty rectangle
	Frame bool       // the frame itself is another: every cell is new
}

// Compute reckons a plan from nothing. The error is the context's.
func Compute(ctx context.Context, p *plan.Plan) (*Result, error) {
	r, _, err := New().Update(ctx, p)
	return r, err
}

// Update brings the field to the plan and returns the same Result as Compute
// would, with what changed on the map. The error is the context's; after one the
// field starts afresh.
func (f *Field) Update(ctx context.Context, p *plan.Plan) (*Result, Changed, error) {
	return f.UpdateAt(ctx, p, nil)
}

// UpdateAt is Update at given pressures.
func (f *Field) UpdateAt(ctx context.Context, p *plan.Plan, given Given) (*Result, Changed, error) {
	runs, set, out := settings(p, given, &f.known)
	plots := plotsOf(p)
	s := scene{
		frame: frameOf(drawn(p, plots, set), float64(p.Options.CellFt)),
		plots: plots, obstacles: obstaclesOf(p), lips: lipsOf(p, plots), settings: set, scale: scaleFor(set),
	}
	if err := f.load(ctx, s); err != nil {
		return nil, Changed{}, err
	}
	if err := f.read(ctx); err != nil {
		return nil, Changed{}, err
	}
	r := f.report(p, runs, out)
	if f.blind {
		return r, Changed{}, nil
	}
	changed := Changed{Frame: f.frame != f.shown}
	changed.Cells = f.paint(r, changed.Frame)
	f.shown = f.frame
	return r, changed, nil
}

// Frame is the raster of the field.
func (f *Field) Frame() geom.Frame { return f.frame }

// scene is what the water depends on.
type scene struct {
	frame     geom.Frame
	plots     []plot
	obstacles []obstacle
	lips      lips
	settings  []setting
	scale     int
}

// load brings the grid and the ledger to a scene.
func (f *Field) load(ctx context.Context, s scene) error {
	if !f.whole || f.frame != s.frame || f.scale != s.scale {
		f.reset(s.frame, s.scale)
	}
	f.whole = false
	relaid := f.land == nil || !sameLips(f.lips, s.lips) || !samePlots(f.plots, s.plots)
	if relaid {
		f.lay(s)
	}
	walls := !sameObstacles(f.obstacles, s.obstacles)
	if walls {
		f.walled++
	}
	f.obstacles = s.obstacles
	if err := f.exchange(ctx, s.settings, walls, relaid); err != nil {
		return err
	}
	f.forget()
	f.whole = true
	return ctx.Err()
}

func (f *Field) reset(frame geom.Frame, scale int) {
	if f.frame != frame {
		f.bytes = make([]byte, frame.Size())
	}
	f.frame, f.scale = frame, scale
	f.grid = newGrid(frame)
	f.land, f.plots, f.obstacles, f.showers = nil, nil, nil, nil
	f.kept = 0
	f.tables, f.reaches = map[tableKey]*Table{}, map[*profile]*Table{}
}

// lay makes the ground anew.
func (f *Field) lay(s scene) {
	f.plots, f.lips = s.plots, s.lips
	f.index = make(map[plan.ID]int, len(s.plots))
	for i := range s.plots {
		f.index[s.plots[i].id] = i
	}
	f.land = groundOf(f.frame, s.plots, s.lips)
	f.grid.amend = make([]int32, len(f.land.pieces))
	f.reads = make([]areaRead, len(s.plots))
	for i := range f.reads {
		f.reads[i].dirty = true
	}
}

// exchange takes away the heads that are gone or set otherwise and adds the new
// ones. Both lists are by id.
func (f *Field) exchange(ctx context.Context, set []setting, walls, relaid bool) error {
	next := make([]*shower, 0, len(set))
	i := 0
	for k := range set {
		for i < len(f.showers) && f.showers[i].id < set[k].id {
			f.remove(f.showers[i], relaid)
			i++
		}
		var old *shower
		if i < len(f.showers) && f.showers[i].id == set[k].id {
			old = f.showers[i]
			i++
		}
		next = append(next, f.renew(old, &set[k], walls, relaid))
		f.tell.at(k+1, len(set))
		if err := ctx.Err(); err != nil {
			return err
		}
	}
	for ; i < len(f.showers); i++ {
		f.remove(f.showers[i], relaid)
	}
	f.showers = next
	return nil
}

// renew is the shower of a setting: the old one when it still holds.
func (f *Field) renew(old *shower, s *setting, walls, relaid bool) *shower {
	if old != nil && old.setting == *s {
		if !walls || sameWalls(old.walls, wallsOf(s, f.obstacles)) {
			f.carry(old, walls, relaid)
			return old
		}
	}
	if old != nil {
		f.remove(old, relaid)
	}
	return f.add(s)
}

func (f *Field) add(s *setting) *shower {
	n := &shower{setting: *s}
	n.walls = wallsOf(s, f.obstacles)
	n.fill(f.frame)
	n.cells = n.mask.Bound()
	drawn := n.setting
	if n.throw/f.frame.Cell < fewest {
		drawn.fall = flat
	}
	n.rate = f.table(drawn.fall, int32(math.Round(drawn.peak()*f.unit())))
	n.reach = f.reachOf(drawn.fall)
	f.blow(n)
	f.pour(n, 1)
	f.grid.amendBy(n, f.land, 1)
	n.account(f.land, &f.tally)
	n.swept = nil
	f.soil(n)
	f.keep(n)
	return n
}

// pour adds a head to the grid (sign +1) or takes it away (-1).
func (f *Field) pour(s *shower, sign int32) {
	if s.swept != nil {
		f.grid.pourSwept(s, sign, !f.lean)
		return
	}
	f.grid.pour(s, sign)
	if !f.lean {
		f.grid.count(s, sign)
	}
}

// blow works out the rates of a head in the wind. They hold until the next
// head's: whoever asks for them lets go of them at once.
func (f *Field) blow(s *shower) {
	if !s.air.calm() {
		f.swept.sweep(s, f.frame)
		s.swept = &f.swept
	}
}

// maskBudget bounds the memory of the footprints kept, in bytes: some 10,000
// heads. Those beyond it are made again when they are wanted.
const maskBudget = 128 << 20

func (f *Field) keep(s *shower) {
	n := s.mask.Bytes()
	if f.kept+n > maskBudget {
		s.mask = geom.Mask{}
		return
	}
	f.kept += n
}

// recall makes a footprint again that was not kept.
func (f *Field) recall(s *shower) {
	if s.mask.Rows() == 0 {
		s.fill(f.frame)
	}
}

func (f *Field) release(s *shower) {
	f.kept -= s.mask.Bytes()
	s.mask = geom.Mask{}
}

// remove takes a head off the grid. On ground laid anew its amendments are not
// there yet.
func (f *Field) remove(s *shower, relaid bool) {
	f.recall(s)
	f.blow(s)
	f.pour(s, -1)
	if !relaid {
		f.grid.amendBy(s, f.land, -1)
	}
	s.swept = nil
	f.soil(s)
	f.release(s)
}

// soil marks the areas under a head to be read again.
func (f *Field) soil(s *shower) {
	for i := range f.reads {
		if f.near(i, s) {
			f.reads[i].dirty = true
		}
	}
}

// near reports whether the cells that a head touches come near an area.
func (f *Field) near(i int, s *shower) bool {
	b, c := s.cells, f.frame.Around(f.plots[i].bound)
	return b.X0 < c.X1 && c.X0 < b.X1 && b.Y0 < c.Y1 && c.Y0 < b.Y1
}

// carry brings a head that stays as it is onto new ground or past obstacles that
// are numbered anew.
func (f *Field) carry(s *shower, walls, relaid bool) {
	walls = walls && len(s.walls) > 0
	if !walls && !relaid {
		return
	}
	had := s.mask.Rows() > 0
	f.recall(s)
	f.blow(s)
	defer func() { s.swept = nil }()
	if walls {
		s.walls = wallsOf(&s.setting, f.obstacles)
	}
	if relaid {
		f.grid.amendBy(s, f.land, 1)
	}
	s.account(f.land, &f.tally)
	if !had {
		s.mask = geom.Mask{}
	}
}

// sameWalls reports whether walls are the same lines, whatever they belong to.
func sameWalls(a, b []geom.Segment) bool {
	return slices.EqualFunc(a, b, func(x, y geom.Segment) bool {
		return x.A == y.A && x.B == y.B && (x.Of < 0) == (y.Of < 0)
	})
}

func (f *Field) table(fall *profile, peak int32) *Table {
	k := tableKey{fall, peak}
	t, ok := f.tables[k]
	if !ok {
		t = newTable(fall, float64(peak))
		f.tables[k] = t
	}
	return t
}

func (f *Field) reachOf(fall *profile) *Table {
	t, ok := f.reaches[fall]
	if !ok {
		t = newReach(fall)
		f.reaches[fall] = t
	}
	return t
}

// forget drops tables that no head uses any more.
func (f *Field) forget() {
	if len(f.tables) <= 2*len(f.showers)+16 {
		return
	}
	used := map[*Table]bool{}
	for _, s := range f.showers {
		used[s.rate] = true
	}
	for k, t := range f.tables {
		if !used[t] {
			delete(f.tables, k)
		}
	}
}

// unit is how many steps of the grid make one inch per hour.
func (f *Field) unit() float64 { return math.Ldexp(1, f.scale) }

// usualScale is the finest step of the grid: 2^-22 in/h.
const usualScale = 22

// scaleFor is the scale at which even all heads on one place would not overflow
// the grid: the sum of their greatest rates stays below 2^30 steps.
func scaleFor(set []setting) int {
	sum := 0.0
	for i := range set {
		sum += set[i].peak()
	}
	scale := usualScale
	for scale > 0 && math.Ldexp(sum, scale) >= 1<<30 {
		scale--
	}
	return scale
}
