package render

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// secondOpinion is FreeType: the worker that draws, and a program that prints the
// outline it draws from.
type secondOpinion struct {
	*Process
	points string
}

// freeType builds both.
func freeType(t *testing.T) *secondOpinion {
	t.Helper()
	if exec.Command("pkg-config", "--exists", "freetype2").Run() != nil {
		missing(t, "the headers of FreeType (freetype2) are not installed")
	}
	worker := build(t, "smokeproof/cmd/smokeproof-freetype", "1")
	p := NewProcess(ProcessOptions{Command: []string{worker}, Workers: runtime.GOMAXPROCS(0)})
	t.Cleanup(func() { require.NoError(t, p.Close()) })
	id, err := p.Identity(t.Context())
	require.NoError(t, err)
	t.Log(id)

	flags, err := exec.Command("pkg-config", "--cflags", "--libs", "freetype2").Output()
	require.NoError(t, err)
	points := filepath.Join(t.TempDir(), "points")
	args := append([]string{"-O1", "-o", points, "testdata/points.c"}, strings.Fields(string(flags))...)
	out, err := exec.Command("cc", args...).CombinedOutput()
	require.NoError(t, err, string(out))
	return &secondOpinion{p, points}
}

// build builds a worker of this module, with or without cgo.
func build(t *testing.T, pkg, cgo string) string {
	t.Helper()
	worker := filepath.Join(t.TempDir(), "worker")
	cmd := exec.Command("go", "build", "-o", worker, pkg)
	cmd.Env = append(os.Environ(), "CGO_ENABLED="+cgo)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s does not build: %s", pkg, out)
	return worker
}

// cause says where two bitmaps that differ went apart: already in the hinted
// points, or only in scan conversion.
func (s *secondOpinion) cause(t *testing.T, ours *BuiltIn, job *Job, ref glyph.Ref) (string, error) {
	o, err := ours.Outline(t.Context(), job, ref)
	if err != nil {
		return "", err
	}
	ppem := job.Strike.PPEM()
	theirs, err := exec.Command(s.points, job.Font, fmt.Sprint(int(ppem.X)), fmt.Sprint(int(ppem.Y)), fmt.Sprint(ref.Index)).Output()
	if err != nil {
		return "", fmt.Errorf("points of glyph %d: %w", ref.Index, err)
	}
	var mine strings.Builder
	for _, p := range o.Points {
		fmt.Fprintf(&mine, "%d %d\n", p.X, p.Y)
	}
	if mine.String() == string(theirs) {
		return "scan conversion", nil
	}
	return "hinted points", nil
}
