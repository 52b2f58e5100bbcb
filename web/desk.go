package web

import (
	"context"
	"maps"
	"slices"
	"sync"
	"time"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// How long an open plan nobody asks for is kept, and how many are.
const (
	idleMost = 10 * time.Minute
	openMost = 8
)

// desk holds the plans that are open. An open plan keeps the engine that knows
// its last picture, so that the next one costs only what changed.
type desk struct {
	mu   sync.Mutex
	open map[string]*opened
}

// opened is one plan on the desk.
type opened struct {
	id         string
	turn       chan struct{} // one computation at a time; holds the engine
	estimating chan struct{} // one job at a time, beside the engine
	engine     *design.Engine

	mu      sync.Mutex
	saved   plan.Saved // as last heard of; Rev 0 when not loaded yet
	deleted bool
	used    time.Time
	asked   asked // what was last worked out on request
	papers  papers
	viewers map[*viewer]bool
}

// take returns the open plan of an id, opening it if need be, and clears away
// the ones nobody uses.
func (d *desk) take(id string, now time.Time) *opened {
	d.mu.Lock()
	defer d.mu.Unlock()
	o := d.open[id]
	if o == nil {
		o = &opened{
			id: id, turn: make(chan struct{}, 1), estimating: make(chan struct{}, 1),
			engine: new(design.Engine), viewers: map[*viewer]bool{},
		}
		d.open[id] = o
	}
	o.touch(now)
	d.sweep(now, id)
	return o
}

// sweep drops idle plans: the old ones, and beyond openMost the one idle
// longest. One that is watched or just asked for stays.
func (d *desk) sweep(now time.Time, keep string) {
	ids := slices.Sorted(maps.Keys(d.open))
	slices.SortStableFunc(ids, func(a, b string) int { return d.open[a].last().Compare(d.open[b].last()) })
	for _, id := range ids {
		o := d.open[id]
		if id == keep || o.watched() {
			continue
		}
		if len(d.open) > openMost || now.Sub(o.last()) > idleMost {
			delete(d.open, id)
		}
	}
}

// moved notes that a plan has a new revision and tells those who look at it.
func (d *desk) moved(p plan.Saved) {
	d.mu.Lock()
	o := d.open[p.ID]
	d.mu.Unlock()
	if o != nil {
		o.hear(p)
	}
}

// gone notes that a plan was deleted.
func (d *desk) gone(id string) {
	d.mu.Lock()
	o := d.open[id]
	delete(d.open, id)
	d.mu.Unlock()
	if o != nil {
		o.end()
	}
}

func (o *opened) touch(now time.Time) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.used = now
}

func (o *opened) last() time.Time {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.used
}

func (o *opened) watched() bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	return len(o.viewers) > 0
}

// hear takes a newer stored plan; an older one, come late, is left. The first is
// no news.
func (o *opened) hear(p plan.Saved) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if p.Rev <= o.saved.Rev {
		return
	}
	first := o.saved.Rev == 0
	o.saved = p
	for v := range o.viewers {
		if !first {
			v.tell()
		}
	}
}

// end tells the viewers of a deleted plan.
func (o *opened) end() {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.deleted = true
	for v := range o.viewers {
		v.tell()
	}
}

// stored returns the plan as stored, from memory when it is there: all writing
// goes through this process.
func (o *opened) stored(ctx context.Context, plans Plans) (plan.Saved, error) {
	o.mu.Lock()
	p, deleted := o.saved, o.deleted
	o.mu.Unlock()
	if deleted {
		return plan.Saved{}, plan.ErrNotFound
	}
	if p.Rev > 0 {
		return p, nil
	}
	p, err := plans.Load(ctx, o.id)
	if err != nil {
		return plan.Saved{}, err
	}
	o.hear(p)
	return p, nil
}

// picture is what one run of the engine yields.
type picture struct {
	plan   *plan.Plan
	design *design.Design
	field  *coverage.Field // only good while the turn is held
	frame  geom.Frame
	// digs: what is dug is to be told, too.
	digs bool
	// running is set when map and readings are to be of the zones as they run.
	running *design.Running
}

// asRunning asks for the layout at the pressures the heads really have.
const asRunning = "running"

// run computes the picture of a plan and hands it to f while nobody else can
// change it.
func (s *Site) run(ctx context.Context, o *opened, p *plan.Plan, f func(picture) error) error {
	return s.runAs(ctx, o, p, "", f)
}

// runAs is run, the map being of the drawing or, as "running", of the zones as
// they run.
func (s *Site) runAs(ctx context.Context, o *opened, p *plan.Plan, as string, f func(picture) error) error {
	return s.compute(ctx, o.turn, func(ctx context.Context) error {
		d, err := o.engine.Run(ctx, p)
		if err != nil {
			return err
		}
		field := o.engine.Field()
		pic := picture{plan: p, design: d, field: field, frame: field.Frame()}
		if as == asRunning {
			if pic.running, err = o.engine.Running(ctx, p, d); err != nil {
				return err
			}
			pic.field, pic.frame = pic.running.Field, pic.running.Field.Frame()
		}
		return f(pic)
	})
}

// compute runs f when its turn has come and a core is free. It ends with the
// request, with the server, or when it takes too long.
func (s *Site) compute(ctx context.Context, turn chan struct{}, f func(context.Context) error) error {
	return s.within(ctx, computeMost, []chan struct{}{turn, s.cores}, f)
}

// within runs f when it has a place in each of the given, for so long at the
// most.
func (s *Site) within(ctx context.Context, most time.Duration, all []chan struct{}, f func(context.Context) error) error {
	ctx, cancel := context.WithTimeout(ctx, most)
	defer cancel()
	defer context.AfterFunc(s.life, cancel)()
	for _, places := range all {
		free, err := claim(ctx, places)
		if err != nil {
			return err
		}
		defer free()
	}
	return f(ctx)
}

// claim takes a place and returns how to give it back.
func claim(ctx context.Context, places chan struct{}) (func(), error) {
	select {
	case places <- struct{}{}:
		return func() { <-places }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// cells are the bytes of the whole map, southernmost row first.
func (p picture) cells() []byte {
	return p.field.Cells(geom.Cells{X1: p.frame.NX, Y1: p.frame.NY})
}
