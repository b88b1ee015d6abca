package harness_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/golden"
	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

const deskPlan = `
[[face]]
name = "text"
file = "text.ttf"
glyphs = "E,h,n,e,o"
[[device]]
name = "label"
dpi = 203
sizes = [6, 8]
`

// laidOut is revision A of Larkmoor Text approved at two sizes and revision B
// on the desk. Not every glyph of it is new: some have a golden.
func laidOut(t *testing.T) (*harness.Desk, string) {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, harness.PlanName)
	require.NoError(t, os.WriteFile(path, []byte(deskPlan), 0o666))
	layFont(t, dir, "a")
	p, err := harness.LoadPlan(path)
	require.NoError(t, err)
	only, err := harness.ParseSelection("E,h,n,e")
	require.NoError(t, err)
	r, err := harness.Open(t.Context(), p, harness.Options{Filter: harness.Filter{Glyphs: only}})
	require.NoError(t, err)
	_, err = r.Approve(t.Context(), harness.ApproveOptions{By: "Ada", Why: "first"})
	require.NoError(t, err)
	require.NoError(t, r.Close())
	layFont(t, dir, "b")
	d := harness.NewDesk(p, &harness.Results{}, harness.Options{})
	require.NoError(t, d.Redraw(t.Context(), nil))
	return d, dir
}

func layFont(t *testing.T, dir, revision string) {
	t.Helper()
	data, err := os.ReadFile("../fixtures/larkmoor-text-" + revision + ".ttf")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "text.ttf"), data, 0o666))
}

// shown finds a change on the desk.
func shown(t *testing.T, d *harness.Desk, glyph, size string) harness.Change {
	t.Helper()
	res, _, _ := d.Results()
	for _, c := range res.Changes {
		if c.Glyph == glyph && c.Size == size {
			return c
		}
	}
	t.Fatalf("%s at %s pt is not on the desk", glyph, size)
	return harness.Change{}
}

func seen(c harness.Change, v golden.Verdict) harness.Seen {
	return harness.Seen{
		Decision: harness.Decision{Face: c.Face, Device: c.Device, Size: c.Size, Glyph: c.Glyph, Digest: c.Digest, Verdict: v, Why: "seen"},
		Over:     c.Over, Standing: c.Verdict, Stands: c.Until,
	}
}

// pending counts what a fresh check finds undecided.
func pending(t *testing.T, d *harness.Desk, glyph, size string) int {
	t.Helper()
	r, err := harness.Open(t.Context(), d.Plan(), harness.Options{})
	require.NoError(t, err)
	defer r.Close()
	n := 0
	_, err = r.Check(t.Context(), func(s *harness.StrikeResult) error {
		for _, c := range s.Changes {
			if c.Glyph == glyph && c.Size == size && c.Fails("trace") {
				n++
			}
		}
		return nil
	})
	require.NoError(t, err)
	return n
}

func TestEachDecisionIsWrittenAndTakenBack(t *testing.T) {
	for _, test := range []struct {
		glyph, reason string
		verdict       golden.Verdict
	}{
		{"h", "a golden is replaced, and put back", golden.Approve},
		{"o", "a new glyph gets a golden, and loses it", golden.Approve},
		{"h", "put off, and due again", golden.Later},
	} {
		d, _ := laidOut(t)
		c := shown(t, d, test.glyph, "8")
		require.Equal(t, 1, pending(t, d, test.glyph, "8"), test.reason)
		out, err := d.Decide(t.Context(), "Ada", []harness.Seen{seen(c, test.verdict)})
		require.NoError(t, err, test.reason)
		require.Equal(t, 1, out.Done, test.reason)
		require.Empty(t, out.Left, test.reason)
		require.Equal(t, string(test.verdict), shown(t, d, test.glyph, "8").Verdict, test.reason)
		require.Zero(t, pending(t, d, test.glyph, "8"), test.reason)

		back, err := d.Undo(t.Context(), "Ada", out.Act)
		require.NoError(t, err, test.reason)
		require.Equal(t, 1, back.Done, test.reason)
		require.Empty(t, shown(t, d, test.glyph, "8").Verdict, test.reason)
		require.Equal(t, 1, pending(t, d, test.glyph, "8"), test.reason)
		problems, err := golden.Open(d.Plan().Goldens).Verify(t.Context())
		require.NoError(t, err, test.reason)
		require.Empty(t, problems, test.reason)
		_, err = d.Undo(t.Context(), "Ada", out.Act)
		require.Error(t, err, "a decision is taken back once")
	}
}

func TestTwoPeopleDoNotOverwriteEachOther(t *testing.T) {
	for reason, first := range map[string]golden.Verdict{
		"approved meanwhile": golden.Approve, "rejected meanwhile": golden.Reject, "put off meanwhile": golden.Later,
	} {
		d, _ := laidOut(t)
		c := shown(t, d, "h", "8") // both look at it
		one, err := d.Decide(t.Context(), "Ada", []harness.Seen{seen(c, first)})
		require.NoError(t, err, reason)
		require.Equal(t, 1, one.Done, reason)
		two, err := d.Decide(t.Context(), "Ben", []harness.Seen{seen(c, golden.Approve), seen(shown(t, d, "h", "6"), golden.Approve)})
		require.NoError(t, err, reason)
		require.Equal(t, 1, two.Done, "the other glyph of the same decision is written")
		require.Len(t, two.Left, 1, reason)
		require.Contains(t, two.Left[0], "by somebody else meanwhile", reason)
		require.Equal(t, string(first), shown(t, d, "h", "8").Verdict, reason)
	}
}

func TestUndoLeavesAloneWhatWasDecidedSince(t *testing.T) {
	d, _ := laidOut(t)
	one, err := d.Decide(t.Context(), "Ada", []harness.Seen{seen(shown(t, d, "h", "8"), golden.Later)})
	require.NoError(t, err)
	_, err = d.Decide(t.Context(), "Ben", []harness.Seen{seen(shown(t, d, "h", "8"), golden.Approve)})
	require.NoError(t, err)
	back, err := d.Undo(t.Context(), "Ada", one.Act)
	require.NoError(t, err)
	require.Zero(t, back.Done)
	require.Len(t, back.Left, 1)
	require.Zero(t, pending(t, d, "h", "8"), "Ben's approval stands")
}

// Of a candidate that was put off the golden may be another by now, though the word on it stands.
func TestUndoLeavesAloneAGlyphWhoseGoldenIsAnother(t *testing.T) {
	d, _ := laidOut(t)
	one, err := d.Decide(t.Context(), "Ada", []harness.Seen{seen(shown(t, d, "h", "8"), golden.Later)})
	require.NoError(t, err)
	store := golden.Open(d.Plan().Goldens)
	for _, s := range d.Plan().Strikes() {
		if s.Size != glyph.Pt(8) {
			continue
		}
		have, err := store.Load(t.Context(), s)
		require.NoError(t, err)
		for _, c := range have.Cells {
			if c.Key == "h" {
				c.Advance++
				require.NoError(t, store.Record(t.Context(), s, []golden.Decision{{Verdict: golden.Approve, Cell: c, By: "Ben", Why: "tuned"}}))
			}
		}
	}
	back, err := d.Undo(t.Context(), "Ada", one.Act)
	require.NoError(t, err)
	require.Zero(t, back.Done)
	require.Len(t, back.Left, 1)
}

func TestAReviewIsToldOfGoldensThatMovedOn(t *testing.T) {
	d, _ := laidOut(t)
	res, _, _ := d.Results()
	around, err := d.Plan().Surround(t.Context(), res)
	require.NoError(t, err)
	require.Zero(t, around.Moved)
	_, err = d.Decide(t.Context(), "Ada", []harness.Seen{seen(shown(t, d, "h", "8"), golden.Approve)})
	require.NoError(t, err)
	around, err = d.Plan().Surround(t.Context(), res)
	require.NoError(t, err)
	require.Equal(t, 1, around.Moved)
}

func TestOneFaceDrawnAgainLeavesTheOthersAsTheyStand(t *testing.T) {
	d, dir := laidOut(t)
	path := filepath.Join(dir, harness.PlanName)
	rewrite(t, path, "[[device]]", "[[face]]\nname = \"other\"\nfile = \"text.ttf\"\nglyphs = \"H,h\"\n[[device]]")
	require.NoError(t, d.Redraw(t.Context(), nil))
	all, _, _ := d.Results()
	require.Equal(t, 2*(5+2), all.Summary.Glyphs)
	require.Equal(t, 4, all.Summary.Strikes)
	require.Equal(t, 2*2+2, all.Summary.New, "H and h of the other face, and o")
	require.Equal(t, harness.ExitFindings, all.Summary.Exit)

	layFont(t, dir, "a")
	rewrite(t, path, "[[face]]", "[gate]\nseverity = \"trace\"\n[reading]\ndistance_mm = 300\n[[face]]")
	require.NoError(t, d.Redraw(t.Context(), []string{"text"}))
	now, _, _ := d.Results()
	require.Equal(t, "trace", now.Gate, "the plan's as it is on disk")
	require.Equal(t, 300.0, now.DistanceMM)
	require.Equal(t, all.Summary.Glyphs, now.Summary.Glyphs)
	require.Equal(t, 4, now.Summary.Strikes)
	require.Zero(t, now.Summary.Changed, "revision A is as approved")
	require.Equal(t, all.Summary.New, now.Summary.New)
	var drawn, other []string
	for _, c := range now.Changes {
		if c.Face == "other" {
			other = append(other, c.Glyph)
		} else {
			drawn = append(drawn, c.Glyph)
		}
	}
	require.Equal(t, []string{"o", "o"}, drawn)
	require.Equal(t, []string{"H", "h", "H", "h"}, other)
	require.Equal(t, all.Changes[len(all.Changes)-4:], now.Changes[:4], "untouched")
}

// rewrite puts a text in a file in place of another.
func rewrite(t *testing.T, path, from, to string) {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Contains(t, string(text), from)
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(text), from, to, 1)), 0o666))
}

func TestASavedFontIsDrawnAgain(t *testing.T) {
	d, dir := laidOut(t)
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		d.Watch(ctx, 5*time.Millisecond, func(err error) { t.Log(err) })
	}()
	defer func() { stop(); <-ended }()
	_, _, later := d.Results()
	layFont(t, dir, "a")
	select {
	case <-later:
	case <-time.After(20 * time.Second):
		t.Fatal("the saved font was not drawn again")
	}
	require.Eventually(t, func() bool {
		res, _, _ := d.Results()
		for _, c := range res.Changes {
			if c.Glyph != "o" {
				return false
			}
		}
		return true
	}, 20*time.Second, 10*time.Millisecond, "revision A is as approved, but for what nobody approved")
}

// withoutE is the desk after the plan has dropped a glyph that has goldens.
func withoutE(t *testing.T) *harness.Desk {
	t.Helper()
	d, dir := laidOut(t)
	rewrite(t, filepath.Join(dir, harness.PlanName), `"E,`, `"`)
	require.NoError(t, d.Redraw(t.Context(), nil))
	return d
}

func TestWhatIsGoneIsDecidedToo(t *testing.T) {
	for reason, test := range map[string]struct {
		verdict golden.Verdict
		goldens int // of E, afterwards
	}{
		"its golden is dropped":                  {golden.Approve, 0},
		"it is put off, and its golden is there": {golden.Later, 1},
	} {
		d := withoutE(t)
		c := shown(t, d, "E", "8")
		require.Equal(t, harness.StatusMissing, c.Status)
		require.Equal(t, 1, pending(t, d, "E", "8"))
		out, err := d.Decide(t.Context(), "Ada", []harness.Seen{seen(c, test.verdict)})
		require.NoError(t, err, reason)
		require.Equal(t, 1, out.Done, "%s: %v", reason, out.Left)
		require.Zero(t, pending(t, d, "E", "8"), reason)
		require.Equal(t, test.goldens, goldensOf(t, d, "E"), reason)
		problems, err := golden.Open(d.Plan().Goldens).Verify(t.Context())
		require.NoError(t, err)
		require.Empty(t, problems, reason)

		back, err := d.Undo(t.Context(), "Ada", out.Act)
		require.NoError(t, err, reason)
		require.Equal(t, 1, back.Done, reason)
		require.Equal(t, 1, pending(t, d, "E", "8"), reason)
		require.Equal(t, 1, goldensOf(t, d, "E"), reason)
	}
}

// goldensOf counts the goldens of a glyph at 8 pt.
func goldensOf(t *testing.T, d *harness.Desk, key glyph.Key) int {
	t.Helper()
	s, err := golden.Open(d.Plan().Goldens).Load(t.Context(), glyph.Strike{Face: "text", Device: "label", Size: glyph.Pt(8), DPI: glyph.Dots(203)})
	require.NoError(t, err)
	n := 0
	for _, c := range s.Cells {
		if c.Key == key {
			n++
		}
	}
	return n
}
