package harness

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// ErrUsage is in the chain of every error that the caller's input caused: a
// plan, a font or a selection that cannot be used.
var ErrUsage = errors.New("unusable input")

// maxPPEM is the largest size drawn: 72 pt at 2400 dpi is 2,400 pixels per em,
// and a golden of one em must be readable again.
const maxPPEM = 1 << 14

// Options narrow and tune a run.
type Options struct {
	Filter    Filter
	Shard     Shard
	Workers   int     // strikes in work at once; 0 means one per core
	NoProcess bool    // refuse process renderers, for plans of strangers
	Cache     string  // folder where Check remembers results; "" remembers nothing
	Audit     float64 // share of the remembered strikes that Check draws all the same, to hold them against the cache
	Set       bool    // judge the glyphs of each strike beside each other too
}

// Run is a plan opened: its faces read, its renderers at hand.
type Run struct {
	Plan    *Plan
	Store   *golden.Store
	now     *golden.Store // where Store is of the past
	options Options
	builtIn *render.BuiltIn
	devices map[string]*deviceRenderer
	faces   map[string]face.Face
	strikes []StrikeJob
	shard   *ShardRecord // nil: all of them
	drawn   atomic.Int64 // glyphs
	found   atomic.Int64 // findings
	forms   forms
	remarks remarks
	formers sync.Map // formerFonts by the plan's name of their face

	cache *cache
	known map[string]*knownFace // by the plan's name; nil without cache
	twins func() *twins         // worked out when the first strike is drawn

	reproducers string       // folder; "" keeps none
	kept        atomic.Int64 // reproducers
	piles       *pileFolder  // nil: changes are kept in memory
}

type deviceRenderer struct {
	render.Renderer
	id glyph.Identity
}

// Open reads every face of the plan that the filter keeps, and starts the
// renderers. Close the run when done.
func Open(ctx context.Context, p *Plan, o Options) (*Run, error) {
	if err := o.Filter.check(p); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrUsage, err)
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	r := &Run{
		Plan: p, Store: golden.Open(p.Goldens), options: o,
		builtIn: render.NewBuiltIn(render.BuiltInOptions{}),
		devices: map[string]*deviceRenderer{}, faces: map[string]face.Face{},
	}
	r.Store.Gzip = p.Gzip
	r.twins = sync.OnceValue(r.findTwins)
	if o.Cache != "" {
		var err error
		if r.cache, err = openCache(o.Cache, p.Goldens); err != nil {
			return nil, err
		}
		r.known = map[string]*knownFace{}
	}
	if err := r.open(ctx); err != nil {
		r.Close()
		return nil, err
	}
	if o.Shard != (Shard{}) {
		if err := o.Shard.check(); err != nil {
			return nil, fmt.Errorf("%w: %w", ErrUsage, err)
		}
		if o.Set {
			return nil, fmt.Errorf("%w: the checks of whole sets look across strikes; run them unsharded", ErrUsage)
		}
		r.share()
	}
	return r, nil
}

func (r *Run) open(ctx context.Context) error {
	var faces []*PlanFace
	for s := range r.Plan.jobs {
		if !r.options.Filter.strike(s.Strike) {
			continue
		}
		if x, y := s.Strike.PPEM().Nominal(); max(x, y) > maxPPEM {
			return fmt.Errorf("%s: %w: %d pixels per em, the limit is %d; correct size or resolution", s.Strike, ErrUsage, max(x, y), maxPPEM)
		}
		if err := r.openDevice(ctx, s.Device); err != nil {
			return err
		}
		if n := len(faces); n == 0 || faces[n-1] != s.Face {
			faces = append(faces, s.Face)
		}
		s.place = len(r.strikes)
		r.strikes = append(r.strikes, s)
	}
	if len(r.strikes) == 0 {
		return fmt.Errorf("%w: no device of the plan has these faces at these sizes together; see plan", ErrUsage)
	}
	lists, err := r.openFaces(faces)
	if err != nil {
		return err
	}
	for i := range r.strikes {
		s := &r.strikes[i]
		s.glyphs = lists[s.Face]
	}
	return r.idle(ctx)
}

// openFaces opens faces side by side, and lists the glyphs that plan and filter
// select of each. The first fault of the plan's order is its error.
func (r *Run) openFaces(faces []*PlanFace) (map[*PlanFace]*glyphList, error) {
	type opened struct {
		face  face.Face
		known *knownFace // nil without cache
		list  *glyphList
		err   error
	}
	all := make([]opened, len(faces))
	var g errgroup.Group
	g.SetLimit(r.options.Workers)
	for i, f := range faces {
		o := &all[i]
		g.Go(func() error {
			if o.face, o.err = r.openFace(f); o.err != nil {
				return nil
			}
			if r.cache != nil {
				o.known = r.cache.know(o.face)
			}
			o.list = r.selected(f, o.face)
			return nil
		})
	}
	_ = g.Wait()
	lists := make(map[*PlanFace]*glyphList, len(faces))
	for i, f := range faces {
		o := &all[i]
		if o.err != nil {
			return nil, o.err
		}
		r.faces[f.Name], lists[f] = o.face, o.list
		if r.cache != nil {
			r.known[f.Name] = o.known
		}
	}
	return lists, nil
}

func (r *Run) openFace(f *PlanFace) (face.Face, error) {
	fc, err := r.face(f)
	if err != nil {
		return nil, r.unusable(f, err)
	}
	return fc, nil
}

// unusable says where the plan names a face that cannot be used.
func (r *Run) unusable(f *PlanFace, err error) error {
	if f.line == 0 { // of no plan
		return fmt.Errorf("%w: %w", ErrUsage, err)
	}
	return fmt.Errorf("%s:%d: face %q: %w: %w", r.Plan.Path, f.line, f.Name, ErrUsage, err)
}

func (r *Run) openDevice(ctx context.Context, d *Device) error {
	if r.devices[d.Name] != nil {
		return nil
	}
	var rd render.Renderer = r.builtIn
	switch {
	case d.Renderer == "built-in":
		if d.Fill != glyph.Center || d.Sideways {
			rd = render.NewBuiltIn(render.BuiltInOptions{Fill: d.Fill, Sideways: d.Sideways})
		}
	case r.options.NoProcess:
		return fmt.Errorf("device %q: %w: its renderer is a process and --no-process forbids those; leave the device out with --device", d.Name, ErrUsage)
	default:
		rd = render.NewProcess(render.ProcessOptions{Command: d.Command, Dir: filepath.Dir(r.Plan.Path), Workers: r.options.Workers})
	}
	id, err := rd.Identity(ctx)
	if d.Renderer == "freetype" && errors.Is(err, exec.ErrNotFound) {
		return fmt.Errorf("device %q: %w: %s is not on the PATH; make freetype builds it", d.Name, ErrUsage, d.Command[0])
	}
	if err != nil {
		return fmt.Errorf("device %q: renderer: %w", d.Name, err)
	}
	r.devices[d.Name] = &deviceRenderer{rd, id}
	return nil
}

// Strikes lists what the run stands for, in plan order.
func (r *Run) Strikes() []StrikeJob { return r.strikes }

// Close ends the renderers.
func (r *Run) Close() error {
	if r.cache != nil {
		r.cache.files.keep()
	}
	var errs []error
	for _, d := range r.devices {
		errs = append(errs, d.Close())
	}
	errs = append(errs, r.Store.Close(), r.piles.close())
	return errors.Join(errs...)
}

// Drawn counts the glyphs drawn so far; those that the cache knew are not among
// them.
func (r *Run) Drawn() int { return int(r.drawn.Load()) }

// Found counts the findings in strikes that are judged, handed on or not.
func (r *Run) Found() int { return int(r.found.Load()) }
