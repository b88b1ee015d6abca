package gridfit

import (
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
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
