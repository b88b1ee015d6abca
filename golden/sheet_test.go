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

// Some gives the cells that Strike gives of the same glyphs, and reads no others
// unless it must.
func TestSomeGoldensAreThoseOfTheWholeStrike(t *testing.T) {
	for _, c := range []struct {
		reason string
		alter  func(doc []byte) []byte
		whole  bool // Some has to read all
	}{
		{"as written", func(b []byte) []byte { return b }, false},
		{"a word changed by hand in another glyph", func(b []byte) []byte { return bytes.Replace(b, []byte("\nDWIDTH"), []byte("\nBREDTH"), 1) }, false},
		{"lines that end as on Windows", func(b []byte) []byte { return bytes.ReplaceAll(b, []byte("\n"), []byte("\r\n")) }, true},
		{"a wanted glyph that nobody approved", func(b []byte) []byte {
			return bytes.Replace(b, []byte("STARTCHAR glyphdba"), []byte("STARTCHAR Zz"), 1)
		}, true},
		{"a comment between glyphs", func(b []byte) []byte { return bytes.Replace(b, []byte("ENDCHAR\n"), []byte("ENDCHAR\nCOMMENT x\n"), 1) }, true},
	} {
		t.Run(c.reason, func(t *testing.T) {
			s, ctx := Open(t.TempDir()), context.Background()
			require.NoError(t, s.Record(ctx, demo, textStrike(rand.New(rand.NewSource(1)), 230)))
			path := filepath.Join(s.dir, place(demo)+".bdf")
			doc, err := os.ReadFile(path)
			require.NoError(t, err)
			altered := c.alter(doc)
			require.NoError(t, os.WriteFile(path, altered, 0o666))

			keys := map[glyph.Key]bool{"glyphcaa": true, "glyphdba": true, "Zz": true, "no such glyph": true}
			whole, err := s.Load(ctx, demo)
			require.NoError(t, err)
			want := map[glyph.Key]glyph.Cell{}
			for _, cell := range whole.Cells {
				if keys[cell.Key] {
					want[cell.Key] = cell
				}
			}
			require.GreaterOrEqual(t, len(want), 2)
			sheet, err := s.Sheet(ctx, demo)
			require.NoError(t, err)
			some, err := sheet.Some(keys)
			require.NoError(t, err)
			got := map[glyph.Key]glyph.Cell{}
			for _, cell := range some.Cells {
				if keys[cell.Key] {
					got[cell.Key] = cell
					require.Equal(t, whole.Approved(&cell), some.Approved(&cell))
				}
			}
			require.Equal(t, want, got)
			require.Equal(t, c.whole, len(some.Cells) == len(whole.Cells))
		})
	}
}
