package golden

import (
	"context"
	"math/rand"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// What a writer left is sealed. By whatever is changed the seal breaks; where the goldens are still those that were
// approved, they are sound all the same.
func TestASealHoldsForWhatWasWrittenTogether(t *testing.T) {
	const doc, approvals = ".bdf", ".approvals"
	digest := textStrike(rand.New(rand.NewSource(1)), 1)[0].Cell.Digest()
	for _, c := range []struct {
		reason          string
		file, old, with string
		sealed, sound   bool
	}{
		{"as written", doc, "", "", true, true},
		{"a row changed by hand", doc, "F00078", "F00070", false, false},
		{"another advance", doc, "DWIDTH 25", "DWIDTH 26", false, false},
		{"a header of greys", doc, "SIZE 8 300 300\n", "SIZE 8 300 300 8\n", false, false},
		{"another width in thousandths, which nobody approves", doc, "SWIDTH 556", "SWIDTH 557", false, true},
		{"a glyph lost", doc, "", "ENDCHAR", false, false},
		{"a bitmap that nobody approved", doc, "STARTCHAR ", "STARTCHAR x", false, false},
		{"a glyph that stands twice", doc, "ENDFONT", "", false, false},
		{"lines that end as on Windows", doc, "\n", "\r\n", false, true},
		{"another bitmap approved", approvals, encodeMark(digest[:]), encodeMark(make([]byte, mark)), false, false},
		{"a line that is gone", approvals, "glyphaaa", "glyphaaz", false, false},
		{"the seal gone", approvals, "%# ", "%# x", false, true},
	} {
		t.Run(c.reason, func(t *testing.T) {
			for _, gzip := range []bool{false, true} {
				s, ctx := Open(t.TempDir()), context.Background()
				s.Gzip = gzip && c.file == approvals
				require.NoError(t, s.Record(ctx, demo, textStrike(rand.New(rand.NewSource(1)), 3)))
				path := filepath.Join(s.dir, place(demo)+c.file)
				switch {
				case c.old == "ENDFONT":
					edit(t, path, c.old, firstGlyph(t, path)+c.old)
				case c.old != "":
					edit(t, path, c.old, c.with)
				case c.with != "":
					edit(t, path, firstGlyph(t, path), "")
				}
				sheet, err := s.Sheet(ctx, demo)
				require.NoError(t, err)
				require.Equal(t, c.sealed, sheet.sealed())
				require.Equal(t, c.sound, sheet.Sound())
				sheet.Close()
			}
		})
	}
}

// firstGlyph is the text of the first glyph of a document.
func firstGlyph(t *testing.T, path string) string {
	b := string(readFile(t, path))
	b = b[strings.Index(b, "STARTCHAR"):]
	return b[:strings.Index(b, "ENDCHAR\n")+len("ENDCHAR\n")]
}

func TestOnlyGoldensThatWereAllApprovedAreSealed(t *testing.T) {
	ctx := context.Background()
	ds := textStrike(rand.New(rand.NewSource(1)), 3)
	for _, c := range []struct {
		reason string
		change func(s *Store) error
		sealed bool
	}{
		{"a decision against another bitmap", func(s *Store) error {
			d := ds[1]
			d.Verdict, d.Cell.Advance = Reject, 99
			return s.Record(ctx, demo, []Decision{d})
		}, true},
		{"a golden dropped", func(s *Store) error {
			d := ds[1]
			d.Verdict = Gone
			return s.Record(ctx, demo, []Decision{d})
		}, true},
		{"a bitmap imported that nobody approved", func(s *Store) error {
			c := ds[1].Cell
			c.Advance = 99
			return s.Import(ctx, demo, []glyph.Cell{c})
		}, false},
		{"a glyph imported that nobody approved", func(s *Store) error {
			c := ds[1].Cell
			c.Key, c.Index = "new", 77
			return s.Import(ctx, demo, []glyph.Cell{c})
		}, false},
	} {
		s := Open(t.TempDir())
		require.NoError(t, s.Record(ctx, demo, ds))
		require.NoError(t, c.change(s), c.reason)
		sheet, err := s.Sheet(ctx, demo)
		require.NoError(t, err)
		require.Equal(t, c.sealed, sheet.sealed(), c.reason)
		require.Equal(t, c.sealed, sheet.Sound(), c.reason)
		require.Equal(t, c.sealed, strings.Contains(string(readFile(t, filepath.Join(s.dir, place(demo)+".approvals"))), "\n%# "), c.reason)
		sheet.Close()
	}
}

// A golden bears the mark of another strike's where the same bitmap was approved in both.
func TestAGoldenBearsTheMarkOfWhatWasApproved(t *testing.T) {
	s, ctx := Open(t.TempDir()), context.Background()
	ds := textStrike(rand.New(rand.NewSource(1)), 3)
	require.NoError(t, s.Record(ctx, demo, ds))
	one, two := &ds[0].Cell, &ds[1].Cell
	first, err := s.Sheet(ctx, demo)
	require.NoError(t, err)
	defer first.Close()
	require.True(t, first.Sound())
	require.True(t, first.Same(one))
	require.True(t, first.Same(two))
	mark, other := first.Mark(one.Ref), first.Mark(two.Ref)

	sheet, err := s.Sheet(ctx, demo)
	require.NoError(t, err)
	defer sheet.Close()
	require.False(t, sheet.Bears(mark, one.Ref), "not before Sound was asked")
	require.True(t, sheet.Sound())
	for _, c := range []struct {
		reason string
		mark   Mark
		ref    glyph.Ref
		bears  bool
	}{
		{"the same golden", mark, one.Ref, true},
		{"no mark", Mark{}, one.Ref, false},
		{"another glyph's mark", other, one.Ref, false},
		{"approved as another glyph's", mark, two.Ref, false},
		{"nobody approved the glyph", mark, glyph.Ref{Key: "none", Index: 1}, false},
	} {
		require.Equal(t, c.bears, sheet.Bears(c.mark, c.ref), c.reason)
	}
	sheet.Pass(one.Ref)
	require.True(t, sheet.Met(one.Ref))
	require.False(t, sheet.Bears(mark, one.Ref), "it was met")
	require.True(t, sheet.Bears(other, two.Ref))
}

func TestApprovalsOfAnotherVersionAreRefusedAndSayWhatToDo(t *testing.T) {
	s, ctx := Open(t.TempDir()), context.Background()
	require.NoError(t, s.Record(ctx, demo, decisions(1, "Ada")))
	edit(t, filepath.Join(s.dir, place(demo)+".approvals"), approvalsHead, approvalsMagic+"1")
	_, err := s.Sheet(ctx, demo)
	require.ErrorIs(t, err, ErrUnsupported)
	require.ErrorContains(t, err, `version "1", and this smokeproof reads 2`)
	require.ErrorContains(t, err, "approve --stored")
	require.NotContains(t, err.Error(), restore)
}
