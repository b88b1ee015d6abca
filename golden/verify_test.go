package golden

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

func TestOrphansAreFoundBothWays(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct{ why, remove, text string }{
		{"bitmaps without approvals", ".approvals", "without an approvals file"},
		{"approvals without bitmaps", ".bdf", "its bitmap is gone"},
	} {
		s := Open(t.TempDir())
		require.NoError(t, s.Record(ctx, demo, decisions(1, "Ada")), c.why)
		require.NoError(t, os.Remove(filepath.Join(s.dir, place(demo)+c.remove)), c.why)
		problems, err := s.Verify(ctx)
		require.NoError(t, err, c.why)
		require.NotEmpty(t, problems, c.why)
		require.Contains(t, problems[0].Text, c.text, c.why)
	}
}

func TestALinkOutOfTheStoreIsRefused(t *testing.T) {
	dir, outside := t.TempDir(), t.TempDir()
	require.NoError(t, os.Symlink(outside, filepath.Join(dir, FileName(demo.Face))))
	require.NoError(t, os.Mkdir(filepath.Join(outside, demo.DPI.String()), 0o777))
	err := Open(dir).Record(context.Background(), demo, decisions(1, "Ada"))
	require.ErrorContains(t, err, "symbolic link")
	left, err := os.ReadDir(filepath.Join(outside, demo.DPI.String()))
	require.NoError(t, err)
	require.Empty(t, left, "nothing was written outside")
}

func TestHostileKeysSurviveAsOneWord(t *testing.T) {
	for _, k := range []glyph.Key{"%", "%41", "a\nENDFONT", "\x00", "\xff", "../x", " "} {
		got, err := UnescapeKey(EscapeKey(k))
		require.NoError(t, err)
		require.Equal(t, k, got)
		require.NotContains(t, EscapeKey(k), "\n")
	}
}
