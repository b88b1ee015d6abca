package harness

import (
	"context"
	"strings"

	"smokeproof/golden"
)

// Surround is what stands as approved around the changes of a run: what a
// person needs to judge them by.
type Surround struct {
	Ramps   []Standing // glyphs that changed at some size, at those where they did not
	Letters []Letters  // letters to set words with, for strikes where something changed
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
	changed := map[[4]string]bool{}
	family, strike, touched := map[[3]string]bool{}, map[[3]string]bool{}, map[[2]string]bool{}
	for i := range res.Changes {
		c := &res.Changes[i]
		changed[c.key()] = true
		family[[3]string{c.Face, c.Device, c.Glyph}] = true
		strike[[3]string{c.Face, c.Device, c.Size}] = true
		touched[[2]string{c.Face, c.Device}] = true
	}
	store := golden.Open(p.Goldens)
	out := &Surround{}
	for _, s := range p.Strikes() {
		if !touched[[2]string{s.Face, s.Device}] {
			continue
		}
		approved, err := store.Load(ctx, s)
		if err != nil {
			return nil, err
		}
		size := s.Size.String()
		letters := Letters{Face: s.Face, Device: s.Device, Size: size}
		for i := range approved.Cells {
			c := &approved.Cells[i]
			if changed[[4]string{s.Face, s.Device, size, string(c.Key)}] {
				continue
			}
			besides := strike[[3]string{s.Face, s.Device, size}] && c.Code > 0 && strings.ContainsRune(besides, c.Code)
			ramp := family[[3]string{s.Face, s.Device, string(c.Key)}]
			if !ramp && !besides {
				continue
			}
			st := Standing{s.Face, s.Device, size, string(c.Key), int(c.Code), *packPicture(c)}
			if ramp {
				out.Ramps = append(out.Ramps, st)
			}
			if besides {
				letters.Cells = append(letters.Cells, st)
			}
		}
		if len(letters.Cells) > 0 {
			out.Letters = append(out.Letters, letters)
		}
	}
	return out, nil
}
