package harness

import (
	"os"
	"path/filepath"
	"slices"
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
	a = approve(t, plan, ApproveOptions{By: "Ada", Why: "the rest"})
	require.Equal(t, []int{4, 2*95 - 4}, []int{a.Equal, a.Approved})
}

func TestADecisionKeepsItsOwnReason(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"a": goregular.TTF})
	_, changes := checkChanges(t, plan)
	ds := decided(changes, golden.Reject, "H", "e")
	for i := range ds {
		ds[i].Why = map[string]string{"H": "its bar is thin", "e": ""}[ds[i].Glyph]
	}
	approve(t, plan, ApproveOptions{By: "Ada", Why: "looked at all", Decisions: ds})
	_, changes = checkChanges(t, plan)
	reasons := map[string]string{}
	for _, c := range changes {
		if c.Verdict != "" {
			require.Equal(t, "Ada", c.DecidedBy)
			reasons[c.Glyph] = c.DecidedWhy
		}
	}
	require.Equal(t, map[string]string{"H": "its bar is thin", "e": "looked at all"}, reasons, "one without has that of all")
}

// Two printers of one resolution have their goldens in common, and both have a row on the page.
func TestDevicesOfOneResolutionAreApprovedInOneGo(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"a": goregular.TTF})
	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(plan, append(text, "[[device]]\nname = \"receipt\"\ndpi = 203\nsizes = [7, 8]\n"...), 0o666))
	_, changes := checkChanges(t, plan)
	ds := decided(changes, golden.Approve, "H")
	require.Len(t, ds, 4)
	a := approve(t, plan, ApproveOptions{By: "Ada", Decisions: ds})
	require.Equal(t, 3, a.Approved)
	require.Empty(t, a.Stale, "what was decided for the one device is decided for the other")
	require.Equal(t, 4, check(t, plan).Equal)

	a = approve(t, plan, ApproveOptions{By: "Ada", Why: "the rest"})
	require.Equal(t, []int{3 * 94, 4 + 94}, []int{a.Approved, a.Equal})

	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(plan), "a.ttf"), gobold.TTF, 0o666))
	_, changes = checkChanges(t, plan)
	ds = slices.Concat(decided(changes, golden.Reject, "H"), decided(changes, golden.Approve, "e"))
	for i := range ds {
		if ds[i].Glyph == "e" && ds[i].Device == "receipt" {
			ds[i].Verdict = golden.Later
		}
	}
	a = approve(t, plan, ApproveOptions{By: "Ada", Decisions: ds})
	require.Equal(t, []int{2, 4, 1}, []int{a.Approved, a.Rejected, a.Later}, "e is put off at 7 pt alone")
	require.Equal(t, []string{"a 8 pt receipt: e: nothing to decide"}, a.Stale, "it was approved for the label")
}

// Strikes are checked side by side, so one that shares its goldens with another may be checked only when
// those are written.
func TestADecisionIsMetWhereAnotherDeviceCameFirst(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"a": goregular.TTF})
	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(plan, append(text, "[[device]]\nname = \"receipt\"\ndpi = 203\nsizes = [8]\n"...), 0o666))
	_, changes := checkChanges(t, plan)
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(t.Context(), p, Options{})
	require.NoError(t, err)
	defer r.Close()
	a := r.newApproval(ApproveOptions{By: "Ada", Decisions: decided(changes, golden.Approve, "H")})
	require.NotEmpty(t, a.wanted)
	for i := range r.strikes {
		open, err := r.undecided(t.Context(), &r.strikes[i])
		require.NoError(t, err)
		require.NoError(t, a.strike(t.Context(), &r.strikes[i], open))
	}
	require.NoError(t, a.leaveSettled(t.Context()))
	require.Empty(t, a.wanted)
}

// Two branches each approved a bitmap of one glyph, and git kept the lines of both and
// the bitmap of one.
func TestApprovalSettlesADispute(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"a": goregular.TTF})
	only, err := ParseSelection("H,e")
	require.NoError(t, err)
	branch := func(font []byte, by string) (bitmaps, approvals map[string]string) {
		dir := filepath.Dir(plan)
		require.NoError(t, os.RemoveAll(filepath.Join(dir, "golden")))
		require.NoError(t, os.WriteFile(filepath.Join(dir, "a.ttf"), font, 0o666))
		r := openRun(t, plan, Filter{Glyphs: only})
		_, err := r.Approve(t.Context(), ApproveOptions{By: by, Why: "seen"})
		require.NoError(t, err)
		bitmaps, approvals = map[string]string{}, map[string]string{}
		for _, dpi := range []string{"203", "300"} {
			for ending, into := range map[string]map[string]string{".bdf": bitmaps, ".approvals": approvals} {
				name := filepath.Join(dir, "golden", "a", dpi, "8"+ending)
				data, err := os.ReadFile(name)
				require.NoError(t, err)
				into[name] = string(data)
			}
		}
		return bitmaps, approvals
	}
	ours, mine := branch(goregular.TTF, "Ada")
	others, theirs := branch(gobold.TTF, "Bob")
	for _, c := range []struct {
		reason  string
		bitmaps map[string]string // one has the approval that git put first
		how     ApproveOptions
	}{
		{"ours as it is stored", ours, ApproveOptions{Stored: true}},
		{"theirs as it is stored", others, ApproveOptions{Stored: true}},
		{"the candidate, which is not ours", ours, ApproveOptions{Changed: true, Critical: true}},
		{"the candidate, which is theirs", others, ApproveOptions{Changed: true}},
	} {
		for name, data := range c.bitmaps {
			require.NoError(t, os.WriteFile(name, []byte(data), 0o666))
		}
		for name, data := range mine {
			head, rest, _ := strings.Cut(data+theirs[name], "\n")
			lines := slices.Sorted(strings.SplitSeq(strings.TrimSpace(strings.ReplaceAll(rest, head+"\n", "")), "\n"))
			require.NoError(t, os.WriteFile(name, []byte(head+"\n"+strings.Join(lines, "\n")+"\n"), 0o666))
		}
		r := openRun(t, plan, Filter{Glyphs: only})
		problems, err := r.Store.Verify(t.Context())
		require.NoError(t, err)
		require.Len(t, problems, 4, "%s: a line for each glyph, whichever bitmap git kept", c.reason)
		require.Contains(t, problems[0].Text, "was decided on two branches", c.reason)

		c.how.By, c.how.Why = "Cyd", "this one is right"
		a, err := r.Approve(t.Context(), c.how)
		require.NoError(t, err, c.reason)
		require.Equal(t, []int{4, 0}, []int{a.Approved, a.Equal}, "%s: two glyphs at two resolutions; the word of one of two is not enough", c.reason)
		problems, err = r.Store.Verify(t.Context())
		require.NoError(t, err)
		require.Empty(t, problems, c.reason)
		a, err = openRun(t, plan, Filter{Glyphs: only}).Approve(t.Context(), c.how)
		require.NoError(t, err, c.reason)
		require.Equal(t, []int{0, 4}, []int{a.Approved, a.Equal}, c.reason)
	}
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

func TestApproveDecidesOnWhatItWasAskedForAndCountsTheRest(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"a": goregular.TTF})
	font := filepath.Join(filepath.Dir(plan), "a.ttf")
	approveAll(t, plan)
	require.NoError(t, os.WriteFile(font, gobold.TTF, 0o666))
	was := check(t, plan)
	require.Greater(t, was.Changed, 150)

	a := approve(t, plan, ApproveOptions{By: "Ada", Why: "what is new"})
	require.Equal(t, []int{0, was.Changed, was.Equal}, []int{a.Approved, a.Left, a.Equal}, "what changed is not new")
	require.Empty(t, a.Refused)

	a = approve(t, plan, ApproveOptions{By: "Ada", Why: "wrong", Verdict: golden.Reject})
	require.Equal(t, []int{0, was.Changed}, []int{a.Approved, a.Rejected})
	require.Equal(t, ExitFindings, check(t, plan).Exit, "rejected is not well")

	refused := approve(t, plan, ApproveOptions{By: "Ada", Why: "the bolder ones", Changed: true}).Refused
	require.NotEmpty(t, refused, "stems that grew until counters closed")
	_, left := checkChanges(t, plan)
	for i, c := range left {
		require.True(t, strings.HasSuffix(refused[i], ": "+c.Glyph), "worst first: %s, %s", refused[i], c.Glyph)
	}
	now := check(t, plan)
	require.Equal(t, []int{len(refused), 190 - len(refused)}, []int{now.Changed, now.Equal}, "all others")

	a = approve(t, plan, ApproveOptions{By: "Ada", Why: "these too", Changed: true, Critical: true})
	require.Equal(t, len(refused), a.Approved)
	require.Equal(t, ExitOK, check(t, plan).Exit)

	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(plan, []byte(strings.Replace(string(text), "U+0020-007E", "U+0020-007D", 1)), 0o666))
	a = approve(t, plan, ApproveOptions{By: "Ada", Why: "all", Changed: true, Critical: true})
	require.Equal(t, []int{0, 0, 188}, []int{a.Approved, a.Gone, a.Equal}, "a golden is not dropped by the way")
	require.Equal(t, 2, check(t, plan).Missing)
	a = approve(t, plan, ApproveOptions{By: "Ada", Why: "cut from the set", Gone: true})
	require.Equal(t, []int{0, 2}, []int{a.Approved, a.Gone})
	require.Zero(t, check(t, plan).Missing)
}
