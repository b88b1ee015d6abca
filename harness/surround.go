package harness

import (
	"context"
	"encoding/hex"
	"slices"
	"strings"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// Surround is what stands as approved around the changes of a run: what a
// person needs to judge them by.
type Surround struct {
	Ramps   []Standing // glyphs that changed at some size, at those where they did not
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
	around := newSurrounding(res)
	store := golden.Open(p.Goldens)
	for _, s := range p.Strikes() {
		if !around.touched[pair{s.Face, s.Device}] {
			continue
		}
		approved, err := store.Load(ctx, s)
		if err != nil {
			return nil, err
		}
		around.add(s, approved.Cells)
		around.out.Moved += around.moved(s, approved.Cells)
	}
	return &around.out, nil
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
	around := newSurrounding(res)
	var strikes []StrikeJob
	for i := range r.strikes {
		if s := r.strikes[i].Strike; around.touched[pair{s.Face, s.Device}] {
			strikes = append(strikes, r.strikes[i])
		}
	}
	err := inOrder(ctx, r.options.Workers, strikes, r.cost, alone(r.draw), func(s *StrikeJob, drawn []render.Drawn) error {
		var cells []glyph.Cell
		for i := range drawn {
			if drawn[i].Err == nil {
				cells = append(cells, drawn[i].Cell)
			}
		}
		around.add(s.Strike, cells)
		return nil
	})
	return &around.out, err
}

// SurroundOf takes from the bitmaps on the golden side of a comparison what a review of it needs.
func SurroundOf(res *Results, goldens *golden.Font) *Surround {
	around := newSurrounding(res)
	for _, s := range res.Strikes {
		around.add(glyph.Strike{Face: s.Face, Device: s.Device, Size: goldens.Size}, goldens.Cells)
	}
	return &around.out
}

// surrounding picks what to keep of strikes, by the changes of results.
type surrounding struct {
	changed map[changeKey]*Change
	ramps   map[ramp]bool
	strikes map[StrikeKey]bool
	touched map[pair]bool
	out     Surround
}

// ramp is a glyph of a face on a device, at all sizes.
type ramp struct {
	pair
	glyph string
}

func newSurrounding(res *Results) *surrounding {
	a := &surrounding{
		changed: map[changeKey]*Change{},
		ramps:   map[ramp]bool{}, strikes: map[StrikeKey]bool{}, touched: map[pair]bool{},
	}
	for i := range res.Changes {
		c := &res.Changes[i]
		a.changed[c.key()] = c
		a.ramps[ramp{pair{c.Face, c.Device}, c.Glyph}] = true
		a.strikes[c.StrikeKey()] = true
		a.touched[pair{c.Face, c.Device}] = true
	}
	return a
}

// moved counts the changes of a strike whose golden is another by now.
func (a *surrounding) moved(s glyph.Strike, cells []glyph.Cell) int {
	n, strike := 0, strikeKeyOf(s)
	for i := range cells {
		c := a.changed[changeKey{strike, string(cells[i].Key)}]
		if c == nil {
			continue
		}
		if c.Over != digestOf(&cells[i]) {
			n++
		}
	}
	return n
}

func (a *surrounding) add(s glyph.Strike, cells []glyph.Cell) {
	strike := strikeKeyOf(s)
	letters := Letters{Face: s.Face, Device: s.Device, Size: strike.Size}
	for i := range cells {
		c := &cells[i]
		if a.changed[changeKey{strike, string(c.Key)}] != nil {
			continue
		}
		letter := a.strikes[strike] && c.Code > 0 && strings.ContainsRune(besides, c.Code)
		inRamp := a.ramps[ramp{pair{s.Face, s.Device}, string(c.Key)}]
		if !inRamp && !letter {
			continue
		}
		st := Standing{s.Face, s.Device, strike.Size, string(c.Key), int(c.Code), *packPicture(c)}
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
