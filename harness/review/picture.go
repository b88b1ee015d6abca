package review

import (
	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// picture is a bitmap of the results; one that is missing or damaged has no ink.
type picture struct {
	left, bottom int
	bits         glyph.Bitmap
}

func unpack(p *harness.Picture) picture {
	if p == nil {
		return picture{bits: glyph.Bitmap{Depth: 1}}
	}
	b, err := p.Unpack()
	if err != nil {
		return picture{bits: glyph.Bitmap{Depth: 1}}
	}
	return picture{b.Left, b.Bottom, b}
}

func (p *picture) right() int        { return p.left + p.bits.Width }
func (p *picture) top() int          { return p.bottom + p.bits.Height }
func (p *picture) empty() bool       { return p.bits.Width == 0 || p.bits.Height == 0 }
func (p *picture) ink(x, y int) bool { return p.bits.At(x, y) > p.bits.Max()/2 }
