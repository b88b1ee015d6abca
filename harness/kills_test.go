//go:build unix

package harness

import (
	"context"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// TestAWorkerKilledAtRandomMomentsLosesNoGlyph checks against FreeType over and
// over while its workers are killed; every result must be whole and equal.
func TestAWorkerKilledAtRandomMomentsLosesNoGlyph(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("children are found through /proc, which this system does not have")
	}
	lasting := 4 * time.Second
	if os.Getenv("SMOKEPROOF_HOSTILE") != "" {
		lasting = time.Minute
	}
	plan := facesIn(t, map[string][]byte{"bold": gobold.TTF, "regular": goregular.TTF})
	worker := freeTypeIn(t, filepath.Dir(plan))
	drawWith(t, plan, worker)
	approveAll(t, plan)

	ctx, stop := context.WithCancel(context.Background())
	kills := make(chan int)
	go func() { kills <- killChildren(ctx, filepath.Base(worker)) }()
	rounds := 0
	for end := time.Now().Add(lasting); time.Now().Before(end); rounds++ {
		sum, changes := checkChanges(t, plan)
		require.Equal(t, ExitOK, sum.Exit, "round %d: %v", rounds, changes)
		require.Equal(t, sum.Glyphs, sum.Equal)
	}
	stop()
	n := <-kills
	t.Logf("%d runs of check, %d workers killed, every glyph drawn and equal", rounds, n)
	require.Greater(t, n, 4, "too few kills to prove anything")
}

// freeTypeIn builds FreeType's worker into a folder.
func freeTypeIn(t *testing.T, dir string) string {
	t.Helper()
	if exec.Command("pkg-config", "--exists", "freetype2").Run() != nil && os.Getenv("CI") != "true" {
		t.Skip("libfreetype-dev is not installed")
	}
	worker := filepath.Join(dir, "ft-victim")
	cmd := exec.Command("go", "build", "-o", worker, "smokeproof/cmd/smokeproof-freetype")
	cmd.Env = append(os.Environ(), "CGO_ENABLED=1")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	return worker
}

// drawWith makes every device of a plan draw with a worker.
func drawWith(t *testing.T, plan, worker string) {
	t.Helper()
	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	lines := strings.ReplaceAll(string(text), "dpi = ", "renderer = \"process\"\ncommand = ["+strconv.Quote(worker)+"]\ndpi = ")
	require.NoError(t, os.WriteFile(plan, []byte(lines), 0o666))
}

// killChildren kills one child of ours with that name, at random moments, until
// it is told to stop; it returns how many it killed.
func killChildren(ctx context.Context, name string) int {
	rng := rand.New(rand.NewPCG(7, 7))
	n := 0
	for ctx.Err() == nil {
		time.Sleep(time.Duration(rng.IntN(int(200 * time.Millisecond))))
		victims := childrenNamed(name)
		if len(victims) == 0 {
			continue
		}
		if syscall.Kill(victims[rng.IntN(len(victims))], syscall.SIGKILL) == nil {
			n++
		}
	}
	return n
}

// childrenNamed reads /proc/PID/stat: "pid (name) state ppid …" (proc(5)).
func childrenNamed(name string) []int {
	var pids []int
	files, _ := filepath.Glob("/proc/[0-9]*/stat")
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			continue // it has ended since
		}
		open, shut := strings.IndexByte(string(b), '('), strings.LastIndexByte(string(b), ')')
		if open < 0 || shut < open || string(b[open+1:shut]) != name {
			continue
		}
		rest := strings.Fields(string(b[shut+1:]))
		pid, _ := strconv.Atoi(filepath.Base(filepath.Dir(f)))
		if len(rest) > 1 && rest[0] != "Z" && rest[1] == strconv.Itoa(os.Getpid()) {
			pids = append(pids, pid)
		}
	}
	return pids
}
