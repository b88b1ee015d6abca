package harness

import (
	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

// mistaken names glyphs that are drawn as others of the strike are approved, as where the
// glyphs of a font were renumbered: what its strokes came to is beside the point. It knows the
// goldens of glyphs that changed, and asks of gravely changed ones alone, as one letter may
// be approved in the shape of another.
func (c *comparison) mistaken() {
	var approved map[[32]byte]glyph.Key
	for i := range c.out.Changes {
		ch := &c.out.Changes[i]
		if ch.Status != StatusChanged || ch.Severity != diff.Critical.String() || ch.cell.Bitmap.Empty() {
			continue
		}
		if approved == nil {
			approved = shapes(c.out.Changes)
		}
		other, ok := approved[shape(ch.cell)]
		if !ok {
			continue
		}
		r := c.judge.InPlaceOf(diff.Pair{Golden: ch.stored, Candidate: ch.cell, PPEM: c.id.PPEM()}, other)
		ch.Score, ch.Findings = r.Score, []Finding{finding(&c.out.StrikeRecord, ch.Glyph, r.Findings[0])}
	}
}

// shapes tells which of the changed glyphs each approved bitmap is of.
func shapes(changes []Change) map[[32]byte]glyph.Key {
	of := map[[32]byte]glyph.Key{}
	for i := len(changes) - 1; i >= 0; i-- { // of equal ones the first
		if ch := &changes[i]; ch.Status == StatusChanged {
			of[shape(ch.stored)] = glyph.Key(ch.Glyph)
		}
	}
	return of
}

// shape is the digest of a bitmap where it stands, whatever its advance.
func shape(c *glyph.Cell) [32]byte { return (&glyph.Cell{Bitmap: c.Bitmap}).Digest() }
