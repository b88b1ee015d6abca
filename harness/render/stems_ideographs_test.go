package render

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
	"smokeproof/harness/gridfit/stems"
)

// Ideographs have the most bars and declare groups of counters that are not equal by design. Fitting takes no
// point of theirs more than a pixel and a half up or down, but of the densest at the smallest sizes, where
// that many rows have no room.
func TestFittedStemsOfIdeographsStayWhereTheyAreDrawn(t *testing.T) {
	if os.Getenv("SMOKEPROOF_STEMS") == "" {
		t.Skip("set SMOKEPROOF_STEMS=1, or run make stems")
	}
	const far = fixed.Int26_6(96)
	for _, name := range []string{"NotoSerifCJK-Regular", "NotoSansCJK-Regular"} {
		f, err := face.Open("/usr/share/fonts/opentype/noto/"+name+".ttc", 0)
		require.NoError(t, err)
		ps := f.(face.PostScript)
		drawings, astray := 0, 0
		for _, size := range []glyph.Points{6000, 8000, 10000, 12000} {
			for _, dpi := range []glyph.DPI{203000, 300000} {
				ppem := glyph.PixelsPerEm(size, glyph.Resolution{X: dpi, Y: dpi})
				fit := gridfit.NewPostScript(ps, ppem, stems.Options{})
				for _, ref := range ps.Refs() {
					if kana := ref.Code >= 0x3040 && ref.Code < 0x3100; !kana && (ref.Code < 0x4E00 || ref.Code >= 0x5200) {
						continue
					}
					drawn, err := ps.Drawing(ref.Index)
					require.NoError(t, err)
					fitted, err := fit.Fit(ref.Index)
					require.NoError(t, err)
					require.Len(t, fitted.Outline.Points, len(drawn.Outline.Points))
					drawings++
					for i, p := range fitted.Outline.Points {
						if y := glyph.Scale(drawn.Outline.Points[i].Y, ppem.Y, ps.UPEM()); p.Y-y > far || y-p.Y > far {
							astray++
							break
						}
					}
				}
			}
		}
		t.Logf("%s: of %d drawings %d have a point more than a pixel and a half above or below its place", name, drawings, astray)
		require.Greater(t, drawings, 9000)
		require.Less(t, astray, drawings/200, name)
	}
}
