package harness

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"smokeproof/harness/glyph"
)

// cache remembers what strikes came to, so that a run works only on what
// changed since. It holds no truth of its own: whatever is lost or torn is
// worked out again.
//
//	FOLDER/strikes/ab/KEY   what a strike came to (see strikeKey for KEY)
//	FOLDER/faces/ab/KEY     what fonts hold, the names of their glyphs, the parts of their revisions
//	FOLDER/files/ab/KEY     the digests of a golden store's files
//
// A strike's entry also names the parts of the face that it was drawn from.
// Where only some glyphs have other parts now, those are drawn again and the
// rest of the entry stands.
//
// Process renderers are not remembered: what a worker answers may hang on
// libraries and scripts that its name and version do not tell.
type cache struct {
	dir     string
	program string // SHA-256 of this program's own file, hex
	files   *fileDigests
	pairs   sync.Map // pairKey by pair, while a run lasts
}

// cacheFormat is part of every key; it rises with the layout of entries.
const cacheFormat = "smokeproof cache 1"

// maxEntry bounds what is worth remembering about one strike, in bytes.
const maxEntry = 16 << 20

// DefaultCache is where results are remembered: smokeproof in the user's cache
// folder, XDG_CACHE_HOME on Unix; "", nowhere, for a user who has none.
func DefaultCache() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "smokeproof")
}

func openCache(dir, goldens string) (*cache, error) {
	c := &cache{dir: dir}
	c.files = c.openFileDigests(goldens)
	program, err := os.Executable()
	if err == nil {
		c.program, err = c.files.digest(program)
	}
	if err != nil {
		return nil, fmt.Errorf("cache: this program cannot read its own file: %w; say --no-cache", err)
	}
	c.prune()
	return c, nil
}

// entry is what a strike came to, as it is remembered.
type entry struct {
	Parts  string       `json:"parts"` // name of the face's parts
	Record StrikeRecord `json:"record"`
	// Changes are as in results.json.
	Changes []Change `json:"changes"`
}

// memory is what the cache knows of a strike.
type memory struct {
	strike  *StrikeJob
	key     string        // "": it is not to be remembered
	goldens goldenDigests // that the key names
	result  *StrikeResult // nil: it is to be drawn
}

// recall checks a strike, working only on what the cache does not know. What must be drawn
// is held against the goldens of all strikes that are drawn alike.
func (r *Run) recall(ctx context.Context, s *StrikeJob, take taker) ([]*StrikeResult, error) {
	m, err := r.remembered(ctx, s)
	if err != nil || m.result != nil {
		return []*StrikeResult{m.result}, err
	}
	all, draw := []*memory{m}, []*StrikeJob{s}
	for _, s := range take(r.alike(s)) {
		if m, err = r.remembered(ctx, s); err != nil {
			return nil, err
		}
		if all = append(all, m); m.result == nil {
			draw = append(draw, s)
		}
	}
	drawn, err := r.checkAlike(ctx, draw, nil)
	if err != nil {
		return nil, err
	}
	out := make([]*StrikeResult, len(all))
	for i, m := range all {
		if m.result == nil {
			m.result, drawn = drawn[0], drawn[1:]
			r.remember(m)
		}
		out[i] = m.result
	}
	return out, nil
}

// remembered looks for a strike in the cache, and works on the glyphs that a change of the
// face touches.
func (r *Run) remembered(ctx context.Context, s *StrikeJob) (m *memory, err error) {
	m = &memory{strike: s}
	if r.cache == nil || s.Device.Renderer != "built-in" {
		return m, nil
	}
	goldens, ok := r.cache.files.of(r.Store, s.Strike)
	if !ok {
		return m, nil
	}
	known := r.known[s.Face.Name]
	m.key, m.goldens = r.strikeKey(s, known, goldens), goldens
	old := r.cache.loadEntry(m.key)
	if old != nil && old.Parts == known.name {
		if r.audited() {
			m.result, err = r.audit(ctx, s, m.key, old)
		} else {
			m.result, err = r.piled(&StrikeResult{StrikeRecord: old.Record, Changes: old.Changes})
		}
	} else if touched := r.cache.touched(known, old); touched != nil {
		if m.result, err = r.checkTouched(ctx, s, old, touched); err == nil {
			r.remember(m)
		}
	}
	return m, err
}

// remember keeps what a strike came to. A failure is tried again.
func (r *Run) remember(m *memory) {
	if m.key == "" || m.result.Undrawn > 0 {
		return
	}
	// What was read must be what the key names, even while somebody approves.
	if after, ok := r.cache.files.of(r.Store, m.strike.Strike); ok && after == m.goldens {
		r.cache.storeEntry(m.key, r.known[m.strike.Face.Name].name, m.result)
	}
}

// checkTouched works on the glyphs that a change of the face touches; what the
// others came to stands, be they equal to their goldens or not.
func (r *Run) checkTouched(ctx context.Context, s *StrikeJob, old *entry, touched map[int]bool) (*StrikeResult, error) {
	out := &StrikeResult{StrikeRecord: old.Record, Changes: slices.Clone(old.Changes)}
	var some []glyph.Ref
	keys := map[glyph.Key]bool{}
	for _, ref := range s.Glyphs() {
		if touched[ref.Index] {
			some = append(some, ref)
			keys[ref.Key] = true
		}
	}
	if len(some) == 0 {
		return r.piled(out)
	}
	res, err := r.checkSome(ctx, s.only(some), keys)
	if err != nil {
		return nil, err
	}
	out.drawn = res.drawn
	was := Counts{Glyphs: len(some), Equal: len(some)}
	out.Changes = slices.DeleteFunc(out.Changes, func(c Change) bool {
		if !keys[glyph.Key(c.Glyph)] {
			return false
		}
		was.Equal--
		switch c.Status {
		case StatusChanged:
			was.Changed++
		case StatusNew:
			was.New++
			if c.ByHand() {
				was.ByHand++
			}
			if c.Astray != "" {
				was.Astray++
			}
			if len(c.Findings) > 0 {
				was.AtFault++
			}
		}
		return true
	})
	out.Counts.add(&was, -1)
	out.Counts.add(&res.Counts, 1)
	anew, err := res.all()
	if err != nil {
		return nil, err
	}
	res.handedOn()
	out.Changes = append(out.Changes, anew...)
	sortWorstFirst(out.Changes)
	return r.piled(out)
}
