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
	var approved map[[32]byte]*Change
	for i := range c.out.Changes {
		ch := &c.out.Changes[i]
		if ch.Status != StatusChanged || ch.Severity != diff.Critical.String() || ch.cell.Bitmap.Empty() {
			continue
		}
		if approved == nil {
			approved = shapes(c.out.Changes)
		}
		other := approved[shape(ch.cell)]
		if other == nil || other == ch {
			continue
		}
		right := ch.cell.Bitmap.Tight().Left - other.stored.Bitmap.Tight().Left
		r := c.judge.InPlaceOf(diff.Pair{Golden: ch.stored, Candidate: ch.cell, PPEM: c.id.PPEM()}, glyph.Key(other.Glyph), right)
		ch.Score, ch.Findings = r.Score, []Finding{finding(&c.out.StrikeRecord, ch.Glyph, r.Findings[0])}
	}
}

// shapes tells which of the changed glyphs each approved bitmap is of.
func shapes(changes []Change) map[[32]byte]*Change {
	of := map[[32]byte]*Change{}
	for i := len(changes) - 1; i >= 0; i-- { // of equal ones the first
		if ch := &changes[i]; ch.Status == StatusChanged {
			of[shape(ch.stored)] = ch
		}
	}
	return of
}

// shape is the digest of a bitmap on its line, whatever its bearings: what was renumbered may have
// kept its own.
func shape(c *glyph.Cell) [32]byte {
	b := c.Bitmap.Tight()
	b.Left = 0
	return (&glyph.Cell{Bitmap: b}).Digest()
}
