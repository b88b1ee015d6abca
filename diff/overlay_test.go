package diff_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

func TestAnOverlayShowsWhatStaysAndWhatIsLostAndGained(t *testing.T) {
	grey := glyph.NewBitmap(0, 0, 3, 1, 8)
	for x, v := range []uint8{127, 128, 255} {
		grey.Set(x, 0, v)
	}
	bar := drawn("###").Bitmap
	huge := glyph.NewBitmap(1<<15, 0, 1, 3, 1)
	for _, c := range []struct {
		reason            string
		golden, candidate glyph.Bitmap
		want              []string
	}{
		{"about the origin, not their boxes", drawn("##").Bitmap, moved(drawn("##"), 1, 1).Bitmap, []string{".++", "--."}},
		{"what stays", bar, drawn("##.").Bitmap, []string{"##-"}},
		{"ink is half coverage and more", grey, grey, []string{".##"}},
		{"a blank one has no place to show", glyph.Bitmap{Left: 40, Bottom: 9, Depth: 1}, bar, []string{"+++"}},
		{"nor has one that is blank now", bar, glyph.Bitmap{Left: 40, Depth: 1}, []string{"---"}},
		{"nothing at all", glyph.Bitmap{Depth: 1}, glyph.Bitmap{Depth: 1}, nil},
		{"a worker that threw a glyph far must not fill a disk", bar, huge, []string{"(32769 × 3 pixels: too large to show here)"}},
	} {
		require.Equal(t, c.want, diff.Overlay(&c.golden, &c.candidate), c.reason)
	}
}
