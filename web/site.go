package web

import (
	"context"
	"log/slog"
	"net/http"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"

	"evenfall/internal/plan"
)

// Plans is what the site needs of a store. The errors are those of package
// plan: ErrNotFound, ErrNothing, ErrNoRoom, *Stale, *Damaged, *Problem.
type Plans interface {
	List(ctx context.Context) ([]plan.Listed, error)
	Create(ctx context.Context, doc []byte) (plan.Saved, error)
	Load(ctx context.Context, id string) (plan.Saved, error)
	Commit(ctx context.Context, id string, base int64, p plan.Patch, label string) (plan.Saved, error)
	Undo(ctx context.Context, id string, base int64) (plan.Saved, plan.Step, error)
	Redo(ctx context.Context, id string, base int64) (plan.Saved, plan.Step, error)
	HistoryPage(ctx context.Context, id string, before int64, most int) (steps []plan.Step, older bool, err error)
	At(ctx context.Context, id string, number int64) ([]byte, plan.Step, error)
	GoBack(ctx context.Context, id string, base, number int64) (plan.Saved, error)
	Points(ctx context.Context, id string) ([]plan.Point, error)
	PointDoc(ctx context.Context, id string, point int64) ([]byte, plan.Point, error)
	KeepPoint(ctx context.Context, id string, base, number int64, name string) (plan.Point, error)
	ForgetPoint(ctx context.Context, id string, base, point int64) error
	GoBackTo(ctx context.Context, id string, base, point int64) (plan.Saved, error)
	Copy(ctx context.Context, id, name string) (plan.Saved, error)
	Archive(ctx context.Context, id string, base int64, away bool) error
	LastGood(ctx context.Context, id string) (plan.Good, error)
	Recover(ctx context.Context, id string) (plan.Saved, error)
	Delete(ctx context.Context, id string, base int64) error
	// HeldBy is when the newest backup was made that holds a plan; zero if none does.
	HeldBy(ctx context.Context, id string) (made time.Time, asNow bool, err error)
	// PutBlob keeps a picture of a media type and returns its SHA-256, by which
	// Blob finds it: plan.ErrNoPicture, plan.ErrPictureDamaged.
	PutBlob(ctx context.Context, kind string, bytes []byte) (sha256 string, err error)
	Blob(ctx context.Context, sha256 string) (kind string, bytes []byte, err error)
}

// Options is what a site is made of. Plans and Hosts are required.
type Options struct {
	Plans   Plans
	Hosts   []string // the Host values answered to, exactly: "127.0.0.1:8740"
	Data    string   // data folder, as shown to the user
	Version string   // of the program, as shown to the user
	Demo    []byte   // the demo document, to know it in the list; may be nil
	Log     *slog.Logger
	Now     func() time.Time
}

// Site is the web application. Make it with New.
type Site struct {
	Options
	cores   chan struct{}   // one place for each core that may compute
	long    chan struct{}   // one place for each job at a time; see job
	jobs    atomic.Int64    // asked for and not ended
	life    context.Context // ends when the server stops
	end     context.CancelFunc
	viewers sync.WaitGroup
	desk    desk
	demoSum string // SHA-256 of Demo; "" without one
	search  proposers
}

// New makes a site.
func New(o Options) *Site {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	s := &Site{Options: o, cores: make(chan struct{}, runtime.GOMAXPROCS(0)), long: make(chan struct{}, max(runtime.GOMAXPROCS(0)-1, 1))}
	s.life, s.end = context.WithCancel(context.Background())
	s.search = ourProposers()
	s.desk.open = map[string]*opened{}
	if len(o.Demo) > 0 {
		s.demoSum = plan.Digest(o.Demo)
	}
	return s
}

// Handler returns the whole site behind its gate.
func (s *Site) Handler() http.Handler { return s.guard(s.router()) }

// router lists every route there is. Routes that read are GET and write
// nothing; a test walks this list to see to it.
func (s *Site) router() chi.Router {
	r := chi.NewRouter()
	r.Use(middleware.GetHead)
	r.NotFound(func(w http.ResponseWriter, req *http.Request) { s.fail(w, req, errNoPage) })
	r.MethodNotAllowed(func(w http.ResponseWriter, req *http.Request) { s.fail(w, req, errMethod) })

	r.Get("/", s.plansPage)
	r.Get("/help", s.helpPage)
	r.Get("/plans/{id}", s.boardPage)
	r.With(s.computed).Get("/plans/{id}/files/{name}", s.file)
	r.With(s.computed).Get("/plans/{id}/sleeves", s.sleevesPage)
	r.With(s.computed).Get("/plans/{id}/quote", s.quotePage)
	r.With(s.computed).Get("/plans/{id}/program", s.programPage)
	r.With(s.computed).Get("/plans/{id}/yard", s.yardPage)
	r.Get("/plans/{id}/papers", s.papersPage)
	r.With(s.computed).Get("/plans/{id}/packs/{kind}.pdf", s.packFile)
	r.With(s.computed).Get("/plans/{id}/packs/{kind}/pages/{page}.svg", s.packPage)
	r.With(s.computed).Get("/plans/{id}/packs/{kind}/pages/{page}.txt", s.packWords)
	r.With(s.computed).Get("/plans/{id}/handover", s.handOver)
	r.Get("/static/{name}", s.static)
	r.Get("/schema/{name}", s.schema)

	r.Route("/api", func(r chi.Router) {
		r.Post("/plans", s.create)
		r.Post("/demo", s.demo)
		r.Get("/plans/{id}", s.load)
		r.Patch("/plans/{id}", s.commit)
		r.Delete("/plans/{id}", s.remove)
		r.Post("/plans/{id}/undo", s.undo)
		r.Post("/plans/{id}/redo", s.redo)
		r.Get("/plans/{id}/history", s.history)
		r.Get("/plans/{id}/steps/{number}", s.stepState)
		r.Post("/plans/{id}/back", s.back)
		r.Post("/plans/{id}/points", s.keepPoint)
		r.Get("/plans/{id}/points/{point}", s.pointState)
		r.Delete("/plans/{id}/points/{point}", s.forgetPoint)
		r.Post("/plans/{id}/copy", s.copyPlan)
		r.Post("/plans/{id}/archive", s.archive)
		r.Post("/plans/{id}/unarchive", s.unarchive)
		r.Post("/plans/{id}/recover", s.recoverPlan)
		r.Get("/plans/{id}/backup", s.heldBy)
		r.Get("/plans/{id}/thumbnail", s.thumbnail)
		r.Get("/starts/{name}/thumbnail", s.startThumbnail)
		r.With(s.computed).Get("/plans/{id}/board", s.board)
		r.With(s.computed).Get("/plans/{id}/rate", s.rate)
		r.With(s.computed).Get("/plans/{id}/estimate", s.estimate)
		r.With(s.computed).Get("/plans/{id}/field", s.field)
		r.With(s.computed).Get("/plans/{id}/windy", s.windy)
		r.With(s.computed).Get("/plans/{id}/sizes", s.sizes)
		r.With(s.computed).Get("/plans/{id}/arrange", s.arrange)
		r.With(s.computed).Get("/plans/{id}/arrange/options", s.arrangeOptions)
		r.With(s.computed).Get("/plans/{id}/improve", s.improve)
		r.With(s.computed).Get("/plans/{id}/turnoff", s.turnOff)
		r.With(s.computed).Get("/plans/{id}/group", s.group)
		r.With(s.computed).Get("/plans/{id}/route", s.route)
		r.With(s.computed).Get("/plans/{id}/route/options", s.routeOptions)
		r.With(s.computed).Get("/plans/{id}/water", s.water)
		r.With(s.computed).Get("/plans/{id}/water/options", s.waterOptions)
		r.With(s.computed).Post("/plans/{id}/weather", s.readWeather)
		r.With(s.computed).Get("/plans/{id}/proof", s.proof)
		r.With(s.computed).Get("/plans/{id}/audit", s.audit)
		r.With(s.computed).Get("/plans/{id}/cans", s.cans)
		r.With(s.computed).Post("/plans/{id}/catches", s.readCatches)
		r.With(s.computed).Get("/plans/{id}/retrofit", s.retrofit)
		r.With(s.computed).Get("/plans/{id}/packs/{kind}", s.packView)
		r.With(s.computed).Get("/plans/{id}/figures", s.figures)
		r.With(s.computed).Get("/plans/{id}/compare", s.compare)
		r.With(s.computed).Post("/plans/{id}/prices/preview", s.previewPrices)
		r.Get("/plans/{id}/live", s.live)
		r.Post("/plans/{id}/picture", s.putPicture)
		r.Get("/pictures/{sha}", s.picture)
		r.Get("/catalog", s.catalog)
		r.Post("/catalog/preview", s.previewCatalog)
		r.Post("/import/geojson", s.importGeoJSON)
		r.Post("/import/handover", s.openHandedOver)
	})
	return r
}

// wait waits until every live channel is closed or ctx ends.
func (s *Site) wait(ctx context.Context) error {
	done := make(chan struct{})
	go func() {
		s.viewers.Wait()
		close(done)
	}()
	select {
	case <-done:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
