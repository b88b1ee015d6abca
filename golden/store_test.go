package golden

import (
	"bytes"
	"context"
	"encoding/hex"
	"fmt"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

var demo = glyph.Strike{Face: "Larkmoor Text", Size: glyph.Pt(8), DPI: glyph.Dots(300)}

func decisions(seed int64, by string) []Decision {
	var ds []Decision
	for _, c := range randomFont(rand.New(rand.NewSource(seed)), 1).Cells {
		ds = append(ds, Decision{Cell: c, Verdict: Approve, By: by, Why: "looked at it", When: time.Unix(1_800_000_000+seed, 0)})
	}
	return ds
}

func TestApprovedGoldensVerifyAndAChangedOneIsNamed(t *testing.T) {
	for _, gz := range []bool{false, true} {
		s := Open(t.TempDir())
		s.Gzip = gz
		ds := decisions(1, "Ada")
		require.NoError(t, s.Record(context.Background(), demo, ds))
		problems, err := s.Verify(context.Background())
		require.NoError(t, err)
		require.Empty(t, problems)
		got, err := s.Load(context.Background(), demo)
		require.NoError(t, err)
		require.Len(t, got.Cells, len(ds))
		for i := range ds {
			require.Equal(t, ds[i].Cell.Digest(), got.Cells[i].Digest())
		}
	}
	s := Open(t.TempDir())
	require.NoError(t, s.Record(context.Background(), demo, decisions(1, "Ada")))
	path := filepath.Join(s.dir, place(demo)+".bdf")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	at := bytes.Index(data, []byte("DWIDTH ")) + 7
	data[at] = '1' + (data[at]-'0')%9
	require.NoError(t, os.WriteFile(path, data, 0o666))
	problems, err := s.Verify(context.Background())
	require.NoError(t, err)
	require.Len(t, problems, 1)
	require.Equal(t, glyph.Key("A"), problems[0].Glyph)
}

func TestAnActThatWasChangedByHandIsFound(t *testing.T) {
	s := Open(t.TempDir())
	require.NoError(t, s.Record(context.Background(), demo, decisions(1, "Ada")))
	path := filepath.Join(s.dir, place(demo)+".approvals")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, bytes.Replace(data, []byte("Ada"), []byte("Bob"), 1), 0o666))
	problems, err := s.Verify(context.Background())
	require.NoError(t, err)
	require.Len(t, problems, 1)
}

func TestFaceNamesNeitherLeaveTheFolderNorMeet(t *testing.T) {
	for _, name := range []string{"..", "a/b", ".", `a\b`, ""} {
		require.True(t, filepath.IsLocal(FileName(name)) || name == "", name)
		require.NotContains(t, FileName(name), "/")
	}
	require.NotEqual(t, FileName("Text"), FileName("text"))
}

// killed runs a test of this program again and again as a writer and kills it
// at a random moment of its work. Each writer begins elsewhere (see firstSeed): on a
// busy machine it may get no further.
func killed(t *testing.T, test, dir string, rounds int, after func()) {
	rnd := rand.New(rand.NewSource(1))
	for round := range rounds {
		c := exec.Command(os.Args[0], "-test.run=^"+test+"$")
		c.Env = append(os.Environ(), "SMOKEPROOF_KILLED_STORE="+dir, fmt.Sprint("SMOKEPROOF_KILLED_ROUND=", round))
		out, err := c.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, c.Start())
		_, err = out.Read(make([]byte, 1)) // it is at work
		require.NoError(t, err)
		time.Sleep(time.Duration(rnd.Intn(30_000)) * time.Microsecond)
		require.NoError(t, c.Process.Kill())
		c.Wait()
		after()
	}
}

// firstSeed is what a writer that is to be killed begins with.
func firstSeed(t *testing.T) int64 {
	round, err := strconv.ParseInt(os.Getenv("SMOKEPROOF_KILLED_ROUND"), 10, 64)
	require.NoError(t, err)
	return round
}

func killRounds() int {
	if os.Getenv("SMOKEPROOF_ARCHIVE") == "1" {
		return 1000
	}
	return 20
}

func TestWriterKilledAtAnyMomentLosesNothing(t *testing.T) {
	if dir := os.Getenv("SMOKEPROOF_KILLED_STORE"); dir != "" {
		for seed := firstSeed(t); ; seed++ {
			require.NoError(t, Open(dir).Record(context.Background(), demo, decisions(seed%7, "Ada")))
			fmt.Print(".")
		}
	}
	dir := t.TempDir()
	require.NoError(t, Open(dir).Record(context.Background(), demo, decisions(1, "Ada")))
	goldens := map[[32]byte]bool{}
	met := map[[32]byte]bool{}
	for seed := range int64(7) {
		goldens[decisions(seed, "Ada")[0].Cell.Digest()] = true
	}
	killed(t, "TestWriterKilledAtAnyMomentLosesNothing", dir, killRounds(), func() {
		problems, err := Open(dir).Verify(context.Background())
		require.NoError(t, err)
		require.Empty(t, problems)
		got, err := Open(dir).Load(context.Background(), demo)
		require.NoError(t, err)
		require.Len(t, got.Cells, 5)
		first := got.Cells[0].Digest()
		require.True(t, goldens[first], "a golden of before or of after, nothing between")
		met[first] = true
	})
	require.Greater(t, len(met), 2, "writers were killed at work")
}

// An import leaves approvals alone: after a kill either all bitmaps are those
// that were approved, or all are those that were imported.
func TestImportKilledAtAnyMomentLosesNothing(t *testing.T) {
	cells := func(seed int64) (out []glyph.Cell) {
		for _, d := range decisions(seed, "") {
			out = append(out, d.Cell)
		}
		return out
	}
	if dir := os.Getenv("SMOKEPROOF_KILLED_STORE"); dir != "" {
		for seed := firstSeed(t); ; seed++ {
			require.NoError(t, Open(dir).Import(context.Background(), demo, cells(seed%2+1)))
			fmt.Print(".")
		}
	}
	dir := t.TempDir()
	require.NoError(t, Open(dir).Record(context.Background(), demo, decisions(1, "Ada")))
	approved := decisions(1, "Ada")[0].Cell.Digest()
	kept, replaced := 0, 0
	killed(t, "TestImportKilledAtAnyMomentLosesNothing", dir, killRounds(), func() {
		problems, err := Open(dir).Verify(context.Background())
		require.NoError(t, err)
		got, err := Open(dir).Load(context.Background(), demo)
		require.NoError(t, err)
		require.Len(t, got.Cells, 5)
		if got.Cells[0].Digest() == approved {
			kept++
			require.Empty(t, problems)
		} else {
			replaced++
			require.Len(t, problems, 5, "each imported bitmap is one that nobody approved")
		}
	})
	require.Positive(t, kept)
	require.Positive(t, replaced)
}

func TestTwoWritersAtOnceBothKeepTheirGlyphs(t *testing.T) {
	dir, ds := t.TempDir(), decisions(1, "Ada")
	errs := make([]error, len(ds))
	var wg sync.WaitGroup
	for i := range ds {
		wg.Go(func() { errs[i] = Open(dir).Record(context.Background(), demo, ds[i:i+1]) })
	}
	wg.Wait()
	for _, err := range errs {
		require.NoError(t, err)
	}
	got, err := Open(dir).Load(context.Background(), demo)
	require.NoError(t, err)
	require.Len(t, got.Cells, len(ds))
	problems, err := Open(dir).Verify(context.Background())
	require.NoError(t, err)
	require.Empty(t, problems)
}

func TestStandingDecisionSpeaksOfItsBitmapAlone(t *testing.T) {
	s, ds := Open(t.TempDir()), decisions(1, "Ada")
	ds[0].Verdict = Later
	ds[0].Until = time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)
	require.NoError(t, s.Record(context.Background(), demo, ds[:1]))
	got, err := s.Load(context.Background(), demo)
	require.NoError(t, err)
	require.Empty(t, got.Cells, "a glyph that was put off is no golden")
	d, ok := got.Standing("A", hexOf(&ds[0].Cell))
	require.True(t, ok)
	require.Equal(t, ds[0].Until, d.Until)
	_, ok = got.Standing("A", hexOf(&ds[1].Cell))
	require.False(t, ok, "another bitmap is another question")
}

func TestTheLastWordOfOneActOnAGlyphStands(t *testing.T) {
	s, ds := Open(t.TempDir()), decisions(1, "Ada")
	gone := ds[0]
	gone.Verdict = Gone
	require.NoError(t, s.Record(t.Context(), demo, []Decision{ds[0], gone, ds[0], ds[1], gone, ds[0], ds[0]}))
	got, err := s.Load(t.Context(), demo)
	require.NoError(t, err)
	require.Len(t, got.Cells, 2)
	problems, err := s.Verify(t.Context())
	require.NoError(t, err)
	require.Empty(t, problems)
}

// Git's own files about the folder are its people's, once they are there.
func TestWhatTheFolderTellsGitMayBeChanged(t *testing.T) {
	s := Open(t.TempDir())
	require.NoError(t, s.Record(t.Context(), demo, decisions(1, "Ada")))
	path := filepath.Join(s.dir, ".gitattributes")
	ours, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Contains(t, string(ours), "*.approvals merge=union")
	theirs := string(ours) + "*.bdf -diff\n"
	require.NoError(t, os.WriteFile(path, []byte(theirs), 0o666))
	require.NoError(t, s.Record(t.Context(), demo, decisions(2, "Ada")))
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, theirs, string(after))
}

func hexOf(c *glyph.Cell) string {
	sum := c.Digest()
	return hex.EncodeToString(sum[:])
}

func TestADecisionOverAnotherGoldenWritesNothing(t *testing.T) {
	s, id := Open(t.TempDir()), glyph.Strike{Face: "f", Size: glyph.Pt(8), DPI: glyph.Dots(203)}
	cell := func(advance int) glyph.Cell {
		return glyph.Cell{Ref: glyph.Ref{Key: "l", Name: "l", Code: 'l', Index: 1}, Advance: advance, Bitmap: glyph.Bitmap{Depth: 1}}
	}
	decide := func(advance int, over *[32]byte) error {
		return s.Record(t.Context(), id, []Decision{{Cell: cell(advance), Verdict: Approve, By: "Ada", Why: "seen", Over: over}})
	}
	none, first := [32]byte{}, cell(5)
	seen := first.Digest()
	require.NoError(t, decide(5, &none))
	require.ErrorIs(t, decide(6, &none), ErrOvertaken, "somebody approved it meanwhile")
	require.NoError(t, decide(7, &seen))
	require.ErrorIs(t, decide(8, &seen), ErrOvertaken, "somebody replaced it meanwhile")
	have, err := s.Load(t.Context(), id)
	require.NoError(t, err)
	require.Equal(t, 7, have.Cells[0].Advance)
}
