package harness

import (
	"cmp"
	"context"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"time"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// Seen is a decision with what its maker saw of the glyph: where that is no
// longer so, somebody decided meanwhile and nothing is written.
type Seen struct {
	Decision
	Over             string // hex digest of the golden, "" where there was none
	Standing, Stands string // the decision that stood, and its end date
}

// Decided says what a desk did, and what it left alone and why.
type Decided struct {
	Done int
	Left []string
	Act  int // to be given to Undo; 0 where nothing was done
}

// affected is one glyph that a decision touched.
type affected struct {
	strike         glyph.Strike
	change         Change      // as it was before
	golden         *glyph.Cell // as it was before; nil where there was none
	over           string      // digest of the golden that the decision left
	verdict, until string      // as decided
	why            string
}

// Decide carries out what one person decided, through Run.Approve.
func (d *Desk) Decide(ctx context.Context, by string, list []Seen) (*Decided, error) {
	if by == "" {
		return nil, fmt.Errorf("%w: nobody is named as deciding; give a name", ErrUsage)
	}
	d.work.Lock()
	defer d.work.Unlock()
	out := &Decided{Left: []string{}}
	var done []affected
	var err error
	for _, part := range byFaceAndDevice(list) {
		var some []affected
		some, err = d.decide(ctx, by, part, out)
		done = append(done, some...)
		if err != nil {
			break
		}
	}
	d.show(done)
	if len(done) > 0 {
		d.acts = append(d.acts, act{done: done})
		out.Done, out.Act = len(done), len(d.acts)
	}
	return out, err
}

func byFaceAndDevice(list []Seen) [][]Seen {
	parts := map[pair][]Seen{}
	for _, s := range list {
		k := pair{s.Face, s.Device}
		parts[k] = append(parts[k], s)
	}
	var out [][]Seen
	for _, k := range slices.SortedFunc(maps.Keys(parts), func(a, b pair) int {
		return cmp.Or(cmp.Compare(a.face, b.face), cmp.Compare(a.device, b.device))
	}) {
		out = append(out, parts[k])
	}
	return out
}

// decide writes those decisions on one face and device that still speak of what
// is there.
func (d *Desk) decide(ctx context.Context, by string, list []Seen, out *Decided) ([]affected, error) {
	r, err := d.open(ctx, list)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	timely, as, err := r.timely(ctx, list, out)
	if err != nil || len(timely) == 0 {
		return nil, err
	}
	a, err := r.Approve(ctx, ApproveOptions{By: by, Critical: true, Decisions: timely})
	if a != nil {
		out.Left = append(out.Left, a.Stale...)
	}
	after, loadErr := r.goldens(ctx)
	if loadErr != nil {
		return nil, loadErr
	}
	var done []affected
	for _, a := range as {
		if a.written(after[a.change.Size]) {
			done = append(done, a)
		}
	}
	return done, err
}

// timely gives the decisions that still speak of what is there, and what each will
// touch, as it is before; the others it leaves.
func (r *Run) timely(ctx context.Context, list []Seen, out *Decided) ([]Decision, []affected, error) {
	now, err := r.changes(ctx)
	if err != nil {
		return nil, nil, err
	}
	before, err := r.goldens(ctx)
	if err != nil {
		return nil, nil, err
	}
	var ds []Decision
	var as []affected
	for _, s := range list {
		c := now[s.key()]
		if why := overtaken(&s, c); why != "" {
			out.Left = append(out.Left, fmt.Sprintf("%s at %s pt: %s", s.Glyph, s.Size, why))
			continue
		}
		a := affected{strike: before[s.Size].ID, change: *c, golden: cellIn(before[s.Size].Cells, glyph.Key(s.Glyph)), verdict: string(s.Verdict), why: s.Why}
		if !s.Until.IsZero() {
			a.until = s.Until.Format(time.DateOnly)
		}
		ds = append(ds, s.Decision)
		as = append(as, a)
	}
	return ds, as, nil
}

// changes are those that a check of the run finds now.
func (r *Run) changes(ctx context.Context) (map[changeKey]*Change, error) {
	now := map[changeKey]*Change{}
	err := r.checkWhole(ctx, func(s *StrikeResult) error {
		for i := range s.Changes {
			now[s.Changes[i].key()] = &s.Changes[i]
		}
		return nil
	})
	return now, err
}

// overtaken says why a decision no longer speaks of what is there.
func overtaken(s *Seen, c *Change) string {
	switch {
	case c == nil:
		return "approved by somebody else meanwhile, or drawn as approved"
	case c.Digest != s.Digest:
		return "drawn differently meanwhile"
	case c.Over != s.Over:
		return "its golden was changed by somebody else meanwhile"
	case c.Verdict != s.Standing || c.Until != s.Stands:
		return "decided by somebody else meanwhile"
	}
	return ""
}

func (d *Desk) open(ctx context.Context, list []Seen) (*Run, error) {
	f := Filter{Faces: []string{list[0].Face}, Devices: []string{list[0].Device}}
	for _, s := range list {
		size, err := glyph.ParsePoints(s.Size)
		if err != nil {
			return nil, fmt.Errorf("%w: %w", ErrUsage, err)
		}
		if !slices.Contains(f.Sizes, size) {
			f.Sizes = append(f.Sizes, size)
		}
		f.Glyphs.parts = append(f.Glyphs.parts, named(s.Glyph))
	}
	o := d.options
	o.Filter = f
	return Open(ctx, d.Plan(), o)
}

// goldens loads the goldens of a run's strikes, by size.
func (r *Run) goldens(ctx context.Context) (map[string]*golden.Strike, error) {
	out := map[string]*golden.Strike{}
	for i := range r.strikes {
		s := r.strikes[i].Strike
		var err error
		if out[s.Size.String()], err = r.Store.Load(ctx, s); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// written looks whether the store holds what was decided, and notes the golden
// that it holds.
func (a *affected) written(s *golden.Strike) bool {
	key := glyph.Key(a.change.Glyph)
	a.over = digestOf(cellIn(s.Cells, key))
	if golden.Verdict(a.verdict) == golden.Approve {
		return a.over == a.change.Digest || a.over == "" && a.change.Candidate == nil
	}
	standing, ok := s.Standing(key, a.change.Digest)
	return ok && string(standing.Verdict) == a.verdict
}

// digestOf is the hex digest of a cell, "" for none.
func digestOf(c *glyph.Cell) string {
	if c == nil {
		return ""
	}
	sum := c.Digest()
	return hex.EncodeToString(sum[:])
}
