package harness

import (
	"cmp"
	"context"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// Surround is what stands as approved around the changes of a run: what a
// person needs to judge them by.
type Surround struct {
	Ramps   []Standing // glyphs that changed at some size, at those where they did not; of faces that are no throng
	Letters []Letters  // letters to set words with, for strikes where something changed
	Moved   int        // changes whose golden is another by now than the run found
}

// Standing is a glyph as approved in one strike.
type Standing struct {
	Face, Device, Size, Glyph string
	Code                      int
	Picture                   Picture
}

// Letters are the approved letters of one strike that words are set with.
type Letters struct {
	Face, Device, Size string
	Cells              []Standing
}

// besides are the characters that a changed glyph is set among: stems, rounds
// and diagonals enough for a word around any letter.
const besides = "aehinorstAEHINORST018"

// Surround reads the goldens that a review of results needs, in plan order. Only
// faces and devices with changes are read.
func (p *Plan) Surround(ctx context.Context, res *Results) (*Surround, error) {
	around, err := newSurrounding(res)
	if err != nil {
		return nil, err
	}
	store := golden.Open(p.Goldens)
	for _, s := range p.Strikes() {
		if !around.touches(s) {
			continue
		}
		approved, err := store.Load(ctx, s)
		if err != nil {
			return nil, err
		}
		around.add(s, approved.Cells)
		around.out.Moved += around.moved(s, approved.Cells)
	}
	return around.picked(), nil
}

// Refonted lists the font files that are no longer those from which results were drawn. Those that the
// cache knows are not read; "" stands for no cache.
func (p *Plan) Refonted(res *Results, cacheDir string) []string {
	var known *cache
	if cacheDir != "" {
		if c, err := openCache(cacheDir, p.Goldens); err == nil {
			known = c
			defer c.files.keep()
		}
	}
	var out []string
	for _, was := range res.Faces {
		i := slices.IndexFunc(p.Faces, func(f PlanFace) bool { return f.Name == was.Name })
		if i < 0 {
			continue // a selection of another plan's
		}
		f := &p.Faces[i]
		if is, err := known.faceDigest(f); err != nil || hex.EncodeToString(is[:]) != was.SHA256 {
			out = append(out, f.Rel)
		}
	}
	return out
}

// Surround draws what a review of this run needs, as nothing is approved that could be
// read. Only strikes of faces and devices with changes are drawn.
func (r *Run) Surround(ctx context.Context, res *Results) (*Surround, error) {
	around, err := newSurrounding(res)
	if err != nil {
		return nil, err
	}
	var strikes []StrikeJob
	for i := range r.strikes {
		if around.touches(r.strikes[i].Strike) {
			strikes = append(strikes, r.strikes[i])
		}
	}
	err = inOrder(ctx, r.options.Workers, strikes, r.cost, alone(r.draw), func(s *StrikeJob, drawn []render.Drawn) error {
		var cells []glyph.Cell
		for i := range drawn {
			if drawn[i].Err == nil {
				cells = append(cells, drawn[i].Cell)
			}
		}
		around.add(s.Strike, cells)
		return nil
	})
	return around.picked(), err
}

// SurroundOf takes from the bitmaps on the golden side of a comparison what a review of it needs.
func SurroundOf(res *Results, goldens *golden.Font) (*Surround, error) {
	around, err := newSurrounding(res)
	if err != nil {
		return nil, err
	}
	for _, s := range res.Strikes {
		around.add(glyph.Strike{Face: s.Face, Device: s.Device, Size: goldens.Size}, goldens.Cells)
	}
	return around.picked(), nil
}

// surrounding picks what to keep of strikes, by the changes of results: these may be a million, so it knows them
// by numbers.
type surrounding struct {
	pairs   map[pair]uint64      // those with changes, numbered from 1
	strikes map[StrikeKey]uint64 // so too
	glyphs  map[string]uint64
	changed []changedGlyph // sorted
	ramps   []ramp         // of faces that are no throng; sorted
	out     Surround
}

// changedGlyph is a glyph that changed in a strike, both by number, and the mark of the golden that the run found.
type changedGlyph struct{ strike, glyph, over uint64 }

func (g changedGlyph) compare(o changedGlyph) int {
	return cmp.Or(cmp.Compare(g.strike, o.strike), cmp.Compare(g.glyph, o.glyph))
}

// ramp is a glyph of a face on a device, at all sizes.
type ramp struct{ pair, glyph uint64 }

func (r ramp) compare(o ramp) int {
	return cmp.Or(cmp.Compare(r.pair, o.pair), cmp.Compare(r.glyph, o.glyph))
}

func newSurrounding(res *Results) (*surrounding, error) {
	throngs, err := res.Throngs()
	if err != nil {
		return nil, err
	}
	a := &surrounding{pairs: map[pair]uint64{}, strikes: map[StrikeKey]uint64{}, glyphs: map[string]uint64{}}
	err = res.Each(func(c *Change) error {
		at, key := numbered(a.pairs, pair{c.Face, c.Device}), numbered(a.glyphs, c.Glyph)
		a.changed = append(a.changed, changedGlyph{numbered(a.strikes, c.StrikeKey()), key, markOf(c.Over)})
		if !throngs[c.Face] {
			a.ramps = append(a.ramps, ramp{at, key})
		}
		return nil
	})
	slices.SortFunc(a.changed, changedGlyph.compare)
	slices.SortFunc(a.ramps, ramp.compare)
	a.ramps = slices.Compact(a.ramps)
	return a, err
}

// numbered is the number of a key among those met, from 1.
func numbered[K comparable](met map[K]uint64, key K) uint64 {
	n := met[key]
	if n == 0 {
		n = uint64(len(met)) + 1
		met[key] = n
	}
	return n
}

// markOf is the first 64 bits of a digest in hex; 0 where there is none.
func markOf(digest string) uint64 {
	if len(digest) < 16 {
		return 0
	}
	n, _ := strconv.ParseUint(digest[:16], 16, 64)
	return n
}

// picked is what was kept, without what it was picked by.
func (a *surrounding) picked() *Surround {
	out := a.out
	return &out
}

// touches says that something changed in a strike's face on its device.
func (a *surrounding) touches(s glyph.Strike) bool { return a.pairs[pair{s.Face, s.Device}] > 0 }

// moved counts the changes of a strike whose golden is another by now.
func (a *surrounding) moved(s glyph.Strike, cells []glyph.Cell) int {
	n, strike := 0, a.strikes[strikeKeyOf(s)]
	for i := range cells {
		if c, ok := a.change(strike, cells[i].Key); ok && c.over != markOf(digestOf(&cells[i])) {
			n++
		}
	}
	return n
}

// change finds what is known of a glyph that changed in a strike.
func (a *surrounding) change(strike uint64, key glyph.Key) (c changedGlyph, changed bool) {
	at, changed := slices.BinarySearchFunc(a.changed, changedGlyph{strike: strike, glyph: a.glyphs[string(key)]}, changedGlyph.compare)
	if changed {
		c = a.changed[at]
	}
	return c, changed
}

func (a *surrounding) inRamp(s glyph.Strike, key glyph.Key) bool {
	_, found := slices.BinarySearchFunc(a.ramps, ramp{a.pairs[pair{s.Face, s.Device}], a.glyphs[string(key)]}, ramp.compare)
	return found
}

func (a *surrounding) add(s glyph.Strike, cells []glyph.Cell) {
	key := strikeKeyOf(s)
	strike := a.strikes[key]
	letters := Letters{Face: s.Face, Device: s.Device, Size: key.Size}
	for i := range cells {
		c := &cells[i]
		if _, changed := a.change(strike, c.Key); changed {
			continue
		}
		letter := strike > 0 && c.Code > 0 && strings.ContainsRune(besides, c.Code)
		inRamp := a.inRamp(s, c.Key)
		if !inRamp && !letter {
			continue
		}
		st := Standing{s.Face, s.Device, key.Size, string(c.Key), int(c.Code), *packPicture(c)}
		if inRamp {
			a.out.Ramps = append(a.out.Ramps, st)
		}
		if letter {
			letters.Cells = append(letters.Cells, st)
		}
	}
	if len(letters.Cells) > 0 {
		a.out.Letters = append(a.out.Letters, letters)
	}
}
