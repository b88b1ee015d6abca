package golden

import (
	"math/rand"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// written says of a text what writing the glyph and comparing the two would say.
func TestAGlyphIsHeldAgainstItsTextAsIfItWereWritten(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for _, depth := range []int{1, 4} {
		for width := range 150 {
			c := glyph.Cell{Ref: glyph.Ref{Key: "x"}, Bitmap: glyph.NewBitmap(-1, -2, width, 3*min(width, 1), depth)}
			for y := range c.Bitmap.Height {
				for x := range width {
					c.Bitmap.Set(x-1, y-2, uint8(rnd.Intn(16))&c.Bitmap.Max())
				}
			}
			text := appendGlyph(nil, &c, &c.Bitmap)
			head := appendHead(nil, &c, &c.Bitmap)
			doc := append(text, "ENDFONT\n"...)
			require.True(t, written(doc, head, &c.Bitmap), "depth %d, width %d", depth, width)
			require.True(t, written(text, head, &c.Bitmap), "at the end of a document")
			for i := range text {
				changed := append([]byte(nil), doc...)
				changed[i] ^= byte(1 << rnd.Intn(8))
				require.False(t, written(changed, head, &c.Bitmap), "width %d, byte %d", width, i)
				require.False(t, written(doc[:i], head, &c.Bitmap), "width %d, cut at %d", width, i)
			}
		}
	}
}
