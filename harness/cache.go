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
	pairs   sync.Map // pairKey by the names of face and device, while a run lasts
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

// recall checks a strike, working only on what the cache does not know.
// A strike judged as a set needs every glyph of it: the cache stands aside.
func (r *Run) recall(ctx context.Context, s *StrikeJob) (*StrikeResult, error) {
	if r.cache == nil || r.options.Set || s.Device.Renderer != "built-in" {
		return r.checkStrike(ctx, s)
	}
	goldens, ok := r.cache.files.of(r.Store, s.Strike)
	if !ok {
		return r.checkStrike(ctx, s)
	}
	known := r.known[s.Face.Name]
	key := r.strikeKey(s, known, goldens)
	old := r.cache.loadEntry(key)
	var res *StrikeResult
	if old != nil && old.Parts == known.name {
		if r.audited() {
			return r.audit(ctx, s, key, old)
		}
		return &StrikeResult{StrikeRecord: old.Record, Changes: old.Changes}, nil
	}
	var err error
	if touched := r.cache.touched(known, old); touched != nil {
		res, err = r.checkTouched(ctx, s, old, touched)
	} else {
		res, err = r.checkStrike(ctx, s)
	}
	if err != nil {
		return nil, err
	}
	if res.Undrawn > 0 {
		return res, nil // a failure is tried again
	}
	// What was read must be what the key names, even while somebody approves.
	if after, ok := r.cache.files.of(r.Store, s.Strike); ok && after == goldens {
		r.cache.storeEntry(key, &entry{Parts: known.name, Record: res.StrikeRecord, Changes: res.Changes})
	}
	return res, nil
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
		return out, nil
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
		case "changed":
			was.Changed++
		case "new":
			was.New++
			if c.ByHand() {
				was.ByHand++
			}
		}
		return true
	})
	out.Counts.add(&was, -1)
	out.Counts.add(&res.Counts, 1)
	out.Changes = append(out.Changes, res.Changes...)
	sortWorstFirst(out.Changes)
	return out, nil
}
