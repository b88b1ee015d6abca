package render

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/harness/glyph"
)

const fontDir = "/usr/share/fonts/truetype"

// cause is the class of a difference between two renderers.
type cause string

const (
	causeError   cause = "error"   // one of the two drew nothing
	causeBitmap  cause = "bitmap"  // ink or its place
	causeAdvance cause = "advance" // the same ink, another advance
)

// tally counts agreement over some strikes.
type tally struct {
	glyphs int
	causes map[cause]int
}

func (c *tally) differ() int {
	n := 0
	for _, v := range c.causes {
		n += v
	}
	return n
}

func (c *tally) share() float64 {
	return 100 * float64(c.glyphs-c.differ()) / float64(max(1, c.glyphs))
}

func (c *tally) String() string {
	return fmt.Sprintf("%d of %d glyphs identical (%.4f%%), differing: %v", c.glyphs-c.differ(), c.glyphs, c.share(), c.causes)
}

// TestFidelity holds the built-in renderer against FreeType in mono mode:
// bitmap, origin and advance of every glyph. With SMOKEPROOF_FIDELITY=1 it covers
// the whole table and lists each difference.
func TestFidelity(t *testing.T) {
	ft := freeType(t)
	faces, sizes, dpis, want := []string{fontFile(t, "dejavu/DejaVuSans.ttf")}, []int{8}, []int{300}, 99.0
	whole := os.Getenv("SMOKEPROOF_FIDELITY") == "1"
	if whole {
		faces, dpis, want = allFaces(t), []int{203, 300, 600}, 99.99
		sizes = nil
		for pt := 6; pt <= 24; pt++ {
			sizes = append(sizes, pt)
		}
	}
	all := tally{causes: map[cause]int{}}
	for _, path := range faces {
		one := tally{causes: map[cause]int{}}
		for _, dpi := range dpis {
			for _, pt := range sizes {
				s := glyph.Strike{Face: filepath.Base(path), Device: "fidelity", Size: glyph.Pt(pt), DPI: glyph.Dots(dpi)}
				compareStrike(t, ft, path, s, &one, whole)
			}
		}
		t.Logf("%s: %s", filepath.Base(path), &one)
		all.glyphs += one.glyphs
		for k, n := range one.causes {
			all.causes[k] += n
		}
	}
	t.Logf("all: %s", &all)
	require.GreaterOrEqual(t, all.share(), want, "share of identical glyphs in per cent")
}

func compareStrike(t *testing.T, ft *Process, path string, s glyph.Strike, c *tally, list bool) {
	b := NewBuiltIn(BuiltInOptions{})
	f, err := b.Face(path, 0)
	require.NoError(t, err, path)
	job := &Job{Font: path, Strike: s, Glyphs: f.Refs()}
	ours, theirs := drawAll(t, b, job), drawAll(t, ft, job)
	for i := range ours {
		c.glyphs++
		k, differs := difference(&ours[i], &theirs[i])
		if !differs {
			continue
		}
		c.causes[k]++
		if list {
			o, f := &ours[i], &theirs[i]
			t.Logf("%s: glyph %q (#%d): %s: advance %d/%d, box %s/%s, errors %v/%v", s, o.Cell.Key, o.Cell.Index, k,
				o.Cell.Advance, f.Cell.Advance, box(&o.Cell.Bitmap), box(&f.Cell.Bitmap), o.Err, f.Err)
		}
	}
}

func difference(a, b *Drawn) (cause, bool) {
	switch {
	case a.Err != nil && b.Err != nil:
		return "", false
	case a.Err != nil || b.Err != nil:
		return causeError, true
	case !a.Cell.Bitmap.Equal(&b.Cell.Bitmap):
		return causeBitmap, true
	case a.Cell.Advance != b.Cell.Advance:
		return causeAdvance, true
	}
	return "", false
}

func box(b *glyph.Bitmap) string {
	return fmt.Sprintf("%dx%d%+d%+d", b.Width, b.Height, b.Left, b.Bottom)
}

// freeType builds the FreeType worker and starts it.
func freeType(t *testing.T) *Process {
	t.Helper()
	if exec.Command("pkg-config", "--exists", "freetype2").Run() != nil {
		missing(t, "the headers of FreeType (freetype2) are not installed")
	}
	worker := build(t, "smokeproof/cmd/smokeproof-freetype", "1")
	p := NewProcess(ProcessOptions{Command: []string{worker}, Workers: 1})
	t.Cleanup(func() { require.NoError(t, p.Close()) })
	id, err := p.Identity(t.Context())
	require.NoError(t, err)
	t.Log(id)
	return p
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

// fontFile finds a font of the system.
func fontFile(t *testing.T, name string) string {
	t.Helper()
	path := filepath.Join(fontDir, name)
	if _, err := os.Stat(path); err != nil {
		missing(t, "font "+name+" is not installed")
	}
	return path
}

// missing fails in CI, where everything must be installed, and skips elsewhere.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}

func allFaces(t *testing.T) []string {
	var faces []string
	for _, dir := range []string{"dejavu", "ttf-bitstream-vera", "liberation2"} {
		found, err := filepath.Glob(filepath.Join(fontDir, dir, "*.ttf"))
		require.NoError(t, err)
		if len(found) == 0 {
			missing(t, "fonts of "+dir+" are not installed")
		}
		faces = append(faces, found...)
	}
	dir := t.TempDir()
	for name, data := range map[string][]byte{
		"Go-Regular.ttf": goregular.TTF, "Go-Bold.ttf": gobold.TTF, "Go-Italic.ttf": goitalic.TTF, "Go-Mono.ttf": gomono.TTF,
	} {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, data, 0o600))
		faces = append(faces, path)
	}
	return faces
}
