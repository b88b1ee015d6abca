package raster

import (
	"fmt"
	"slices"
	"syscall"
	"testing"
	"time"

	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
)

// fitted are the hinted outlines of a face at a size.
func fitted(b *testing.B, font []byte, ppem fixed.Int26_6) (all []gridfit.Fitted) {
	f, err := face.Parse(font, 0)
	if err != nil {
		b.Fatal(err)
	}
	fitter := gridfit.NewTrueType(f.(*face.TrueType), glyph.PPEM{X: ppem, Y: ppem})
	for _, ref := range f.Refs()[:min(1000, len(f.Refs()))] {
		g, err := fitter.Fit(ref.Index)
		if err != nil {
			b.Fatal(err)
		}
		if o := g.Outline; len(o.Points) > 0 {
			own := *g // the fitter keeps its buffers
			own.Outline = glyph.Outline{Points: slices.Clone(o.Points), Ends: slices.Clone(o.Ends), Modes: slices.Clone(o.Modes)}
			all = append(all, own)
		}
	}
	return all
}

// One turn is one glyph: hinted Go Regular at 8 pt 203 dpi, 12 pt 300 dpi and
// 24 pt 600 dpi.
func BenchmarkBilevel(b *testing.B) {
	for _, ppem := range []fixed.Int26_6{1443, 3200, 12800} {
		glyphs := fitted(b, goregular.TTF, ppem)
		b.Run(fmt.Sprintf("%.1fppem", float64(ppem)/64), func(b *testing.B) {
			r := Rasterizer{HighPrecision: ppem < 24*64}
			b.ReportAllocs()
			from := cpu()
			for i := 0; b.Loop(); i++ {
				g := &glyphs[i%len(glyphs)]
				if _, err := r.Bilevel(&g.Outline, glyph.Center, g.Dropout); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(cpu()-from)/float64(b.N), "cpu-ns/op")
		})
	}
}

// cpu is the processor time spent so far: on a machine that others use, too, it
// says more than the clock.
func cpu() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func BenchmarkGrey(b *testing.B) {
	glyphs := fitted(b, goregular.TTF, 3200)
	var r Rasterizer
	b.ReportAllocs()
	from := cpu()
	for i := 0; b.Loop(); i++ {
		if _, err := r.Grey(&glyphs[i%len(glyphs)].Outline); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(cpu()-from)/float64(b.N), "cpu-ns/op")
}
