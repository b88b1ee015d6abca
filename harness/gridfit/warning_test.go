package gridfit

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

const freeOpcode = 0x91 // which nobody defines

// damaged is Go Regular, and its bytes, after a change to its programs in place.
func damaged(t *testing.T, damage func(f *face.TrueType)) (*face.TrueType, []byte) {
	data := bytes.Clone(goregular.TTF)
	parsed, err := face.Parse(data, 0)
	require.NoError(t, err)
	f := parsed.(*face.TrueType)
	damage(f)
	return f, data
}

// instructions are a glyph's program where it stands in the font.
func instructions(t *testing.T, f *face.TrueType, index int) []byte {
	g, err := f.Glyph(index)
	require.NoError(t, err)
	require.NotEmpty(t, g.Instructions)
	return g.Instructions
}

func TestHintsThatStopHalfWayAreTold(t *testing.T) {
	const broken, whole = 36, 37
	f, _ := damaged(t, func(f *face.TrueType) {
		program := instructions(t, f, broken)
		program[len(program)-1] = freeOpcode
	})
	fit := NewTrueType(f, pixels(20))
	got, err := fit.Fit(broken)
	require.NoError(t, err, "the glyph is drawn")
	require.ErrorContains(t, got.Warning, "program of glyph 36: byte ")
	require.ErrorContains(t, got.Warning, "0x91 undefined: the opcode is not defined")
	got, err = fit.Fit(whole)
	require.NoError(t, err)
	require.NoError(t, got.Warning, "the glyph beside it is well")
}

// FreeType draws such a glyph with what had moved until then, and so do we. Each
// glyph's program has one byte changed at random: points that are missing, values
// that lack on the stack, calls of functions that are not there.
func TestDamagedProgramsLeaveWhatFreeTypeLeaves(t *testing.T) {
	second := buildPoints(t)
	rounds := uint64(3)
	if os.Getenv("SMOKEPROOF_FIDELITY") == "1" {
		rounds = 200
	}
	tally, warnings := pointTally{}, 0
	for round := range rounds {
		random := rand.New(rand.NewPCG(round, 1))
		f, data := damaged(t, func(f *face.TrueType) {
			for index := range f.NumGlyphs() {
				if g, err := f.Glyph(index); err == nil && len(g.Instructions) > 0 {
					g.Instructions[random.IntN(len(g.Instructions))] = byte(random.Uint32())
				}
			}
		})
		path := filepath.Join(t.TempDir(), "damaged.ttf")
		require.NoError(t, os.WriteFile(path, data, 0o600))
		second.compare(t, path, pixels(20), 0, &tally, "fresh")
		warnings += countWarnings(t, f)
	}
	t.Logf("%s; %d drawn with a warning", &tally, warnings)
	require.Greater(t, tally.glyphs, 1500)
	require.Greater(t, warnings, 100, "damage that stops a program")
	require.Zero(t, tally.differ, "glyphs that differ, logged above")
}

func countWarnings(t *testing.T, f *face.TrueType) (n int) {
	fit := NewTrueType(f, pixels(20))
	for i := range f.NumGlyphs() {
		got, err := fit.Fit(i)
		require.NoError(t, err)
		if got.Warning != nil {
			n++
		}
	}
	return n
}

func pixels(n int) glyph.PPEM { return glyph.PPEM{X: fixed.I(n), Y: fixed.I(n)} }

func TestAFaceWhoseOwnProgramsFailIsDrawnUnhintedAndSaysSo(t *testing.T) {
	for _, c := range []struct {
		reason string
		damage func(*face.TrueType)
		says   string
	}{
		{"fpgm", func(f *face.TrueType) { f.Fpgm()[0] = freeOpcode }, "drawn without hints: fpgm program: byte 0, 0x91"},
		{"prep", func(f *face.TrueType) { f.Prep()[0] = freeOpcode }, "drawn without hints: prep program: byte 0, 0x91"},
	} {
		f, _ := damaged(t, c.damage)
		got, err := NewTrueType(f, pixels(20)).Fit(36)
		require.NoError(t, err, c.reason)
		require.ErrorContains(t, got.Warning, c.says, c.reason)
		require.NotEmpty(t, got.Outline.Points)
		d, err := f.Design(36)
		require.NoError(t, err)
		for i, p := range got.Outline.Points {
			want := float64(d.Outline.Points[i].X) / 64 * 20 * 64 / float64(f.UPEM())
			require.InDelta(t, want, float64(p.X), 1, "%s: point %d is only scaled", c.reason, i)
		}
	}
}

// The font program's definitions serve every size, from many goroutines.
func TestSizesOfAFaceShareItsFontProgram(t *testing.T) {
	f, _ := damaged(t, func(*face.TrueType) {})
	want := make([]fixed.Int26_6, 30)
	for ppem := 10; ppem < 30; ppem++ {
		got, err := NewTrueType(f, pixels(ppem)).Fit(36)
		require.NoError(t, err)
		want[ppem] = got.Outline.Points[0].Y
	}
	t.Run("together", func(t *testing.T) {
		for ppem := 10; ppem < 30; ppem++ {
			t.Run("", func(t *testing.T) {
				t.Parallel()
				got, err := NewTrueType(f, pixels(ppem)).Fit(36)
				require.NoError(t, err)
				require.Equal(t, want[ppem], got.Outline.Points[0].Y)
			})
		}
	})
}

func TestFittingAllocatesNothingOnceItsBuffersHaveGrown(t *testing.T) {
	f, _ := damaged(t, func(*face.TrueType) {})
	fit := NewTrueType(f, pixels(20))
	all := func() {
		for i := range f.NumGlyphs() {
			_, err := fit.Fit(i)
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	all()
	require.Zero(t, testing.AllocsPerRun(3, all))
}
