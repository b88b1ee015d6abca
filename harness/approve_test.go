package harness

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/golden"
)

// approve opens a plan anew and approves.
func approve(t *testing.T, plan string, o ApproveOptions) *Approved {
	t.Helper()
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(t.Context(), p, Options{})
	require.NoError(t, err)
	defer r.Close()
	a, err := r.Approve(t.Context(), o)
	require.NoError(t, err)
	return a
}

// decided are decisions on some changes, as review exports them.
func decided(changes []Change, v golden.Verdict, glyphs ...string) []Decision {
	ds := []Decision{}
	for _, c := range changes {
		for _, g := range glyphs {
			if c.Glyph == g {
				ds = append(ds, Decision{Face: c.Face, Device: c.Device, Size: c.Size, Glyph: c.Glyph, Digest: c.Digest, Verdict: v, Why: "seen"})
			}
		}
	}
	return ds
}

func TestADecisionStandsForTheBitmapThatWasSeenAlone(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"a": goregular.TTF})
	_, changes := checkChanges(t, plan)
	ds := decided(changes, golden.Approve, "H", "e")
	require.Len(t, ds, 4, "two glyphs at two resolutions")
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(plan), "a.ttf"), gobold.TTF, 0o666))
	a := approve(t, plan, ApproveOptions{By: "Ada", Decisions: ds})
	require.Zero(t, a.Approved, "nobody has seen the bold ones")
	require.Len(t, a.Stale, 4)
	for _, s := range a.Stale {
		require.Contains(t, s, "drawn differently since it was decided")
	}
	sum := check(t, plan)
	require.Equal(t, 2*95, sum.New, "nothing is stored")

	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(plan), "a.ttf"), goregular.TTF, 0o666))
	a = approve(t, plan, ApproveOptions{By: "Ada", Decisions: ds})
	require.Equal(t, 4, a.Approved)
	require.Equal(t, 4, check(t, plan).Equal, "these, and no other")
}

func TestWhatIsNotDrawnCanBePutOffAndNotApproved(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"a": goregular.TTF})
	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	failing := strings.Replace(string(text), "dpi = 203", "dpi = 203\nrenderer = \"process\"\ncommand = [\"false\", \"{font}\"]", 1)
	require.NoError(t, os.WriteFile(plan, []byte(failing), 0o666))
	sum, changes := checkChanges(t, plan)
	require.Equal(t, 95, sum.Undrawn)
	undrawn := changes[:95]

	a := approve(t, plan, ApproveOptions{By: "Ada", Decisions: decided(undrawn, golden.Approve, "H")})
	require.Zero(t, a.Approved)
	require.Len(t, a.Undrawn, 1)
	require.Contains(t, a.Undrawn[0], "H: not drawn: ")

	a = approve(t, plan, ApproveOptions{By: "Ada", Decisions: decided(undrawn, golden.Later, "H")})
	require.Equal(t, 1, a.Later)
	require.Empty(t, a.Undrawn)

	a = approve(t, plan, ApproveOptions{By: "Ada", Why: "all"})
	require.Equal(t, 95, a.Approved, "the other device's")
	require.Len(t, a.Undrawn, 95)
	sum, changes = checkChanges(t, plan)
	require.Equal(t, ExitIncomplete, sum.Exit, "put off or not, what is not drawn is not checked")
	require.Equal(t, 95, sum.Equal)
	stood := 0
	for _, c := range changes {
		if c.Verdict == "later" {
			stood++
			require.Equal(t, "H", c.Glyph)
		}
	}
	require.Equal(t, 1, stood)
}
