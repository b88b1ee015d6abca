package harness

import (
	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

// suspect is a gravely changed glyph, which may be drawn as another is approved.
type suspect struct {
	place int // among the changes, as they were found
	shape [32]byte
	left  int // of its ink
}

// original is whose golden has a shape, of glyphs that changed.
type original struct {
	place int // among the changes, as they were found
	key   glyph.Key
	left  int // of its ink
}

// suspect notes of a change what mistaken asks for.
func (c *comparison) suspect(ch *Change) {
	if ch.Status != StatusChanged {
		return
	}
	if c.shapes == nil {
		c.shapes = map[[32]byte]original{}
	}
	golden := shape(ch.stored)
	if _, had := c.shapes[golden]; !had { // of equal ones the first
		c.shapes[golden] = original{c.settled, glyph.Key(ch.Glyph), ch.stored.Bitmap.Tight().Left}
	}
	if ch.Severity == diff.Critical.String() && !ch.cell.Bitmap.Empty() {
		c.suspects = append(c.suspects, suspect{c.settled, shape(ch.cell), ch.cell.Bitmap.Tight().Left})
	}
}

// mistaken names glyphs that are drawn as others of the strike are approved, as where the
// glyphs of a font were renumbered: what its strokes came to is beside the point. It knows the
// goldens of glyphs that changed, and asks of gravely changed ones alone, as one letter may
// be approved in the shape of another.
func (c *comparison) mistaken() error {
	for _, s := range c.suspects {
		other, ok := c.shapes[s.shape]
		if !ok || other.place == s.place {
			continue
		}
		err := c.out.amend(s.place, func(ch *Change) error {
			g, err := ch.Golden.Unpack()
			if err != nil {
				return err
			}
			r := c.judge.InPlaceOf(diff.Pair{Golden: &glyph.Cell{Bitmap: g}, PPEM: c.id.PPEM()}, other.key, s.left-other.left)
			ch.Score, ch.Findings = r.Score, []Finding{finding(&c.out.StrikeRecord, ch.Glyph, r.Findings[0])}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// shape is the digest of a bitmap on its line, whatever its bearings: what was renumbered may have
// kept its own.
func shape(c *glyph.Cell) [32]byte {
	b := c.Bitmap.Tight()
	b.Left = 0
	return (&glyph.Cell{Bitmap: b}).Digest()
}
