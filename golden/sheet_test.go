package golden

import (
	"bytes"
	"context"
	"math/rand"
	"os"
	"path/filepath"
	"strings"
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
		{"blanks about a wanted name, as an editor may leave them", func(b []byte) []byte {
			return bytes.Replace(b, []byte("STARTCHAR glyphdba"), []byte("STARTCHAR  glyphdba \t\r"), 1)
		}, false},
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

// A strike stays as it was loaded while others are read.
func TestTheMemoryOfASheetIsGivenAwayOnlyWhenNobodyHasIt(t *testing.T) {
	s, ctx := Open(t.TempDir()), context.Background()
	other := demo
	other.Size = glyph.Pt(9)
	ds := decisions(1, "Ada")
	require.NoError(t, s.Record(ctx, demo, ds))
	require.NoError(t, s.Record(ctx, other, decisions(2, "Bob")))
	for _, c := range []struct {
		why  string
		take func(*Sheet) (*Strike, error)
	}{
		{"read whole", (*Sheet).Strike},
		{"read in part", func(s *Sheet) (*Strike, error) { return s.Some(map[glyph.Key]bool{"A": true}) }},
		{"unread", func(s *Sheet) (*Strike, error) { return s.Approvals(), nil }},
	} {
		sheet, err := s.Sheet(ctx, demo)
		require.NoError(t, err)
		got, err := c.take(sheet)
		require.NoError(t, err)
		sheet.Close()
		_, err = s.Load(ctx, other)
		require.NoError(t, err)
		require.True(t, got.Approved(&ds[0].Cell), c.why)
	}
}

// A strike whose goldens are met, glyph by glyph, gives what it gives read whole.
func TestGoldensAreMetAsTheyAreRead(t *testing.T) {
	for _, c := range []struct {
		reason string
		alter  func(t *testing.T, base string)
		next   bool // goldens can be read one by one
	}{
		{"sealed", func(*testing.T, string) {}, true},
		{"the seal broken, so that all were read", func(t *testing.T, base string) {
			edit(t, base+".approvals", "\n%# ", "\n%# 0")
		}, false},
	} {
		t.Run(c.reason, func(t *testing.T) {
			s, ctx := Open(t.TempDir()), context.Background()
			require.NoError(t, s.Record(ctx, demo, textStrike(rand.New(rand.NewSource(1)), 900))) // more than one piece
			whole, err := s.Load(ctx, demo)
			require.NoError(t, err)
			c.alter(t, filepath.Join(s.dir, place(demo)))
			sheet, err := s.Sheet(ctx, demo)
			require.NoError(t, err)
			defer sheet.Close()
			require.False(t, sheet.Same(&whole.Cells[0]), "not before Sound was asked")
			require.True(t, sheet.Sound())
			for i := range whole.Cells {
				cell := &whole.Cells[i]
				other := *cell
				other.Advance++
				require.False(t, sheet.Same(&other), "another advance")
				require.Nil(t, sheet.Next(glyph.Ref{Key: "other", Index: cell.Index}), "another glyph's turn")
				require.False(t, sheet.Met(cell.Ref))
				if i%3 != 0 || !c.next {
					require.True(t, sheet.Same(cell))
				} else {
					got := sheet.Next(cell.Ref)
					require.Equal(t, cell, got)
					require.True(t, sheet.Approvals().Approved(got))
				}
				require.True(t, sheet.Met(cell.Ref))
				require.False(t, sheet.Same(cell), "a second time")
				require.Nil(t, sheet.Next(cell.Ref), "a second time")
				require.Equal(t, i == len(whole.Cells)-1, sheet.Done())
			}
			again, err := sheet.Strike()
			require.NoError(t, err)
			require.Equal(t, whole.Cells, again.Cells, "and can be read all the same")
		})
	}
}

// edit replaces a text in a file, the first if there are several.
func edit(t *testing.T, path, old, with string) {
	b := readFile(t, path)
	altered := bytes.Replace(b, []byte(old), []byte(with), 1)
	require.NotEqual(t, string(b), string(altered))
	require.NoError(t, os.WriteFile(path, altered, 0o666))
}

func readFile(t *testing.T, path string) []byte {
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	return b
}

// First glyphs with names of some length push the first line of another over the end of a piece.
func TestAGoldenIsFoundWhereItsNameIsReadInTwoPieces(t *testing.T) {
	ctx := context.Background()
	ds := textStrike(rand.New(rand.NewSource(1)), 600)
	halves := 0
	for n := 1; n < 400; n += 9 {
		s, id := Open(t.TempDir()), demo
		ds[0].Cell.Key = glyph.Key(strings.Repeat("a", n))
		ds[0].Cell.Name = string(ds[0].Cell.Key)
		require.NoError(t, s.Record(ctx, id, ds))
		doc := readFile(t, filepath.Join(s.dir, place(id)+".bdf"))
		border := bytes.Index(doc, []byte(glyphStart)) + piece
		at := bytes.LastIndex(doc[:border+len(glyphStart)], []byte(glyphStart))
		if end := at + bytes.IndexByte(doc[at:], '\n'); at >= border || end < border {
			continue
		}
		halves++
		cell := &ds[bytes.Count(doc[:at], []byte(glyphStart))].Cell
		sheet, err := s.Sheet(ctx, id)
		require.NoError(t, err)
		require.True(t, sheet.Sound())
		require.Equal(t, cell, sheet.Next(cell.Ref))
		sheet.Close()
	}
	require.Positive(t, halves)
}

func TestAGoldenThatStandsBeforeTheOneReadLastIsLeftToStrike(t *testing.T) {
	s, ctx := Open(t.TempDir()), context.Background()
	require.NoError(t, s.Record(ctx, demo, textStrike(rand.New(rand.NewSource(1)), 900)))
	whole, err := s.Load(ctx, demo)
	require.NoError(t, err)
	sheet, err := s.Sheet(ctx, demo)
	require.NoError(t, err)
	defer sheet.Close()
	require.True(t, sheet.Sound())
	require.Equal(t, &whole.Cells[700], sheet.Next(whole.Cells[700].Ref))
	require.Nil(t, sheet.Next(whole.Cells[3].Ref))
	require.False(t, sheet.Met(whole.Cells[3].Ref))
}

func TestADocumentThatWasCutShortMeanwhileIsNotSound(t *testing.T) {
	s, ctx := Open(t.TempDir()), context.Background()
	require.NoError(t, s.Record(ctx, demo, textStrike(rand.New(rand.NewSource(1)), 900)))
	path := filepath.Join(s.dir, place(demo)+".bdf")
	sheet, err := s.Sheet(ctx, demo)
	require.NoError(t, err)
	defer sheet.Close()
	require.NoError(t, os.Truncate(path, piece+1000), "after it was opened")
	require.False(t, sheet.Sound())
	_, err = sheet.Strike()
	require.ErrorContains(t, err, "changed while it was read")
}
