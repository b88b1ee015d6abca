package harness

import "smokeproof/harness/glyph"

// StrikeKey is which strike of some results is meant, in the words of results.json: the
// plan's names of face and device, and the size in points, as "7.5".
type StrikeKey struct{ Face, Device, Size string }

// StrikeKey is that of the strike that the change is of.
func (c *Change) StrikeKey() StrikeKey { return StrikeKey{c.Face, c.Device, c.Size} }

// StrikeKey is that of the strike that is counted.
func (s *StrikeRecord) StrikeKey() StrikeKey { return StrikeKey{s.Face, s.Device, s.Size} }

func strikeKeyOf(s glyph.Strike) StrikeKey { return StrikeKey{s.Face, s.Device, s.Size.String()} }

// changeKey is which glyph of which strike is meant.
type changeKey struct {
	StrikeKey
	glyph string
}

func (c *Change) key() changeKey { return changeKey{c.StrikeKey(), c.Glyph} }

func (d *Decision) key() changeKey { return changeKey{StrikeKey{d.Face, d.Device, d.Size}, d.Glyph} }

// pair is a face on a device: strikes of all sizes.
type pair struct{ face, device string }
