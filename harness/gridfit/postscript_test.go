package gridfit

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit/stems"
)

// Latin Modern Roman Bold Italic declares 0.04546 and a zone 36 units tall: times
// that it must stay under a pixel (Type 1 book, 5.6).
func TestTheBlueScaleGoneByIsTold(t *testing.T) {
	p := postScript{size: stems.Size{PPEM: glyph.PixelsPerEm(glyph.Pt(8), glyph.Dots(203)), UPEM: 1000}}
	require.Equal(t, "BlueScale is 0.039625: overshoot shows from 39.62 ppem.", p.blueScale(0.039625, 0.039625))
	require.Equal(t, "BlueScale is 0.04546, taken for 0.0277778, as times the tallest zone it must stay under a pixel: overshoot shows from 27.78 ppem.",
		p.blueScale(0.04546, 1.0/36))
}
