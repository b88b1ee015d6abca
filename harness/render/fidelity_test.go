package render

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"smokeproof/harness/glyph"
)

// wanted is the share of glyphs, in per cent, that must be identical: what was reached.
const wanted = 100.0

// TestFidelity holds the built-in renderer against FreeType in mono mode: bitmap,
// origin and advance of every glyph. By itself it draws a fixed slice. With
// SMOKEPROOF_FIDELITY=1 it draws every face of four families in the whole table;
// other values are names of families, with commas (families in faces_test.go), and
// SMOKEPROOF_FIDELITY_DPI and _PT may name resolutions and sizes, with blanks, such
// as "203 203,406" and "8 12".
// Each glyph that differs is listed with its cause.
func TestFidelity(t *testing.T) {
	var table []*family
	sizes := []int{6, 7, 8, 9, 10, 11, 12, 14, 18, 24}
	resolutions := []string{"203", "300", "600", "203,406"}
	switch env := os.Getenv("SMOKEPROOF_FIDELITY"); env {
	case "":
		table, sizes, resolutions = []*family{slice(t)}, []int{8}, []string{"203", "300"}
	case "1":
		table = families(t, "DejaVu", "Vera", "Liberation 2", "Go")
	default:
		table = families(t, strings.Split(env, ",")...)
	}
	if dpi := os.Getenv("SMOKEPROOF_FIDELITY_DPI"); dpi != "" {
		resolutions = strings.Fields(dpi)
	}
	if pt := os.Getenv("SMOKEPROOF_FIDELITY_PT"); pt != "" {
		sizes = nil
		for _, s := range strings.Fields(pt) {
			n, err := strconv.Atoi(s)
			require.NoError(t, err)
			sizes = append(sizes, n)
		}
	}
	second := freeType(t)
	var jobs []func() error
	for _, f := range table {
		for _, path := range f.files {
			jobs = append(jobs, func() error { return f.compare(t, second, path, strikes(t, path, sizes, resolutions)) })
		}
	}
	var crew errgroup.Group
	crew.SetLimit(runtime.GOMAXPROCS(0))
	for _, job := range jobs {
		crew.Go(job)
	}
	require.NoError(t, crew.Wait())

	var report bytes.Buffer
	fmt.Fprintf(&report, "| family | faces | glyphs drawn | identical | share | causes of the others |\n|---|---|---|---|---|---|\n")
	for _, f := range table {
		fmt.Fprintf(&report, "| %s | %d | %d | %d | %.4f%% | %s |\n", f.name, len(f.files), f.drawn, f.drawn-len(f.others), f.share(), f.causes())
	}
	t.Logf("%v pt at %v dpi\n%s", sizes, resolutions, &report)
	for _, f := range table {
		slices.Sort(f.others)
		for _, o := range f.others {
			t.Log(o)
		}
	}
	for _, f := range table {
		require.Positive(t, f.drawn, f.name)
		require.GreaterOrEqual(t, f.share(), wanted, "%s: share of identical glyphs in per cent", f.name)
	}
}

func strikes(t *testing.T, path string, sizes []int, resolutions []string) []glyph.Strike {
	var all []glyph.Strike
	for _, r := range resolutions {
		dpi, err := glyph.ParseResolution(r)
		require.NoError(t, err)
		for _, pt := range sizes {
			all = append(all, glyph.Strike{Face: filepath.Base(path), Device: "fidelity", Size: glyph.Pt(pt), DPI: dpi})
		}
	}
	return all
}

// compare draws one face with both renderers.
func (f *family) compare(t *testing.T, second *secondOpinion, path string, strikes []glyph.Strike) error {
	ours := NewBuiltIn(BuiltInOptions{})
	face, err := ours.Face(path, 0)
	if err != nil {
		return err
	}
	for _, s := range strikes {
		job := &Job{Font: path, Strike: s, Glyphs: face.Refs()}
		a, err := drawJob(t, ours, job)
		if err != nil {
			return err
		}
		b, err := drawJob(t, second.Process, job)
		if err != nil {
			return err
		}
		if len(a) != len(job.Glyphs) || len(b) != len(a) {
			return fmt.Errorf("%s: %d glyphs asked, %d drawn, %d by FreeType", s, len(job.Glyphs), len(a), len(b))
		}
		for i := range a {
			kind, differs := difference(&a[i], &b[i])
			if differs && kind == "bitmap" {
				kind, err = second.cause(t, ours, job, a[i].Cell.Ref)
				if err != nil {
					return err
				}
			}
			f.count(s, &a[i], &b[i], kind, differs)
		}
	}
	return nil
}

func drawJob(t *testing.T, r Renderer, job *Job) (all []Drawn, err error) {
	err = r.Draw(t.Context(), job, func(d *Drawn) error {
		all = append(all, d.Kept())
		return nil
	})
	return all, err
}

func (f *family) count(s glyph.Strike, ours, theirs *Drawn, kind string, differs bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.drawn++
	if !differs {
		return
	}
	f.kinds[kind]++
	f.others = append(f.others, fmt.Sprintf("%s: glyph %q (#%d): %s: advance %d, FreeType %d; box %s, FreeType %s; errors %v, %v", s, ours.Cell.Key,
		ours.Cell.Index, kind, ours.Cell.Advance, theirs.Cell.Advance, box(&ours.Cell.Bitmap), box(&theirs.Cell.Bitmap), ours.Err, theirs.Err))
}

func difference(a, b *Drawn) (kind string, differs bool) {
	switch {
	case a.Err != nil && b.Err != nil:
		return "", false
	case a.Err != nil || b.Err != nil:
		return "error", true // one of the two drew nothing
	case !a.Cell.Bitmap.Equal(&b.Cell.Bitmap):
		return "bitmap", true
	case a.Cell.Advance != b.Cell.Advance:
		return "advance", true // the same ink, another advance
	}
	return "", false
}

func box(b *glyph.Bitmap) string {
	return fmt.Sprintf("%dx%d%+d%+d", b.Width, b.Height, b.Left, b.Bottom)
}
