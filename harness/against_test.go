package harness

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/harness/face"
)

// against holds one font against another at two sizes; spoil may break what draws the old one.
func against(t *testing.T, old, now []byte, spoil func(*Run)) (*Summary, []Change) {
	t.Helper()
	open := func(font []byte) *Run {
		p, err := LoadPlan(facesIn(t, map[string][]byte{"a": font}))
		require.NoError(t, err)
		r, err := Open(t.Context(), p, Options{})
		require.NoError(t, err)
		t.Cleanup(func() { r.Close() })
		return r
	}
	before := open(old)
	if spoil != nil {
		spoil(before)
	}
	var changes []Change
	r := open(now)
	sum, err := r.Against(t.Context(), before, r.Revisions(before), func(s *StrikeResult) error {
		changes = append(changes, s.Changes...)
		return nil
	})
	require.NoError(t, err)
	return sum, changes
}

func TestTwoFontsAreHeldAgainstEachOtherByCharacterWhereOneHasNoNames(t *testing.T) {
	sum, _ := against(t, goregular.TTF, gobold.TTF, nil)
	require.NotZero(t, sum.Changed)
	for _, c := range []struct {
		reason   string
		old, now []byte
	}{
		{"the new one has none", goregular.TTF, nameless(gobold.TTF)},
		{"the old one has none", nameless(goregular.TTF), gobold.TTF},
		{"neither has", nameless(goregular.TTF), nameless(gobold.TTF)},
	} {
		is, _ := against(t, c.old, c.now, nil)
		require.Equal(t, sum, is, c.reason)
	}
}

func TestWhatCouldNotBeDrawnOfTheOldFontIsNoGlyphThatTheNewOneHasMore(t *testing.T) {
	sum, changes := against(t, goregular.TTF, goregular.TTF, func(old *Run) {
		old.devices["laser"].Renderer = breaking{old.builtIn, "A"}
	})
	require.Equal(t, []int{1, 0, ExitIncomplete}, []int{sum.Undrawn, sum.New, sum.Exit})
	require.Len(t, changes, 1)
	require.Contains(t, changes[0].Findings[0].Text, "not drawn: of the old font: ")
}

func TestHintsThatFailAreRemarkedOfARunThatFindsNothing(t *testing.T) {
	font := bytes.Clone(goregular.TTF)
	f, err := face.Parse(font, 0)
	require.NoError(t, err)
	f.(*face.TrueType).Prep()[0] = 0x91 // which nobody defines
	p, err := LoadPlan(facesIn(t, map[string][]byte{"sound": goregular.TTF, "failing": font}))
	require.NoError(t, err)
	approveAll(t, p.Path)
	r, err := Open(t.Context(), p, Options{})
	require.NoError(t, err)
	defer r.Close()
	sum, err := r.Check(t.Context(), func(*StrikeResult) error { return nil })
	require.NoError(t, err)
	require.Equal(t, sum.Glyphs, sum.Equal)
	require.Len(t, r.Remarks(), 1)
	require.Contains(t, r.Remarks()[0], `face "failing": drawings: 190, drawn without hints: prep program: `)
}
