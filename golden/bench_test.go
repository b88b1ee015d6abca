//go:build unix

package golden

import (
	"bytes"
	"context"
	"math/rand"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// textStrike is glyphs of the size that they have at 12 pt and 300 dpi: two
// stems and a bar each, with a little unevenness.
func textStrike(rnd *rand.Rand, glyphs int) []Decision {
	var ds []Decision
	for i := range glyphs {
		b := glyph.NewBitmap(2, 0, 20+rnd.Intn(16), 26+rnd.Intn(12), 1)
		for y := range b.Height {
			for x := range b.Width {
				if x < 4 || x >= b.Width-4 || y/4 == 3 || rnd.Intn(40) == 0 {
					b.Set(b.Left+x, y, 1)
				}
			}
		}
		key := glyph.Key("glyph" + string(rune('a'+i%26)) + string(rune('a'+i/26%26)) + string(rune('a'+i/676)))
		c := glyph.Cell{Ref: glyph.Ref{Key: key, Name: string(key), Code: rune(0x21 + i), Index: i + 3}, Advance: b.Width + 4, SWidth: 556, Bitmap: b}
		ds = append(ds, Decision{Cell: c, Verdict: Approve, By: "Ada Marsh", Why: "first set", When: time.Unix(1_800_000_000, 0)})
	}
	return ds
}

// perCPU runs a benchmark and reports what it does in a second of CPU: the clock
// of a shared machine tells little.
func perCPU(b *testing.B, size int, op func()) {
	b.ReportAllocs()
	start := cpuTime()
	for b.Loop() {
		op()
	}
	b.ReportMetric(float64(size)*float64(b.N)/1e6/(cpuTime()-start).Seconds(), "MB/cpu-s")
}

func cpuTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// strikeSizes are a text face, and one of the size of a CJK face.
var strikeSizes = map[string]int{"230 glyphs": 230, "5000 glyphs": 5000}

func BenchmarkParseBDF(b *testing.B) {
	for name, n := range strikeSizes {
		f := &Font{Name: "Larkmoor Text", Size: glyph.Pt(12), DPI: glyph.Dots(300), Depth: 1, Cells: merge(nil, textStrike(rand.New(rand.NewSource(1)), n))}
		var doc bytes.Buffer
		require.NoError(b, WriteBDF(&doc, f))
		b.Run(name, func(b *testing.B) {
			perCPU(b, doc.Len(), func() {
				_, err := ParseBDF(doc.Bytes())
				require.NoError(b, err)
			})
		})
	}
}

func BenchmarkLoad(b *testing.B) {
	for name, n := range strikeSizes {
		s, ctx, size := benchStore(b, n)
		b.Run(name, func(b *testing.B) {
			perCPU(b, size, func() {
				_, err := s.Load(ctx, demo)
				require.NoError(b, err)
			})
		})
	}
}

func BenchmarkVerify(b *testing.B) {
	s, ctx, size := benchStore(b, 230)
	perCPU(b, size, func() {
		problems, err := s.Verify(ctx)
		require.NoError(b, err)
		require.Empty(b, problems)
	})
}

func benchStore(b *testing.B, glyphs int) (*Store, context.Context, int) {
	s, ctx := Open(b.TempDir()), context.Background()
	require.NoError(b, s.Record(ctx, demo, textStrike(rand.New(rand.NewSource(1)), glyphs)))
	st, err := os.Stat(filepath.Join(s.dir, place(demo)+".bdf"))
	require.NoError(b, err)
	return s, ctx, int(st.Size())
}
