package golden

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// repository is a folder of goldens under git.
type repository struct {
	t   *testing.T
	dir string
}

func newRepository(t *testing.T) *repository {
	_, err := exec.LookPath("git")
	need(t, err, "git")
	r := &repository{t, t.TempDir()}
	r.git("init", "-q", "-b", "main")
	r.record(decisions(1, "Ada"))
	r.commit()
	return r
}

func (r *repository) run(args ...string) (string, error) {
	c := exec.Command("git", append([]string{"-c", "user.name=Ada", "-c", "user.email=ada@larkmoor.example"}, args...)...)
	c.Dir = r.dir
	out, err := c.CombinedOutput()
	return string(out), err
}

func (r *repository) git(args ...string) {
	r.t.Helper()
	out, err := r.run(args...)
	require.NoError(r.t, err, "%s", out)
}

func (r *repository) commit() {
	r.t.Helper()
	r.git("add", "-A")
	r.git("commit", "-q", "-m", "approve")
}

func (r *repository) record(ds []Decision) {
	r.t.Helper()
	require.NoError(r.t, Open(r.dir).Record(context.Background(), demo, ds))
}

func (r *repository) problems() []Problem {
	r.t.Helper()
	problems, err := Open(r.dir).Verify(context.Background())
	require.NoError(r.t, err)
	return problems
}

// branches lets two people decide on branches of one commit and merges them.
func (r *repository) branches(one, other func()) (string, error) {
	r.git("checkout", "-q", "-b", "other")
	other()
	r.commit()
	r.git("checkout", "-q", "main")
	one()
	r.commit()
	return r.run("merge", "-q", "-m", "merge", "other")
}

func TestBranchesThatApproveDifferentGlyphsMerge(t *testing.T) {
	for i := range 5 {
		for j := range 5 {
			if i == j || i-j == 1 || j-i == 1 {
				continue // bitmaps of neighbours touch in the BDF: git then asks a person
			}
			r := newRepository(t)
			out, err := r.branches(
				func() { r.record(decisions(2, "Ada")[i : i+1]); r.record(decisions(4, "Ada")[i : i+1]) },
				func() { r.record(decisions(3, "Bob")[j : j+1]) })
			require.NoError(t, err, out)
			require.Empty(t, r.problems(), "glyphs %d and %d", i, j)
			sheet, err := Open(r.dir).Sheet(context.Background(), demo)
			require.NoError(t, err)
			require.False(t, sheet.sealed(), "neither side wrote this")
			require.True(t, sheet.Sound())
			sheet.Close()
			r.record(decisions(5, "Cyd"))
			require.Empty(t, r.problems(), "and the chain goes on from both")
		}
	}
}

func TestBranchesThatApproveTheSameBitmapAgree(t *testing.T) {
	r := newRepository(t)
	later := decisions(2, "Bob")
	for i := range later {
		later[i].When = later[i].When.Add(time.Hour)
	}
	out, err := r.branches(func() { r.record(decisions(2, "Ada")) }, func() { r.record(later) })
	require.NoError(t, err, out)
	require.Empty(t, r.problems())
	r.record(decisions(3, "Cyd")[:2])
	require.Empty(t, r.problems())
	r.record(decisions(4, "Cyd"))
	require.Empty(t, r.problems())
}

func TestTheSameGlyphOnTwoBranchesIsAConflictThatAPersonCanRead(t *testing.T) {
	r := newRepository(t)
	out, err := r.branches(func() { r.record(decisions(2, "Ada")[:1]) }, func() { r.record(decisions(3, "Bob")[:1]) })
	require.Error(t, err, "two bitmaps of one glyph are for a person to decide")
	require.Contains(t, out, "8.bdf")
	path := filepath.Join(r.dir, place(demo)+".bdf")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Contains(t, string(data), "<<<<<<<")
	require.Contains(t, r.problems()[0].Text, "git left a conflict")
	r.git("checkout", "--ours", path)
	r.commit()
	problems := r.problems()
	require.NotEmpty(t, problems)
	require.Equal(t, glyph.Key("A"), problems[0].Glyph)
	require.Contains(t, problems[0].Text, "by Ada on 2027-01-15")
	require.Contains(t, problems[0].Text, "by Bob on 2027-01-15")
	got, err := Open(r.dir).Load(context.Background(), demo)
	require.NoError(t, err)
	require.Equal(t, []glyph.Key{"A"}, got.Disputed())
	ds := decisions(2, "Cyd")[:1]
	ds[0].When = ds[0].When.Add(time.Hour)
	r.record(ds)
	require.Empty(t, r.problems(), "somebody has decided")
	r.record(decisions(5, "Dee"))
	require.Empty(t, r.problems())
}

// Whichever way git puts the lines together, a pick that leaves out what came
// before it is found, and each message says what to do.
func TestAnApprovalPickedWithoutTheOneBeforeSaysWhatToDo(t *testing.T) {
	for _, c := range []struct {
		why        string
		bob, cyd   int // glyphs that they decide on, one after the other
		says, cure string
	}{
		{"the act before it came along without its line", 0, 1, errTampered.Error(), restore},
		{"act and line came along without the bitmap", 0, 3, "is not the bitmap that Bob approved", "restore it, or approve it anew"},
	} {
		r := newRepository(t)
		r.git("checkout", "-q", "-b", "other")
		r.record(decisions(2, "Bob")[c.bob : c.bob+1])
		r.commit()
		r.record(decisions(3, "Cyd")[c.cyd : c.cyd+1])
		r.commit()
		r.git("checkout", "-q", "main")
		r.git("cherry-pick", "other")
		problems := r.problems()
		require.Len(t, problems, 1, c.why)
		require.Contains(t, problems[0].Text, c.says, c.why)
		require.Contains(t, problems[0].Text, c.cure, c.why)
		r.git("checkout", "HEAD~1", "--", ".")
		r.record(decisions(3, "Ada")[c.cyd : c.cyd+1])
		require.Empty(t, r.problems(), "%s: done as it says", c.why)
	}
}
