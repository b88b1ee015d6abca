package golden

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/bits"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// compilePCF writes a font in one of PCF's many orders, after the bits that
// FreeType's pcf.h names.
func compilePCF(f *Font, pad, unit int, bigBytes, bigBits bool) []byte {
	var order binary.AppendByteOrder = binary.LittleEndian
	format := bits.TrailingZeros(uint(pad)) | bits.TrailingZeros(uint(unit))<<4
	if bigBytes {
		order, format = binary.BigEndian, format|4
	}
	if bigBits {
		format |= 8
	}
	u32 := func(p []byte, vs ...int) []byte {
		for _, v := range vs {
			p = order.AppendUint32(p, uint32(v))
		}
		return p
	}
	u16 := func(p []byte, vs ...int) []byte {
		for _, v := range vs {
			p = order.AppendUint16(p, uint16(v))
		}
		return p
	}
	table := func() []byte { return binary.LittleEndian.AppendUint32(nil, uint32(format)) }
	n := len(f.Cells)
	props := u32(table(), 0)
	props = u32(props, 0)
	metrics, offsets, names, nameText := u32(table(), n), []byte{}, u32(table(), n), []byte{}
	var data []byte
	codes := u16(table(), 'A', 'A'+n-1, 0, 0, 0)
	for i := range f.Cells {
		c := &f.Cells[i]
		b := &c.Bitmap
		metrics = u16(metrics, b.Left, b.Right(), c.Advance, b.Top(), -b.Bottom, 0)
		offsets = u32(offsets, len(data))
		stride := (b.Width + 8*pad - 1) / (8 * pad) * pad
		rows := make([]byte, stride*b.Height)
		for y := range b.Height {
			for x := range b.Width {
				if b.At(b.Left+x, b.Top()-1-y) == 0 {
					continue
				}
				// the pixel's bit within its unit, then the unit's bytes in their order
				in := x % (8 * unit)
				if bigBits {
					in = 8*unit - 1 - in
				}
				at := in / 8
				if bigBytes {
					at = unit - 1 - at
				}
				rows[y*stride+x/(8*unit)*unit+at] |= 1 << (in % 8)
			}
		}
		data = append(data, rows...)
		names = u32(names, len(nameText))
		nameText = append(nameText, string(c.Key)+"\x00"...)
		codes = u16(codes, i)
	}
	sizes := make([]int, 4)
	for i := range sizes {
		sizes[i] = len(data)
	}
	bitmaps := append(u32(append(u32(table(), n), offsets...), sizes...), data...)
	names = append(u32(names, len(nameText)), nameText...)
	parts := []struct {
		kind int
		data []byte
	}{{pcfProperties, props}, {pcfMetrics, metrics}, {pcfBitmaps, bitmaps}, {pcfNames, names}, {pcfEncodings, codes}}
	out := binary.LittleEndian.AppendUint32([]byte("\x01fcp"), uint32(len(parts)))
	at := 8 + 16*len(parts)
	for _, p := range parts {
		for _, v := range []int{p.kind, format, len(p.data), at} {
			out = binary.LittleEndian.AppendUint32(out, uint32(v))
		}
		at += len(p.data)
	}
	for _, p := range parts {
		out = append(out, p.data...)
	}
	return out
}

func lettered(rnd *rand.Rand) *Font {
	f := randomFont(rnd, 1)
	for i := range f.Cells {
		c := &f.Cells[i]
		c.Ref = glyph.Ref{Key: glyph.Key("g" + string(rune('a'+i))), Name: "g" + string(rune('a'+i)), Code: rune('A' + i), Index: i}
		c.Bitmap = c.Bitmap.Tight()
	}
	return f
}

func TestPCFOfOurOwnReadsBackInEveryOrder(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	for _, pad := range []int{1, 2, 4, 8} {
		for _, unit := range []int{1, 2, 4} {
			for flags := range 4 {
				if unit > pad {
					continue
				}
				f := lettered(rnd)
				got, err := ParsePCF(compilePCF(f, pad, unit, flags&1 != 0, flags&2 != 0))
				require.NoError(t, err)
				sameCells(t, f.Cells, got.Cells, fmt.Sprintf("pad %d, unit %d, flags %d", pad, unit, flags))
			}
		}
	}
}

func TestInkBesidesARowOfPCFIsNone(t *testing.T) {
	b := glyph.NewBitmap(0, 0, 9, 1, 1)
	b.Set(0, 0, 1)
	b.Set(8, 0, 1)
	f := &Font{Cells: []glyph.Cell{{Ref: glyph.Ref{Key: "A", Name: "A", Code: 'A'}, Advance: 9, Bitmap: b}}}
	data := compilePCF(f, 2, 1, true, true)
	at := bytes.Index(data, []byte{0x80, 0x80})
	require.Positive(t, at)
	data[at+1] = 0xFF
	got, err := ParsePCF(data)
	require.NoError(t, err)
	require.Equal(t, 2, got.Cells[0].Bitmap.Ink(), "seven bits pad the row")
}

// Fields as X Logical Font Description Conventions, 1.5, section 3, orders them; names of our own.
func TestPCFTakesSizeAndResolutionFromItsName(t *testing.T) {
	for _, c := range []struct {
		why, name string
		size, dpi string
	}{
		{"no property tells them", "-ours-larkmoor-medium-r-normal--12-120-75-100-p-64-iso8859-1", "12", "75x100"},
		{"a scalable name leaves them open", "-ours-larkmoor-medium-r-normal--0-0-0-0-p-0-iso8859-1", "0", "0"},
		{"not a name of that kind", "larkmoor-12", "0", "0"},
	} {
		p := pcfParser{font: &Font{Name: c.name}}
		p.finish()
		require.Equal(t, []string{c.size, c.dpi}, []string{p.font.Size.String(), p.font.DPI.String()}, c.why)
	}
	p := pcfParser{font: &Font{Name: "-ours-larkmoor-medium-r-normal--12-120-75-75-p-64-iso8859-1", Size: glyph.Pt(8), DPI: glyph.Dots(300)}}
	p.finish()
	require.Equal(t, "8", p.font.Size.String(), "what the properties say stands")
	require.Equal(t, "300", p.font.DPI.String())
}

func TestBrokenPCFIsRefused(t *testing.T) {
	good := compilePCF(lettered(rand.New(rand.NewSource(1))), 4, 4, true, true)
	for n := range len(good) {
		_, err := ParsePCF(good[:n])
		require.ErrorIs(t, err, ErrInvalid, "the first %d bytes", n)
	}
}

func FuzzParsePCF(f *testing.F) {
	rnd := rand.New(rand.NewSource(1))
	f.Add(compilePCF(lettered(rnd), 1, 1, false, false))
	f.Add(compilePCF(lettered(rnd), 4, 2, true, false))
	f.Fuzz(func(t *testing.T, data []byte) {
		font, err := ParsePCF(data)
		if err != nil {
			require.ErrorIs(t, err, ErrInvalid)
			return
		}
		font.Size, font.DPI = max(font.Size, 1), glyph.Dots(72)
		sameThroughBDF(t, font)
	})
}
