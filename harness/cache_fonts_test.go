package harness

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// A font as it was is not read; one changed to the same length behind its time of
// modification is, and drawn.
func TestAFontIsReadOnlyIfItChanged(t *testing.T) {
	defer func(was time.Duration) { settled = was }(settled)
	settled = 50 * time.Millisecond
	d := newDesk(t)
	time.Sleep(3 * settled)
	remembered := false
	d.opened = func(r *Run) { _, remembered = r.faces["face"].(*rememberedFace) }
	for range 2 { // the first notes the stamp of a file that has settled
		_, _, drawn := d.check(t, d.cache)
		require.Zero(t, drawn)
	}
	require.True(t, remembered)
	path := filepath.Join(d.dir, deskFont)
	st, err := os.Stat(path)
	require.NoError(t, err)
	d.write(t, deskFont, withoutFpgm(larkmoor(t)))
	now, err := os.Stat(path)
	require.NoError(t, err)
	require.Equal(t, st.Size(), now.Size())
	require.NoError(t, os.Chtimes(path, st.ModTime(), st.ModTime()))
	_, _, drawn := d.check(t, d.cache)
	require.Positive(t, drawn)
	require.False(t, remembered)
	d.opened = nil
	d.holds(t)
}

// What is saved between the look at a font and the first glyph drawn from it must
// not be taken for what the look saw.
func TestAFontSavedDuringARunEndsIt(t *testing.T) {
	d := newDesk(t)
	d.check(t, d.cache)
	d.replace(t, PlanName, "[8]", "[8, 9]") // 9 pt has to be drawn
	p, err := LoadPlan(d.plan)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{Cache: d.cache})
	require.NoError(t, err)
	defer r.Close()
	require.IsType(t, &rememberedFace{}, r.faces["face"])
	d.write(t, deskFont, withoutFpgm(larkmoor(t)))
	_, err = r.Check(context.Background(), func(*StrikeResult) error { return nil })
	require.ErrorContains(t, err, "saved while the run was under way")
}

func TestARememberedFontComesBackAsItWas(t *testing.T) {
	was := fontEntry{common: [32]byte{1}, digest: [32]byte{2}, names: [32]byte{3}, upem: 2048, glyphs: 3, format: "TrueType"}
	b := was.append(nil)
	var is fontEntry
	require.NoError(t, is.read(b))
	require.Equal(t, was, is)
	require.Error(t, is.read(b[:100]))
}

func TestNamesComeBackAsTheyWere(t *testing.T) {
	was := []glyph.Ref{
		{Key: "A", Name: "A", Code: 'A', Index: 0}, {Key: "U+0042", Name: "A", Code: 'B', Index: 1}, {Key: "#2", Code: glyph.NoCode, Index: 2},
	}
	b := appendRefs(nil, was)
	is, err := readRefs(b)
	require.NoError(t, err)
	require.Equal(t, was, is)
	for n := range b {
		_, err := readRefs(b[:n])
		require.Error(t, err, "%d bytes", n)
	}
}
