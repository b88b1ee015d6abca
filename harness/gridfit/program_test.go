package gridfit

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
)

// Instructions that the programs of common fonts do without, each in a glyph's program
// of its own that moves points by what it comes to, against FreeType's interpreter.
func TestRareInstructionsDoWhatFreeTypeDoes(t *testing.T) {
	const (
		svtcaY, svtcaX                         = 0x00, 0x01
		szp0, szp1, szp2, szps                 = 0x13, 0x14, 0x15, 0x16
		else_, mdap, shpix, msirp, miap        = 0x1B, 0x2F, 0x38, 0x3A, 0x3E
		gc, scfs, wcvtp, if_, eif, not         = 0x46, 0x48, 0x44, 0x58, 0x59, 0x5C
		round, sround, s45round, sangw, aa     = 0x68, 0x76, 0x77, 0x7E, 0x7F
		flippt, fliprgon, fliprgoff            = 0x80, 0x81, 0x82
		push1, push2, push3, push4, mdrp, mirp = 0xB0, 0xB1, 0xB2, 0xB3, 0xC0, 0xE0
		pushw1, pushw2, spvtl, sfvtl           = 0xB8, 0xB9, 0x06, 0x08
	)
	// rounds moves points either way by odd amounts and rounds where they are.
	rounds := func(set, selector byte) []byte {
		out := []byte{svtcaX, push1, selector, set}
		for p := byte(0); p < 10; p++ {
			lo := p*23 + 5
			out = append(out, pushw2, 0, p, 0xFF-p&1*0xFF, lo, shpix, push1, p, mdap)
		}
		return out
	}
	second := buildPoints(t)
	for _, c := range []struct {
		reason  string
		program []byte
	}{
		{"NOT of nothing and of something", []byte{svtcaX, push1, 0, not, if_, push2, 3, 64, shpix, else_, push2, 4, 64, shpix, eif,
			push1, 5, not, if_, push2, 5, 64, shpix, else_, push2, 6, 64, shpix, eif}},
		{"FLIPRGON over curves, FLIPRGOFF over corners, FLIPPT back", []byte{push2, 2, 9, fliprgon, push2, 3, 5, fliprgoff, push1, 4, flippt}},
		{"FLIPRGON whose ends are the wrong way round", []byte{push2, 9, 2, fliprgon}},
		{"FLIPRGON past the last point", []byte{push2, 2, 250, fliprgon}},
		{"SROUND to two pixels", rounds(sround, 0x88)},
		{"SROUND to two pixels, a phase of a half", rounds(sround, 0xA8)},
		{"SROUND to two pixels, three quarters, threshold below nothing", rounds(sround, 0xB1)},
		{"SROUND to half a pixel, threshold largest", rounds(sround, 0x00)},
		{"SROUND to a pixel and a quarter, beyond it", rounds(sround, 0x5F)},
		{"SROUND of the period that is reserved", rounds(sround, 0xC8)},
		{"S45ROUND", rounds(s45round, 0x48)},
		{"S45ROUND to twice the diagonal", rounds(s45round, 0x98)},
		{"AA and SANGW, which take their argument and no more", []byte{svtcaX, push4, 3, 64, 9, 9, aa, sangw, shpix}},
		{"MIAP and MIRP in the twilight zone, and a glyph's point from there", []byte{svtcaY,
			push2, 0, 120, wcvtp, push2, 1, 250, wcvtp,
			push1, 0, szps, push2, 0, 0, miap, push2, 1, 1, mirp | 0x1D, push1, 1, szp1, push1, 4, mdrp | 0x0C}},
		{"MIRP in the twilight zone along a line", []byte{svtcaX, push2, 0, 120, wcvtp, push2, 1, 250, wcvtp,
			push2, 2, 7, spvtl, push2, 2, 7, sfvtl,
			push1, 0, szp1, push2, 1, 1, mirp | 0x14, push1, 0, szp0, push1, 1, szp1, push1, 4, mdrp | 0x04}},
		{"MSIRP in the twilight zone", []byte{svtcaX, push1, 0, szps, push2, 0, 0, miap, push2, 1, 80, msirp | 1,
			push1, 1, szp1, push1, 4, mdrp | 0x04}},
		{"MSIRP in the twilight zone along a line", []byte{svtcaX, push2, 2, 7, sfvtl, push1, 0, szp1, push2, 1, 80, msirp | 1,
			push1, 0, szp0, push1, 1, szp1, push1, 4, mdrp | 0x04}},
		{"SCFS in the twilight zone, read back", []byte{svtcaY, push1, 0, szp2, push2, 2, 100, scfs,
			push1, 4, push1, 2, gc, push1, 1, szp2, shpix}},
		{"SCFS in the twilight zone is original too", []byte{svtcaY, push1, 0, szp2, push2, 2, 100, scfs,
			push1, 4, push1, 2, gc | 1, push1, 1, szp2, shpix}},
		{"the origin, which is the first point after the glyph's 29, moved: the glyph and its advance go by it", []byte{svtcaX, push2, 29, 64, shpix}},
		{"the origin moved left", []byte{svtcaX, pushw2, 0, 29, 0xFF, 0x80, shpix}},
		{"the end of the advance moved", []byte{svtcaX, push2, 30, 64, shpix}},
		{"ROUND of what is left of the origin", []byte{svtcaX, push1, 3, pushw1, 0xFF, 0x37, round, shpix}},
	} {
		index := 0
		f, data := damaged(t, func(f *face.TrueType) {
			for _, r := range f.Refs() {
				if r.Key == "m" {
					index = r.Index
				}
			}
			room := instructions(t, f, index)
			require.LessOrEqual(t, len(c.program), len(room), c.reason)
			const rtg = 0x18 // does nothing more once the points have moved
			for i := copy(room, c.program); i < len(room); i++ {
				room[i] = rtg
			}
		})
		path := filepath.Join(t.TempDir(), "programmed.ttf")
		require.NoError(t, os.WriteFile(path, data, 0o600))
		for _, p := range ppemsOf(203, 406, 8, 11) {
			got, err := NewTrueType(f, p).Fit(index)
			require.NoError(t, err, c.reason)
			require.Empty(t, second.glyph(t, path, p, index).against(got), "%s, at %v: %v", c.reason, p, got.Warning)
			require.NoError(t, got.Warning, c.reason)
		}
	}
}
