package golden

import (
	"bytes"
	"context"
	"math/rand"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// A packed document is in memory to its last byte, and no further.
func TestTheSealOfALargeGoldenIsNotLookedForPastTheEnd(t *testing.T) {
	s, ctx := Open(t.TempDir()), context.Background()
	s.Gzip = true
	small := demo
	small.Size = glyph.Pt(6)
	large := decisions(1, "Ada")[0]
	large.Cell.Bitmap = noise(400)
	require.NoError(t, s.Record(ctx, demo, []Decision{large}))
	require.NoError(t, s.Record(ctx, small, decisions(2, "Ada")[:1]))
	sheet, err := s.Sheet(ctx, demo)
	require.NoError(t, err)
	require.True(t, sheet.Same(&large.Cell))
	seal := sheet.Seal(large.Cell.Ref)
	next, err := s.Sheet(ctx, small)
	require.NoError(t, err)
	require.False(t, next.Bears(seal, large.Cell.Ref))
}

// A golden may be that of another strike, letter for letter; it bears the other's seal only if
// the same bitmap was approved in its own strike too.
func TestAGoldenBearsTheSealOfTheSameTextApproved(t *testing.T) {
	ctx := context.Background()
	record := func(t *testing.T) (s *Store, base string) {
		s = Open(t.TempDir())
		require.NoError(t, s.Record(ctx, demo, textStrike(rand.New(rand.NewSource(1)), 3)))
		return s, filepath.Join(s.dir, place(demo))
	}
	first, _ := record(t)
	whole, err := first.Load(ctx, demo)
	require.NoError(t, err)
	one, two := &whole.Cells[0], &whole.Cells[1]
	sheet, err := first.Sheet(ctx, demo)
	require.NoError(t, err)
	defer sheet.Close()
	require.True(t, sheet.Same(one))
	seal := sheet.Seal(one.Ref)
	require.True(t, sheet.Same(two))
	next := sheet.Seal(two.Ref)
	require.NotEqual(t, seal, next)

	replace := func(old, with string) func([]byte) []byte {
		return func(b []byte) []byte { return bytes.Replace(b, []byte(old), []byte(with), 1) }
	}
	for _, c := range []struct {
		reason string
		file   string
		alter  func([]byte) []byte // nil leaves it
		seal   Seal
		ref    glyph.Ref
		bears  bool
	}{
		{"the same golden", "", nil, seal, one.Ref, true},
		{"no seal", "", nil, Seal{}, one.Ref, false},
		{"the seal of the golden behind it", "", nil, next, one.Ref, false},
		{"approved as another glyph's", "", nil, seal, two.Ref, false},
		{"nobody approved the glyph", "", nil, seal, glyph.Ref{Key: "none", Index: 1}, false},
		{"a row changed by hand", ".bdf", replace("F00078", "F00079"), seal, one.Ref, false},
		{"another advance", ".bdf", replace("DWIDTH 25", "DWIDTH 26"), seal, one.Ref, false},
		{"a header of greys", ".bdf", replace("SIZE 8 300 300\n", "SIZE 8 300 300 8\n"), seal, one.Ref, false},
		{"cut short", ".bdf", func(b []byte) []byte { return b[:bytes.Index(b, []byte("ENDCHAR"))] }, seal, one.Ref, false},
		{"another bitmap approved", ".approvals", func(b []byte) []byte {
			digest := encodeMark(digestOf(one))
			return bytes.Replace(b, []byte(digest), []byte("A"+digest[1:]), 1)
		}, seal, one.Ref, false},
	} {
		t.Run(c.reason, func(t *testing.T) {
			s, base := record(t)
			if c.alter != nil {
				b, err := os.ReadFile(base + c.file)
				require.NoError(t, err)
				altered := c.alter(bytes.Clone(b))
				require.NotEqual(t, string(b), string(altered))
				require.NoError(t, os.WriteFile(base+c.file, altered, 0o666))
			}
			sheet, err := s.Sheet(ctx, demo)
			require.NoError(t, err)
			defer sheet.Close()
			require.Equal(t, c.bears, sheet.Bears(c.seal, c.ref))
			if c.bears {
				sheet.Pass(c.seal)
				require.True(t, sheet.Bears(next, two.Ref), "the next one comes")
				require.True(t, sheet.Same(two))
				require.Equal(t, 2, sheet.Passed())
			}
		})
	}
}

func digestOf(c *glyph.Cell) []byte {
	d := c.Digest()
	return d[:]
}
