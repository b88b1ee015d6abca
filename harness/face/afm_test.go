package face

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/fixtures/psfont"
)

const afmTrial = `StartFontMetrics 4.1
FontName Trial
StartCharMetrics 3
C 65 ; WX 600.4 ; N A ; B 50 0 142 700 ;
C 66 ; WX 640 ; N B ; B 0 0 0 0 ;
C -1 ; WX 300 ; N gone ; B 0 0 0 0 ;
EndCharMetrics
EndFontMetrics
`

func TestAdvancesOfTheAFMBesideAFontAreHeldAgainstIts(t *testing.T) {
	font := &psfont.Font{Name: "Trial", Glyphs: []psfont.Glyph{
		{Name: ".notdef", Program: "0 500 hsbw endchar"}, {Name: "A", Program: "0 600 hsbw endchar"}, {Name: "B", Program: "0 620 hsbw endchar"},
	}}
	data, err := font.PFB()
	require.NoError(t, err)
	dir := t.TempDir()
	path := filepath.Join(dir, "trial.pfb")
	require.NoError(t, os.WriteFile(path, data, 0o666))
	f, err := Open(path, 0)
	require.NoError(t, err)
	require.Empty(t, f.(*Type1).OtherAdvances(), "no AFM file, nothing to hold against")

	require.NoError(t, os.WriteFile(filepath.Join(dir, "trial.afm"), []byte(afmTrial), 0o666))
	f, err = Open(path, 0)
	require.NoError(t, err)
	require.Equal(t, []OtherAdvance{{"B", fixed.I(620), fixed.I(640)}}, f.(*Type1).OtherAdvances(), "A's differs by less than rounding")
	require.Equal(t, fixed.I(620), f.Advance(2), "the font's own is drawn with")

	_, err = Open(filepath.Join(dir, "trial.afm"), 0)
	require.ErrorIs(t, err, ErrUnsupported, "an AFM file is no font")
	for _, broken := range []string{"EndFontMetrics\n", "StartFontMetrics 4.1\nC 65 ; WX wide ; N A ;\n"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "trial.afm"), []byte(broken), 0o666))
		_, err = Open(path, 0)
		require.ErrorIs(t, err, ErrInvalid)
		require.ErrorContains(t, err, "trial.afm")
	}
}

// The makers' own AFM files: every advance of the face is the one they state.
func TestAdvancesAreThoseOfTheMakersMetrics(t *testing.T) {
	for _, pattern := range []string{"/usr/share/fonts/X11/Type1/c*.pfb", "/usr/share/fonts/type1/urw-base35/Nimbus*.t1"} {
		for _, path := range fontFiles(t, pattern) {
			f, err := Open(path, 0)
			require.NoError(t, err)
			require.Greater(t, len(f.(*Type1).afm), 200, path)
			require.Empty(t, f.(*Type1).OtherAdvances(), path)
		}
	}
}
