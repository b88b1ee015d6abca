package golden

import (
	"bytes"
	"context"
	"math/rand"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// textStrike is 230 glyphs of the size that they have at 12 pt and 300 dpi: two
// stems and a bar each, with a little unevenness.
func textStrike(rnd *rand.Rand) []Decision {
	var ds []Decision
	for i := range 230 {
		b := glyph.NewBitmap(2, 0, 20+rnd.Intn(16), 26+rnd.Intn(12), 1)
		for y := range b.Height {
			for x := range b.Width {
				if x < 4 || x >= b.Width-4 || y/4 == 3 || rnd.Intn(40) == 0 {
					b.Set(b.Left+x, y, 1)
				}
			}
		}
		key := glyph.Key("glyph" + string(rune('a'+i%26)) + string(rune('a'+i/26)))
		c := glyph.Cell{Ref: glyph.Ref{Key: key, Name: string(key), Code: rune(0x21 + i), Index: i + 3}, Advance: b.Width + 4, SWidth: 556, Bitmap: b}
		ds = append(ds, Decision{Cell: c, Verdict: Approve, By: "Ada Marsh", Why: "first set", When: time.Unix(1_800_000_000, 0)})
	}
	return ds
}

func BenchmarkParseBDF(b *testing.B) {
	f := &Font{Name: "Larkmoor Text", Size: glyph.Pt(12), DPI: glyph.Dots(300), Depth: 1, Cells: merge(nil, textStrike(rand.New(rand.NewSource(1))))}
	var doc bytes.Buffer
	require.NoError(b, WriteBDF(&doc, f))
	b.SetBytes(int64(doc.Len()))
	b.ReportAllocs()
	for b.Loop() {
		_, err := ParseBDF(doc.Bytes())
		require.NoError(b, err)
	}
}

func BenchmarkLoad(b *testing.B) {
	s, ctx := Open(b.TempDir()), context.Background()
	require.NoError(b, s.Record(ctx, demo, textStrike(rand.New(rand.NewSource(1)))))
	data, err := os.ReadFile(filepath.Join(s.dir, place(demo)+".bdf"))
	require.NoError(b, err)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		_, err := s.Load(ctx, demo)
		require.NoError(b, err)
	}
}

func BenchmarkVerify(b *testing.B) {
	s, ctx := Open(b.TempDir()), context.Background()
	require.NoError(b, s.Record(ctx, demo, textStrike(rand.New(rand.NewSource(1)))))
	data, err := os.ReadFile(filepath.Join(s.dir, place(demo)+".bdf"))
	require.NoError(b, err)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		problems, err := s.Verify(ctx)
		require.NoError(b, err)
		require.Empty(b, problems)
	}
}
