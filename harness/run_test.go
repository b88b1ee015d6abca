package harness

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/diff"
	"smokeproof/fixtures/gofaces"
	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// facesIn writes faces and a plan over them into a new folder.
func facesIn(t *testing.T, faces map[string][]byte) string {
	dir := t.TempDir()
	plan := ""
	for name, data := range faces {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name+".ttf"), data, 0o666))
		plan += fmt.Sprintf("[[face]]\nname = %q\nfile = %q\nglyphs = \"U+0020-007E\"\n", name, name+".ttf")
	}
	plan += "[[device]]\nname = \"label\"\ndpi = 203\nsizes = [8]\n[[device]]\nname = \"laser\"\ndpi = 300\nsizes = [8]\n"
	path := filepath.Join(dir, PlanName)
	require.NoError(t, os.WriteFile(path, []byte(plan), 0o666))
	return path
}

func TestAFaceOfWhichNothingIsSelectedIsNoSuccess(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"regular": goregular.TTF})
	was, err := os.ReadFile(plan)
	require.NoError(t, err)
	misspelt := bytes.Replace(was, []byte(`"U+0020-007E"`), []byte(`"eacut,#9999"`), 1)
	require.NoError(t, os.WriteFile(plan, misspelt, 0o666))
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	_, err = Open(t.Context(), p, Options{})
	require.ErrorIs(t, err, ErrUsage)
	require.ErrorContains(t, err, `smokeproof.toml:1: face "regular": unusable input: it has none of the glyphs asked for (eacut, #9999); correct glyphs`)

	require.NoError(t, os.WriteFile(plan, was, 0o666))
	approveAll(t, plan)
	require.NoError(t, os.WriteFile(plan, misspelt, 0o666))
	sum := check(t, plan)
	require.Equal(t, 2*95, sum.Missing, "what was approved is missed, and no wrong plan: the font may have lost its names")
	require.Equal(t, ExitFindings, sum.Exit)
	for _, dpi := range []string{"203", "300"} {
		goldens := filepath.Join(filepath.Dir(plan), "golden", "regular", dpi)
		require.NoError(t, os.Rename(goldens, goldens+".away"))
		require.Equal(t, 95, check(t, plan).Missing, "one strike with goldens is enough")
		require.NoError(t, os.Rename(goldens+".away", goldens))
	}
}

func TestADeviceIsDrawnForAsItIsSet(t *testing.T) {
	for _, set := range []string{"fill = \"touch\"", "sideways = true"} {
		plan := facesIn(t, map[string][]byte{"regular": goregular.TTF})
		text, err := os.ReadFile(plan)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(plan, bytes.Replace(text, []byte("dpi = 203\n"), []byte("dpi = 203\n"+set+"\n"), 1), 0o666))
		p, err := LoadPlan(plan)
		require.NoError(t, err)
		r, err := Open(t.Context(), p, Options{})
		require.NoError(t, err)
		require.NotEqual(t, r.devices["laser"].id, r.devices["label"].id, set)
		require.NoError(t, r.Close())
	}
}

// A glyph approved since a revision is held against its golden of now; one that was put
// there and that nobody approved is new.
func TestOnlyWhatWasApprovedSinceIsHeldAgainstTheGoldensOfNow(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"regular": goregular.TTF})
	approveAll(t, plan)
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(t.Context(), p, Options{})
	require.NoError(t, err)
	defer r.Close()
	strike := r.strikes[0].Strike
	have, err := r.Store.Load(t.Context(), strike)
	require.NoError(t, err)
	tuned := have.Cells[1]
	tuned.Advance++
	require.NoError(t, r.Store.Import(t.Context(), strike, []glyph.Cell{tuned}))
	r.HoldSince(golden.Open(t.TempDir())) // when there were none
	sum, err := r.Check(t.Context(), func(*StrikeResult) error { return nil })
	require.NoError(t, err)
	require.Equal(t, [3]int{2 * 95, 2*95 - 1, 1}, [3]int{sum.Glyphs, sum.ApprovedSince, sum.New})
}

func TestWhatTheRendererRemarksStandsWithTheChange(t *testing.T) {
	font := bytes.Clone(goregular.TTF)
	f, err := face.Parse(font, 0)
	require.NoError(t, err)
	for _, ref := range f.Refs() {
		if ref.Key == "H" {
			g, err := f.(*face.TrueType).Glyph(ref.Index)
			require.NoError(t, err)
			g.Instructions[0] = 0x91 // which nobody defines
		}
	}
	plan := facesIn(t, map[string][]byte{"sound": goregular.TTF, "damaged": font})
	remarks := func(status Status, times int, reason string) {
		t.Helper()
		_, changes := checkChanges(t, plan)
		seen := 0
		for _, c := range changes {
			if c.Face == "damaged" && c.Glyph == "H" {
				require.Equal(t, status, c.Status)
				require.Contains(t, c.Note, "0x91 undefined")
				seen++
			} else {
				require.Empty(t, c.Note, "%s of %s", c.Glyph, c.Face)
			}
		}
		require.Equal(t, times, seen, reason)
	}
	remarks("new", 2, "a resolution each")
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(plan), "damaged.ttf"), goregular.TTF, 0o666))
	approveAll(t, plan)
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(plan), "damaged.ttf"), font, 0o666))
	remarks("changed", 1, "at the other its hints move no pixel")
}

func check(t *testing.T, plan string) *Summary {
	sum, _ := checkChanges(t, plan)
	return sum
}

func checkChanges(t *testing.T, plan string) (*Summary, []Change) {
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{})
	require.NoError(t, err)
	defer r.Close()
	var changes []Change
	sum, err := r.Check(context.Background(), func(s *StrikeResult) error {
		changes = append(changes, s.Changes...)
		return nil
	})
	require.NoError(t, err)
	return sum, changes
}

func approveAll(t *testing.T, plan string) {
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{})
	require.NoError(t, err)
	defer r.Close()
	_, err = r.Approve(context.Background(), ApproveOptions{By: "a test", Why: "to have goldens"})
	require.NoError(t, err)
}

func withoutFpgm(font []byte) []byte { return withoutTable(font, "fpgm") }

// withoutTable renames a table in the directory, so that nobody finds it.
func withoutTable(font []byte, name string) []byte {
	out := append([]byte(nil), font...)
	for i := range int(out[4])<<8 | int(out[5]) {
		if tag := out[12+16*i:][:4]; string(tag) == name {
			tag[0] = 'x'
		}
	}
	return out
}

func TestTheMainJobOnTheGoFaces(t *testing.T) {
	mainJob(t, gofaces.All)
}

// TestTheMainJobOnHandHintedFaces goes through every face of three families,
// of which DejaVu Math TeX Gyre alone has no fpgm to lose.
func TestTheMainJobOnHandHintedFaces(t *testing.T) {
	tests := []struct {
		folder string
		faces  int
	}{
		{"dejavu", 22}, {"ttf-bitstream-vera", 10}, {"liberation2", 12},
	}
	for _, tt := range tests {
		t.Run(tt.folder, func(t *testing.T) {
			files, err := filepath.Glob("/usr/share/fonts/truetype/" + tt.folder + "/*.ttf")
			require.NoError(t, err)
			if len(files) < tt.faces && os.Getenv("CI") != "true" {
				t.Skipf("the fonts of %s are not all installed", tt.folder)
			}
			require.GreaterOrEqual(t, len(files), tt.faces)
			faces := map[string][]byte{}
			for _, f := range files {
				data, err := os.ReadFile(f)
				require.NoError(t, err)
				faces[strings.TrimSuffix(filepath.Base(f), ".ttf")] = data
			}
			mainJob(t, faces)
		})
	}
}

func mainJob(t *testing.T, faces map[string][]byte) {
	plan := facesIn(t, faces)
	sum := check(t, plan)
	require.Equal(t, sum.Glyphs, sum.New, "nobody has approved anything yet")
	require.Equal(t, ExitFindings, sum.Exit)

	approveAll(t, plan)
	sum = check(t, plan)
	require.Equal(t, ExitOK, sum.Exit)
	require.Equal(t, sum.Glyphs, sum.Equal)

	p, err := LoadPlan(plan)
	require.NoError(t, err)
	problems, err := golden.Open(p.Goldens).Verify(context.Background())
	require.NoError(t, err)
	require.Empty(t, problems)

	for name, data := range faces {
		require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(plan), name+".ttf"), withoutFpgm(data), 0o666))
	}
	sum, changes := checkChanges(t, plan)
	t.Logf("without fpgm: %d of %d changed, %v, %v", sum.Changed, sum.Glyphs, sum.BySeverity, sum.ByFinding)
	require.Equal(t, ExitFindings, sum.Exit)
	require.Positive(t, sum.ByFinding["height"])
	stems := 0
	for _, c := range changes {
		require.True(t, c.Bare, "%s %s: hints did something", c.Face, c.Glyph)
		for _, f := range c.Findings {
			if len(f.Finding) > 4 && f.Finding[:4] == "stem" {
				stems++
			}
		}
	}
	require.Positive(t, stems)
}

func TestResultsComeBackAsTheyWereWritten(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"regular": goregular.TTF})
	approveAll(t, plan)
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(plan), "regular.ttf"), withoutFpgm(goregular.TTF), 0o666))
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{})
	require.NoError(t, err)
	defer r.Close()
	dir := t.TempDir()
	w, err := NewResultsWriter(dir, r.Header("test"))
	require.NoError(t, err)
	changes := 0
	sum, err := r.Check(context.Background(), func(s *StrikeResult) error {
		changes += len(s.Changes)
		return w.Strike(s)
	})
	require.NoError(t, err)
	require.NoError(t, w.Close(sum))
	res, err := ReadResults(filepath.Join(dir, ResultsName))
	require.NoError(t, err)
	require.Positive(t, changes)
	require.Len(t, res.Changes, changes)
	require.Equal(t, *sum, res.Summary)
	for _, c := range res.Changes {
		require.True(t, c.Bare)
		b, err := c.Candidate.Unpack()
		require.NoError(t, err)
		cell := glyph.Cell{Bitmap: b, Advance: c.Candidate.Advance}
		require.Equal(t, c.Digest, fmt.Sprintf("%x", cell.Digest()))
	}
}

func TestACancelledRunSaysThatItIsPartial(t *testing.T) {
	p, err := LoadPlan(facesIn(t, map[string][]byte{"regular": goregular.TTF}))
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	r, err := Open(ctx, p, Options{})
	require.NoError(t, err)
	defer r.Close()
	cancel()
	sum, err := r.Check(ctx, func(*StrikeResult) error { return nil })
	require.ErrorIs(t, err, context.Canceled)
	require.True(t, sum.Partial)
	require.Equal(t, ExitIncomplete, sum.Exit)
}

// recorder stands in for a *testing.T that is expected to fail.
type recorder struct{ said []string }

func (r *recorder) Errorf(format string, args ...any) {
	r.said = append(r.said, fmt.Sprintf(format, args...))
}

func TestHoldNamesWhatDiffers(t *testing.T) {
	dir := t.TempDir()
	s := glyph.Strike{Face: "mine", Device: "panel", Size: glyph.Pt(8), DPI: glyph.Dots(300)}
	cell := func(key glyph.Key, width int) glyph.Cell {
		b := glyph.NewBitmap(1, 0, width, 20, 1)
		for y := range 20 {
			for x := range width {
				b.Set(1+x, y, 1)
			}
		}
		return glyph.Cell{Ref: glyph.Ref{Key: key, Name: string(key), Code: glyph.NoCode}, Advance: width + 2, Bitmap: b}
	}
	ok := []glyph.Cell{cell("I", 2), cell("bar", 1)}
	var ds []golden.Decision
	for _, c := range ok {
		ds = append(ds, golden.Decision{Cell: c, Verdict: golden.Approve, By: "a test", Why: "first"})
	}
	require.NoError(t, golden.Open(dir).Record(context.Background(), s, ds))

	require.True(t, Hold(t, dir, s, ok, HoldOptions{}))
	r := &recorder{}
	require.False(t, Hold(r, dir, s, []glyph.Cell{cell("I", 3), cell("J", 1)}, HoldOptions{}))
	said := fmt.Sprint(r.said)
	require.Contains(t, said, "stem-weight")
	require.Contains(t, said, "J: nobody approved")
	require.Contains(t, said, "bar: approved, but not drawn")

	require.True(t, Hold(t, dir, s, ok[:1], HoldOptions{Partial: true}), "the others were not asked for")
	require.False(t, Hold(&recorder{}, dir, s, []glyph.Cell{cell("J", 1)}, HoldOptions{Partial: true}), "a glyph without golden is a fault all the same")

	tuned := cell("I", 3)
	require.NoError(t, golden.Open(dir).Import(context.Background(), s, []glyph.Cell{tuned}))
	r = &recorder{}
	require.False(t, Hold(r, dir, s, []glyph.Cell{tuned, ok[1]}, HoldOptions{Gate: diff.Critical}), "a bitmap that nobody approved is no golden, be it equal")
	require.Contains(t, fmt.Sprint(r.said), "I: nobody approved the bitmap in "+dir)
	require.False(t, Hold(&recorder{}, dir, s, []glyph.Cell{cell("I", 2), ok[1]}, HoldOptions{Gate: diff.Critical}), "nor is the one that it took the place of")
}
