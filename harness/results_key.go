package harness

import "smokeproof/harness/glyph"

// StrikeKey tells a strike of results from every other, in the words that
// results.json has for it.
type StrikeKey struct{ Face, Device, Size string }

// StrikeKey is that of the strike that the change is of.
func (c *Change) StrikeKey() StrikeKey { return StrikeKey{c.Face, c.Device, c.Size} }

// StrikeKey is that of the strike that is counted.
func (s *StrikeRecord) StrikeKey() StrikeKey { return StrikeKey{s.Face, s.Device, s.Size} }

func strikeKeyOf(s glyph.Strike) StrikeKey { return StrikeKey{s.Face, s.Device, s.Size.String()} }

// changeKey tells a glyph of one strike from every other.
type changeKey struct {
	StrikeKey
	glyph string
}

func (c *Change) key() changeKey { return changeKey{c.StrikeKey(), c.Glyph} }

func (d *Decision) key() changeKey { return changeKey{StrikeKey{d.Face, d.Device, d.Size}, d.Glyph} }

// pair is a face on a device: strikes of all sizes.
type pair struct{ face, device string }
