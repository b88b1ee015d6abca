package raster

import (
	"bufio"
	"encoding/binary"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/harness/glyph"
)

// secondOpinion is FreeType, drawing the outlines that it is given.
type secondOpinion struct {
	in  io.WriteCloser
	out *bufio.Reader
}

// freeType compiles and starts it; a machine without FreeType skips, CI fails.
func freeType(t *testing.T) *secondOpinion {
	t.Helper()
	flags, err := exec.Command("pkg-config", "--cflags", "--libs", "freetype2").Output()
	if err != nil && os.Getenv("CI") != "true" {
		t.Skip("libfreetype-dev is not installed")
	}
	require.NoError(t, err, "pkg-config freetype2")
	dir := t.TempDir()
	bin, font := filepath.Join(dir, "scan"), filepath.Join(dir, "Go-Regular.ttf")
	require.NoError(t, os.WriteFile(font, goregular.TTF, 0o600))
	args := append([]string{"-O1", "-o", bin, "testdata/scan.c"}, strings.Fields(string(flags))...)
	said, err := exec.Command("cc", args...).CombinedOutput()
	require.NoError(t, err, string(said))
	cmd := exec.Command(bin, font)
	in, err := cmd.StdinPipe()
	require.NoError(t, err)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() {
		require.NoError(t, in.Close())
		require.NoError(t, cmd.Wait())
	})
	return &secondOpinion{in, bufio.NewReader(out)}
}

// Outline flags of ftimage.h.
const (
	ignoreDropouts = 0x8
	smartDropouts  = 0x10
	includeStubs   = 0x20
	highPrecision  = 0x100
)

// bilevel asks for a mono bitmap; ok is false where FreeType refuses the outline.
func (f *secondOpinion) bilevel(t *testing.T, o *glyph.Outline, mode glyph.Dropout, high bool) (b glyph.Bitmap, ok bool) {
	flags := int32(0)
	switch {
	case mode&2 != 0:
		flags |= ignoreDropouts
	case mode&4 != 0:
		flags |= smartDropouts
	}
	if mode&1 == 0 {
		flags |= includeStubs
	}
	if high {
		flags |= highPrecision
	}
	return f.draw(t, o, 1, flags)
}

func (f *secondOpinion) grey(t *testing.T, o *glyph.Outline) (b glyph.Bitmap, ok bool) {
	return f.draw(t, o, 8, 0)
}

func (f *secondOpinion) draw(t *testing.T, o *glyph.Outline, depth int, flags int32) (glyph.Bitmap, bool) {
	t.Helper()
	ask := []int32{int32(len(o.Points)), int32(len(o.Ends)), int32(depth / 8), flags}
	contour := 0
	for i, p := range o.Points {
		tag := [...]int32{glyph.OnCurve: 1, glyph.Quad: 0, glyph.Cubic: 2}[p.Kind]
		if first := contour == 0 && i == 0 || contour > 0 && i == o.Ends[contour-1]+1; first && contour < len(o.Ends) {
			if len(o.Modes) > 0 && o.Modes[contour] != glyph.DropoutKeep {
				tag |= 4 | int32(o.Modes[contour])<<5
			}
			contour++
		}
		ask = append(ask, int32(p.X), int32(p.Y), tag)
	}
	for _, e := range o.Ends {
		ask = append(ask, int32(e))
	}
	require.NoError(t, binary.Write(f.in, binary.LittleEndian, ask))
	var head struct{ Error, Left, Top, Width, Rows int32 }
	require.NoError(t, binary.Read(f.out, binary.LittleEndian, &head))
	b := glyph.NewBitmap(int(head.Left), int(head.Top-head.Rows), int(head.Width), int(head.Rows), depth)
	row := make([]byte, (b.Width*depth+7)/8)
	for y := b.Top() - 1; y >= b.Bottom; y-- {
		_, err := io.ReadFull(f.out, row)
		require.NoError(t, err)
		for i, v := range row {
			b.Row(b.Top() - 1 - y)[i/8] |= uint64(v) << (56 - 8*(i%8))
		}
	}
	return b, head.Error == 0
}

func art(b *glyph.Bitmap) string {
	var sb strings.Builder
	for y := b.Top() - 1; y >= b.Bottom; y-- {
		for x := b.Left; x < b.Right(); x++ {
			sb.WriteByte(".#"[b.At(x, y)&1])
		}
		sb.WriteByte('\n')
	}
	return sb.String()
}
