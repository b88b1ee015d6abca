package gridfit

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// A component is fitted once for all composites, and a fitter may take over another's memory. No glyph may show it: each comes out
// as from a fitter that has met no other.
func TestGlyphsDoNotShowWhatWasFittedBefore(t *testing.T) {
	var used Fitter
	for _, path := range []string{"dejavu/DejaVuSerif-Bold.ttf", "liberation2/LiberationSans-Regular.ttf"} {
		path = "/usr/share/fonts/truetype/" + path
		if _, err := os.Stat(path); err != nil && os.Getenv("CI") != "true" {
			t.Skipf("%s is not installed", path)
		}
		f, err := face.Open(path, 0)
		require.NoError(t, err)
		ppem := ppemsOf(203, 300, 8)[0]
		used = NewTrueTypeFrom(used, f.(*face.TrueType), ppem)
		for i := range f.Refs() {
			got, err := used.Fit(i)
			require.NoError(t, err)
			if i%13 != 0 {
				continue
			}
			want, err := NewTrueType(f.(*face.TrueType), ppem).Fit(i)
			require.NoError(t, err)
			require.Equal(t, fmt.Sprint(want), fmt.Sprint(got), "glyph %d of %s", i, path)
		}
		require.Greater(t, len(used.(*trueType).parts), 1, "no component was kept")
	}
}

// Contours of one number are nearly always alike but for a move, or scan conversion would remember them
// in vain; those of scaled components have none.
func TestContoursOfOneNumberAreAlike(t *testing.T) {
	path := "/usr/share/fonts/truetype/dejavu/DejaVuSerif-Bold.ttf"
	if _, err := os.Stat(path); err != nil && os.Getenv("CI") != "true" {
		t.Skipf("%s is not installed", path)
	}
	f, err := face.Open(path, 0)
	require.NoError(t, err)
	fitter := NewTrueType(f.(*face.TrueType), ppemsOf(203, 300, 8)[0])
	first := map[int32][]glyph.Point{}
	again, alike := 0, 0
	for i := range f.Refs() {
		g, err := fitter.Fit(i)
		require.NoError(t, err)
		o, from := &g.Outline, 0
		require.Len(t, o.Recurs, len(o.Ends))
		for c, end := range o.Ends {
			ps := slices.Clone(o.Points[from : end+1])
			from = end + 1
			n := o.Recurs[c]
			if n == 0 {
				continue
			}
			x, y := ps[0].X, ps[0].Y
			for k := range ps {
				ps[k].X, ps[k].Y = ps[k].X-x, ps[k].Y-y
			}
			if first[n] == nil {
				first[n] = ps
				continue
			}
			again++
			if slices.Equal(ps, first[n]) {
				alike++
			}
		}
	}
	require.Greater(t, again, 2000)
	require.Greater(t, float64(alike)/float64(again), 0.95)
	t.Logf("%d of %d that come again are alike", alike, again)
}
