package golden

import (
	"fmt"
	"math/bits"

	"smokeproof/harness/glyph"
)

// pcfLayout is how the rows of a table lie in bytes.
type pcfLayout struct {
	pad      int  // bytes that a row is a multiple of
	swap     int  // byte i of the reading order stands at i^swap
	lowFirst bool // least significant bit first
}

func pcfLayoutOf(format int) (pcfLayout, error) {
	unit := 1 << (format >> pcfUnitShift & 3)
	if unit > 4 {
		return pcfLayout{}, fmt.Errorf("a scan unit of %d bytes", unit)
	}
	l := pcfLayout{pad: 1 << (format & pcfPadMask), lowFirst: format&pcfBigBits == 0}
	if (format&pcfBigBits != 0) != (format&pcfBigBytes != 0) {
		l.swap = unit - 1
	}
	return l, nil
}

// stride is how many bytes a row of so many pixels takes.
func (l pcfLayout) stride(width int) int { return (width + 8*l.pad - 1) / (8 * l.pad) * l.pad }

// read takes the pixels of a bitmap of a known box out of its rows; false where they end
// too soon.
func (l pcfLayout) read(box *glyph.Bitmap, rows []byte) (glyph.Bitmap, bool) {
	b := glyph.NewBitmap(box.Left, box.Bottom, box.Width, box.Height, 1)
	for y := range b.Height {
		for x := range (b.Width + 7) / 8 {
			at := (y*l.stride(b.Width) + x) ^ l.swap
			if at >= len(rows) {
				return b, false
			}
			v := rows[at]
			if l.lowFirst {
				v = bits.Reverse8(v)
			}
			if left := b.Width - 8*x; left < 8 {
				v &= 0xFF << (8 - left)
			}
			b.Row(y)[x/8] |= uint64(v) << (56 - 8*(x%8))
		}
	}
	return b, true
}
