package render

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// stemFamilies are the faces that the properties of fitted stems are measured on.
var stemFamilies = []stemFamily{
	{"xfonts-scalable", "/usr/share/fonts/X11/Type1/c0*.pfb", []string{"c0648bt_.pfb"}},
	{"urw-base35 Type 1", "/usr/share/fonts/type1/urw-base35/*.t1", []string{"NimbusRoman-Regular.t1"}},
	{"urw-base35 CFF", "/usr/share/fonts/opentype/urw-base35/*.otf", []string{"NimbusSans-Bold.otf"}},
	{"cantarell", "/usr/share/fonts/opentype/cantarell/*.otf", nil},
	{"lmodern", "/usr/share/texmf/fonts/opentype/public/lm/*.otf", nil},
	{"texgyre", "/usr/share/texmf/fonts/opentype/public/tex-gyre/*.otf", nil},
	{"AMS Type 1", "/usr/share/texlive/texmf-dist/fonts/type1/public/amsfonts/*/*.pfb", nil},
}

type stemFamily struct {
	name, pattern string
	slice         []string // a few of them, for the ordinary run
}

// TestFittedStems measures, in bitmaps, what fitting is for. With
// SMOKEPROOF_STEMS=1, or the name of a family, it covers every face at 6 to 24 pt,
// or at SMOKEPROOF_SIZES=6,8,12, and 203, 300 and 600 dpi, and prints FreeType's
// figures beside, unless SMOKEPROOF_ALONE=1; SMOKEPROOF_FACES leaves only faces whose
// file names it matches. SMOKEPROOF_LIST names a file for every place that falls short,
// and for all glyphs of which a property cannot hold.
func TestFittedStems(t *testing.T) {
	wanted := os.Getenv("SMOKEPROOF_STEMS")
	sizes, dpis := []int{6, 8, 11}, []int{203, 300}
	drawers := []drawer{drawnByUs}
	if wanted != "" {
		sizes, dpis = nil, []int{203, 300, 600}
		if os.Getenv("SMOKEPROOF_ALONE") == "" {
			drawers = append(drawers, drawnBy(freeType(t)))
		}
		for pt := 6; pt <= 24; pt++ {
			sizes = append(sizes, pt)
		}
		if some := os.Getenv("SMOKEPROOF_SIZES"); some != "" {
			require.NoError(t, json.Unmarshal([]byte("["+some+"]"), &sizes), "SMOKEPROOF_SIZES")
		}
	}
	var ours, theirs score
	for _, family := range stemFamilies {
		if wanted != "" && wanted != "1" && wanted != family.name {
			continue
		}
		faces := family.faces(t, wanted != "")
		scores := measureFaces(t, faces, sizes, dpis, drawers) // ours, FreeType's
		if len(faces) > 0 {
			t.Logf("%s, %d faces\n%s", family.name, len(faces), table(&scores[0], &scores[1]))
		}
		ours.add(&scores[0])
		theirs.add(&scores[1])
	}
	t.Logf("all\n%s", table(&ours, &theirs))
	for p := range properties {
		if ours.share(p) < 100 {
			t.Logf("%s, but for: %s", propertyNames[p], worst(ours.failures[p], 60))
		}
	}
	for b, where := range ours.barred {
		if where != nil {
			t.Logf("cannot hold, %s: %s", barrierNames[b], worst(where, 60))
		}
	}
	if list := os.Getenv("SMOKEPROOF_LIST"); list != "" {
		slices.Sort(ours.falls)
		require.NoError(t, os.WriteFile(list, []byte(strings.Join(append(ours.falls, ours.cannot()...), "")), 0o666))
	}
	for p, least := range leastShares(wanted != "") {
		require.NotZero(t, ours.all[p], propertyNames[p])
		require.GreaterOrEqual(t, ours.share(p), least, propertyNames[p])
	}
}

// leastShares are what is held, in per cent: of a few well-hinted faces, and of
// any whole family.
func leastShares(all bool) map[property]float64 {
	if all {
		return map[property]float64{
			equalInGlyph: 100, equalInStrike: 99.9, nothingVanishes: 100, flatsOnOneRow: 100,
			roundsOnTheRow: 100, serifsMirror: 99, glyphsMirror: 95, bearings: 100, advances: 100, lines: 100,
		}
	}
	return map[property]float64{
		equalInGlyph: 100, equalInStrike: 100, nothingVanishes: 100, flatsOnOneRow: 100,
		roundsOnTheRow: 100, serifsMirror: 99, glyphsMirror: 98, bearings: 100, advances: 100, lines: 100,
	}
}

// measureFaces measures as many faces at a time as there are processors.
func measureFaces(t *testing.T, paths []string, sizes, dpis []int, drawers []drawer) (sum [2]score) {
	t.Helper()
	var mu sync.Mutex
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for _, path := range paths {
		g.Go(func() error {
			scores, err := measureFace(path, sizes, dpis, drawers)
			mu.Lock()
			defer mu.Unlock()
			for i := range sum {
				sum[i].add(&scores[i])
			}
			return err
		})
	}
	require.NoError(t, g.Wait())
	return sum
}

// measureFace measures one face as some drawers draw it, into a score for each.
func measureFace(path string, sizes, dpis []int, drawers []drawer) ([2]score, error) {
	var scores [2]score
	opened, err := face.Open(path, 0)
	if err != nil {
		return scores, err
	}
	f, ok := opened.(face.PostScript)
	if !ok {
		return scores, fmt.Errorf("%s is no PostScript face", path)
	}
	s, err := newSubject(filepath.Base(path), f, f.Refs())
	if err != nil {
		return scores, fmt.Errorf("%s: %w", path, err)
	}
	for _, dpi := range dpis {
		for _, pt := range sizes {
			job := &Job{
				Font: path, Glyphs: f.Refs(),
				Strike: glyph.Strike{Face: s.name, Device: "stems", Size: glyph.Pt(pt), DPI: glyph.Dots(dpi)},
			}
			for i, draw := range drawers {
				cells, reaches, err := draw(f, job)
				if err != nil {
					return scores, fmt.Errorf("%s: %w", job.Strike, err)
				}
				scores[i].add(s.measure(job.Strike, cells, reaches))
			}
		}
	}
	return scores, nil
}

// drawer draws a job's glyphs, and tells how far each fitted outline reaches
// along X where it can.
type drawer func(face.Face, *Job) (cells []*glyph.Cell, reaches []reach, err error)

// drawnBy draws with any renderer, which shows no outlines.
func drawnBy(r Renderer) drawer {
	return func(_ face.Face, job *Job) (cells []*glyph.Cell, _ []reach, err error) {
		err = r.Draw(context.Background(), job, func(d *Drawn) error {
			kept := d.Kept()
			cells = append(cells, &kept.Cell)
			return d.Err
		})
		return cells, nil, err
	}
}

// drawnByUs draws with the built-in renderer's pen, each glyph fitted once.
func drawnByUs(f face.Face, job *Job) (cells []*glyph.Cell, reaches []reach, err error) {
	var p pen
	p.take(f, NewBuiltIn(BuiltInOptions{}).Likeness(f, job.Strike))
	for i := range job.Glyphs {
		ref := &job.Glyphs[i]
		fitted, err := p.fit(ref)
		if err != nil {
			return nil, nil, err
		}
		cell, err := p.cell(ref, fitted)
		if err != nil {
			return nil, nil, err
		}
		kept := (&Drawn{Cell: cell}).Kept()
		cells, reaches = append(cells, &kept.Cell), append(reaches, reachOf(contoursOf(&fitted.Outline)))
	}
	return cells, reaches, nil
}

// table prints our figures, and FreeType's where it was asked.
func table(ours, theirs *score) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-48s %10s %10s %10s\n", "", "measured", "built-in", "FreeType")
	for p := range properties {
		other := "–"
		if theirs.all[p] > 0 {
			other = fmt.Sprintf("%.3f%%", theirs.share(p))
		}
		fmt.Fprintf(&b, "%-48s %10d %9.3f%% %10s\n", propertyNames[p], ours.all[p], ours.share(p), other)
	}
	fmt.Fprintf(&b, "%-48s %10s %7.2f px %7.2f px\n", "largest drift of the line by whole-pixel advances", "", ours.drift, theirs.drift)
	for i, where := range ours.barred {
		fmt.Fprintf(&b, "cannot hold: %d in %d glyphs, %s\n", sum(where), len(where), barrierNames[i])
	}
	return b.String()
}

func sum(counts map[string]int) (all int) {
	for _, n := range counts {
		all += n
	}
	return all
}

func (f *stemFamily) faces(t *testing.T, every bool) []string {
	t.Helper()
	found, err := filepath.Glob(f.pattern)
	require.NoError(t, err)
	if len(found) == 0 {
		missing(t, "fonts of "+f.name+" are not installed")
	}
	some := os.Getenv("SMOKEPROOF_FACES")
	return slices.DeleteFunc(found, func(path string) bool {
		name := filepath.Base(path)
		if !every {
			return !slices.Contains(f.slice, name)
		}
		if some == "" {
			return false
		}
		matches, err := filepath.Match(some, name)
		require.NoError(t, err, "SMOKEPROOF_FACES")
		return !matches
	})
}
