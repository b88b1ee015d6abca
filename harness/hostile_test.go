//go:build unix

package harness

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/fixtures/hostile"
	"smokeproof/harness/face"
)

// What one mutant may cost the whole check. Its glyphs may each burn the
// instructions that a glyph is allowed, so the time is a guard against hangs,
// not a measure.
const (
	mutantTime  = 20 * time.Second // of processor, not of the clock
	mutantBytes = 512 << 20        // of heap, at its highest since the test began
)

// TestCheckSurvivesMutants puts damaged fonts through the whole check: no
// panic, no hang, memory bounded, every glyph that is whole drawn as before.
// SMOKEPROOF_HOSTILE=1 runs 50,000 of them.
func TestCheckSurvivesMutants(t *testing.T) {
	mutants := 240
	if os.Getenv("SMOKEPROOF_HOSTILE") != "" {
		mutants = 50000
	}
	seeds := []struct {
		name   string
		font   func(*testing.T) []byte
		mutate func(*rand.Rand, []byte) hostile.Mutant
	}{
		{"larkmoor-text-a.ttf", fixture, hostile.TrueType},
		{"go-regular.ttf", func(*testing.T) []byte { return goregular.TTF }, hostile.TrueType},
		{"Vera.ttf", installed("/usr/share/fonts/truetype/ttf-bitstream-vera/Vera.ttf"), hostile.TrueType},
		{"c0419bt_.pfb", installed("/usr/share/fonts/X11/Type1/c0419bt_.pfb"), hostile.Type1},
		{"NimbusRoman-Regular.otf", installed("/usr/share/fonts/opentype/urw-base35/NimbusRoman-Regular.otf"), hostile.CFF},
	}
	for n, seed := range seeds {
		t.Run(seed.name, func(t *testing.T) {
			font := seed.font(t)
			s := newSiege(t, seed.name, font)
			rng := rand.New(rand.NewPCG(uint64(n), 9))
			for range mutants / len(seeds) {
				s.check(seed.mutate(rng, font))
			}
			t.Logf("%d mutants: %d refused whole, %d drawn with glyphs undrawn, %d changed, %d equal; worst %v and %d MB",
				mutants/len(seeds), s.refused, s.undrawn, s.changed, s.equal, s.longest.Round(time.Millisecond), s.most>>20)
			require.Positive(t, s.refused, "some damage must reach the reader")
			require.Positive(t, s.undrawn+s.changed, "some damage must get past it")
		})
	}
}

func fixture(t *testing.T) []byte {
	return installed("../fixtures/" + strings.TrimPrefix(t.Name(), "TestCheckSurvivesMutants/"))(t)
}

func installed(path string) func(*testing.T) []byte {
	return func(t *testing.T) []byte {
		data, err := os.ReadFile(path)
		if err != nil && os.Getenv("CI") != "true" {
			t.Skipf("%s is not installed", path)
		}
		require.NoError(t, err)
		return data
	}
}

// siege holds mutants of one font against the sound one's goldens.
type siege struct {
	t     *testing.T
	font  string // the file that each mutant is written to
	plan  *Plan
	users map[int]map[int]bool // by glyph: the glyphs that are drawn with it

	refused, undrawn, changed, equal int
	longest                          time.Duration
	most                             uint64
}

func newSiege(t *testing.T, name string, font []byte) *siege {
	dir := t.TempDir()
	s := &siege{t: t, font: filepath.Join(dir, name), users: map[int]map[int]bool{}}
	require.NoError(t, os.WriteFile(s.font, font, 0o666))
	path := filepath.Join(dir, PlanName)
	selection := "U+0021-00FF"
	if filepath.Ext(name) != ".ttf" {
		selection = "U+0021-007E"
	}
	require.NoError(t, os.WriteFile(path, fmt.Appendf(nil, "[[face]]\nname = \"seed\"\nfile = %q\nglyphs = \"%s\"\n[[device]]\nname = \"label\"\ndpi = 203\nsizes = [8]\n", name, selection), 0o666))
	approveAll(t, path)
	var err error
	s.plan, err = LoadPlan(path)
	require.NoError(t, err)
	f, err := face.Parse(font, 0)
	require.NoError(t, err)
	for i := range f.Refs() {
		s.use(f, i, i)
	}
	return s
}

// use notes that glyph whole draws with part and all that part is made of.
// The selection holds no accented letter, the one kind that Type 1 and CFF
// compose.
func (s *siege) use(f face.Face, whole, part int) {
	if s.users[part] == nil {
		s.users[part] = map[int]bool{}
	}
	s.users[part][whole] = true
	tt, ok := f.(*face.TrueType)
	if !ok {
		return
	}
	g, err := tt.Glyph(part)
	require.NoError(s.t, err)
	for _, c := range g.Components {
		s.use(f, whole, c.Index)
	}
}

func (s *siege) check(m hostile.Mutant) {
	require.NoError(s.t, os.WriteFile(s.font, m.Font, 0o666))
	var memory runtime.MemStats
	ctx := s.t.Context()
	began := processorTime(s.t)
	r, err := Open(ctx, s.plan, Options{Workers: 1})
	if err != nil {
		s.refused++
		require.ErrorIs(s.t, err, ErrUsage, m.How)
		require.NotContains(s.t, err.Error(), "\n", m.How)
		return
	}
	defer r.Close()
	sum, err := r.Check(ctx, func(res *StrikeResult) error {
		for _, c := range res.Changes {
			s.change(m, &c)
		}
		return nil
	})
	took := processorTime(s.t) - began
	runtime.ReadMemStats(&memory)
	s.longest, s.most = max(s.longest, took), max(s.most, memory.HeapSys)
	if err != nil || took > mutantTime {
		s.keep(m)
	}
	require.NoError(s.t, err, m.How)
	require.Less(s.t, took, mutantTime, m.How)
	require.Less(s.t, memory.HeapSys, uint64(mutantBytes), m.How)
	switch {
	case sum.Undrawn > 0:
		s.undrawn++
	case sum.Exit != ExitOK:
		s.changed++
	default:
		s.equal++
	}
}

// processorTime is what this process has used of the machine.
func processorTime(t *testing.T) time.Duration {
	var u syscall.Rusage
	require.NoError(t, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// keep leaves a mutant that did harm where a person finds it.
func (s *siege) keep(m hostile.Mutant) {
	path := filepath.Join(os.TempDir(), "mutant-"+filepath.Base(s.font))
	require.NoError(s.t, os.WriteFile(path, m.Font, 0o666))
	s.t.Logf("%s: the mutant is kept as %s", m.How, path)
}

func (s *siege) change(m hostile.Mutant, c *Change) {
	for _, f := range c.Findings {
		require.NotContains(s.t, f.Text, "broke down", "%s: a panic in glyph %s", m.How, c.Glyph)
		require.NotContains(s.t, f.Text, "\n", "%s: glyph %q", m.How, c.Glyph)
	}
	if c.Status == "undrawn" {
		require.NotEmpty(s.t, c.Findings, m.How)
	}
	if m.Glyph >= 0 {
		require.True(s.t, s.users[m.Glyph][c.Index], "%s, and glyph %d (%s), which does not use it, is %s", m.How, c.Index, c.Glyph, c.Status)
	}
}
