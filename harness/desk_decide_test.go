package harness_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/golden"
	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

func TestWhatIsNoLongerAsItWasSeenIsLeftAlone(t *testing.T) {
	for _, test := range []struct {
		meanwhile func(*testing.T, *harness.Desk, string)
		says      string
	}{
		{func(t *testing.T, _ *harness.Desk, dir string) {
			require.NoError(t, os.WriteFile(filepath.Join(dir, "text.ttf"), goregular.TTF, 0o666))
		}, "h at 8 pt: drawn differently meanwhile"},
		{func(t *testing.T, d *harness.Desk, _ string) {
			s := golden.Open(d.Plan().Goldens)
			id := glyph.Strike{Face: "text", Device: "label", Size: glyph.Pt(8), DPI: glyph.Dots(203)}
			had, err := s.Load(t.Context(), id)
			require.NoError(t, err)
			for _, c := range had.Cells {
				if c.Key == "h" {
					c.Advance++
					require.NoError(t, s.Import(t.Context(), id, []glyph.Cell{c}))
				}
			}
		}, "h at 8 pt: its golden was changed by somebody else meanwhile"},
		{func(t *testing.T, _ *harness.Desk, dir string) { layFont(t, dir, "a") }, "h at 8 pt: approved by somebody else meanwhile, or drawn as approved"},
	} {
		d, dir := laidOut(t)
		c := shown(t, d, "h", "8")
		test.meanwhile(t, d, dir)
		before, err := os.ReadFile(filepath.Join(d.Plan().Goldens, "text", "203", "8.approvals"))
		require.NoError(t, err)
		out, err := d.Decide(t.Context(), "Ada", []harness.Seen{seen(c, golden.Approve)})
		require.NoError(t, err, test.says)
		require.Zero(t, out.Done, test.says)
		require.Zero(t, out.Act, "nothing to take back")
		require.Equal(t, []string{test.says}, out.Left)
		after, err := os.ReadFile(filepath.Join(d.Plan().Goldens, "text", "203", "8.approvals"))
		require.NoError(t, err)
		require.Equal(t, string(before), string(after), "nothing is written")
	}
}

func TestWhatStoodBeforeStandsAgain(t *testing.T) {
	for reason, until := range map[string]time.Time{
		"put off to a day": time.Date(2199, 1, 31, 0, 0, 0, 0, time.UTC), "put off without end": {},
	} {
		d, _ := laidOut(t)
		first := seen(shown(t, d, "h", "8"), golden.Later)
		first.Until = until
		_, err := d.Decide(t.Context(), "Ada", []harness.Seen{first})
		require.NoError(t, err, reason)
		stood := shown(t, d, "h", "8")
		require.Equal(t, "later", stood.Verdict, reason)
		second, err := d.Decide(t.Context(), "Ben", []harness.Seen{seen(stood, golden.Reject)})
		require.NoError(t, err, reason)
		require.Equal(t, 1, second.Done, "%s: %v", reason, second.Left)
		require.Equal(t, 1, pending(t, d, "h", "8"), "rejected: check fails")
		_, err = d.Undo(t.Context(), "Ben", second.Act)
		require.NoError(t, err, reason)
		require.Equal(t, stood, shown(t, d, "h", "8"), reason)
		require.Zero(t, pending(t, d, "h", "8"), reason)
		require.NoError(t, d.Redraw(t.Context(), nil))
		again := shown(t, d, "h", "8")
		require.Equal(t, stood.Until, again.Until, "as on the desk, so on disk")
		require.Equal(t, "later", again.Verdict, reason)
	}
}

func TestNobodyDecidesWithoutAName(t *testing.T) {
	d, _ := laidOut(t)
	_, err := d.Decide(t.Context(), "", []harness.Seen{seen(shown(t, d, "h", "8"), golden.Approve)})
	require.ErrorIs(t, err, harness.ErrUsage)
	out, err := d.Decide(t.Context(), "Ada", []harness.Seen{seen(shown(t, d, "h", "8"), golden.Approve)})
	require.NoError(t, err)
	for who, act := range map[string]int{"": out.Act, "Ben": 0, "Cy": out.Act + 1} {
		_, err = d.Undo(t.Context(), who, act)
		require.ErrorIs(t, err, harness.ErrUsage, "%q takes back %d", who, act)
	}
	require.Zero(t, pending(t, d, "h", "8"), "it stands")
}
