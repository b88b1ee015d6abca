//go:build unix

package harness

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/golden"
)

// archiveGlyphs are 230 glyphs of a text face: Latin with its accents, Greek.
const archiveGlyphs = "U+0021-007E,U+00A1-00FF,U+0391-03A1,U+03B1-03C9"

// The whole archive that the figures speak of: faces, sizes, resolutions.
const wholeArchive = 60 * 40 * 3

// archivePlan writes a plan over faces installed here, at some sizes of 6 to 24
// pt and three resolutions.
func archivePlan(t *testing.T, faces, sizes []string) string {
	dir := t.TempDir()
	var plan strings.Builder
	for _, f := range faces {
		path := filepath.Join("/usr/share/fonts/truetype", f+".ttf")
		if _, err := os.Stat(path); err != nil && os.Getenv("CI") != "true" {
			t.Skipf("%s is not installed", path)
		}
		fmt.Fprintf(&plan, "[[face]]\nname = %q\nfile = %q\nglyphs = %q\n", filepath.Base(f), path, archiveGlyphs)
	}
	for _, dpi := range []string{"203", "300", "600"} {
		fmt.Fprintf(&plan, "[[device]]\nname = \"d%s\"\ndpi = %s\nsizes = [%s]\n", dpi, dpi, strings.Join(sizes, ", "))
	}
	path := filepath.Join(dir, PlanName)
	require.NoError(t, os.WriteFile(path, []byte(plan.String()), 0o666))
	return path
}

// archive is what a store came to.
type archive struct {
	strikes, glyphs     int
	bitmaps, approvals  int64 // bytes
	packed              int64
	load, parse, verify time.Duration // of the processor
}

func measureArchive(t *testing.T, plan string) *archive {
	ctx := context.Background()
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(ctx, p, Options{})
	require.NoError(t, err)
	defer r.Close()
	_, err = r.Approve(ctx, ApproveOptions{By: "Ada Marsh <ada@larkmoor.example>", Why: "first set, seen under the loupe"})
	require.NoError(t, err)
	a := &archive{strikes: len(r.Strikes())}
	var docs [][]byte
	require.NoError(t, filepath.WalkDir(p.Goldens, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		switch filepath.Ext(path) {
		case ".bdf":
			a.bitmaps += int64(len(data))
			docs = append(docs, data)
		case ".approvals":
			a.approvals += int64(len(data))
		}
		return err
	}))
	a.load = medianCPU(func() {
		a.glyphs = 0
		for i := range r.strikes {
			s, err := r.Store.Load(ctx, r.strikes[i].Strike)
			require.NoError(t, err)
			a.glyphs += len(s.Cells)
		}
	})
	a.parse = medianCPU(func() {
		for _, d := range docs {
			_, err := golden.ParseBDF(d)
			require.NoError(t, err)
		}
	})
	a.verify = medianCPU(func() {
		problems, err := r.Store.Verify(ctx)
		require.NoError(t, err)
		require.Empty(t, problems)
	})
	return a
}

// medianCPU is what an operation takes of the processor, the middle of nine
// rounds: on a shared machine one round tells little.
func medianCPU(op func()) time.Duration {
	var rounds []time.Duration
	runtime.GC() // what came before is not the operation's to clear away
	for range 9 {
		start := cpuTime()
		op()
		rounds = append(rounds, cpuTime()-start)
	}
	slices.Sort(rounds)
	return rounds[len(rounds)/2]
}

// cpuTime is what this process has used of all cores.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func TestApprovalsAreASmallPartOfTheGoldens(t *testing.T) {
	a := measureArchive(t, archivePlan(t, []string{"dejavu/DejaVuSans"}, []string{"6", "12", "24"}))
	require.LessOrEqual(t, float64(a.approvals)/float64(a.bitmaps), 0.15)
}

// TestArchiveFigures prints what 60 faces × 40 sizes × 3 resolutions × 230
// glyphs come to, from a sample: each figure is that of the sample's strikes
// times how many strikes there are.
func TestArchiveFigures(t *testing.T) {
	if os.Getenv("SMOKEPROOF_ARCHIVE") != "1" {
		t.Skip("make archive runs it")
	}
	faces := []string{
		"dejavu/DejaVuSans", "dejavu/DejaVuSerif-Bold", "dejavu/DejaVuSansMono",
		"liberation2/LiberationSerif-Regular", "liberation2/LiberationSans-Bold", "liberation2/LiberationMono-Italic",
	}
	plan := archivePlan(t, faces, []string{"6", "7.5", "10", "13", "17", "20.5", "24"})
	a := measureArchive(t, plan)
	dir := filepath.Dir(plan)
	for _, args := range [][]string{
		{"init", "-q"}, {"add", "golden"}, {"-c", "user.name=Ada", "-c", "user.email=ada@larkmoor.example", "commit", "-q", "-m", "first set"}, {"gc", "-q"},
	} {
		c := exec.Command("git", args...)
		c.Dir = dir
		out, err := c.CombinedOutput()
		require.NoError(t, err, "%s", out)
	}
	packs, err := filepath.Glob(filepath.Join(dir, ".git/objects/pack/*.pack"))
	require.NoError(t, err)
	require.Len(t, packs, 1)
	st, err := os.Stat(packs[0])
	require.NoError(t, err)
	a.packed = st.Size()
	whole := float64(wholeArchive) / float64(a.strikes)
	mb := func(n int64) string {
		return fmt.Sprintf("%.1f MB, whole archive %.2f GB", float64(n)/1e6, float64(n)*whole/1e9)
	}
	rate := func(d time.Duration) float64 { return float64(a.bitmaps) / 1e6 / d.Seconds() }
	t.Logf("sample: %d faces × %d sizes × 3 resolutions = %d strikes, %d glyphs; the whole archive is %d strikes, %.0f times as many",
		len(faces), a.strikes/len(faces)/3, a.strikes, a.glyphs, wholeArchive, whole)
	t.Logf("bitmaps:    %s", mb(a.bitmaps))
	t.Logf("approvals:  %s; %.1f%% of the bitmaps", mb(a.approvals), 100*float64(a.approvals)/float64(a.bitmaps))
	t.Logf("packed by git, all faces of the sample in one pack: %s", mb(a.packed))
	t.Logf("parse BDF:  %.0f MB/s of CPU", rate(a.parse))
	t.Logf("load:       %.0f MB/s of CPU; whole archive %.0f s of CPU", rate(a.load), a.load.Seconds()*whole)
	t.Logf("verify:     %.0f MB/s of CPU; whole archive %.0f s of CPU", rate(a.verify), a.verify.Seconds()*whole)
	require.LessOrEqual(t, float64(a.approvals)/float64(a.bitmaps), 0.15)
	require.GreaterOrEqual(t, a.glyphs, a.strikes*220)
}
