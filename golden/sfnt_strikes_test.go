package golden

import (
	"encoding/binary"
	"fmt"
	"maps"
	"math/rand"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/harness/glyph"
)

var be = binary.BigEndian

// strikeFormat is one way to store glyphs in EBLC and EBDT.
type strikeFormat struct{ index, image int }

func (f strikeFormat) String() string { return fmt.Sprintf("index %d, image %d", f.index, f.image) }

// strikeFormats are the pairs that the specification allows and fonts have.
var strikeFormats = []strikeFormat{
	{1, 1}, {1, 2}, {1, 6}, {1, 7}, {2, 5}, {3, 1}, {3, 2}, {3, 6}, {3, 7}, {4, 1}, {4, 2}, {4, 6}, {4, 7}, {5, 5}, {1, 8}, {3, 9},
}

// metricsOf writes small metrics, and the vertical ones of big metrics.
func metricsOf(c *glyph.Cell, big bool) []byte {
	b := &c.Bitmap
	p := []byte{byte(b.Height), byte(b.Width), byte(b.Left), byte(b.Top()), byte(c.Advance)}
	if big {
		p = append(p, 0, 0, 0)
	}
	return p
}

func imageOf(b *glyph.Bitmap, aligned bool) []byte {
	var p []byte
	at := 0
	for y := range b.Height {
		for x := range b.Width {
			v := b.At(b.Left+x, b.Top()-1-y)
			for at+b.Depth > len(p)*8 {
				p = append(p, 0)
			}
			p[at/8] |= v << (8 - b.Depth - at%8)
			at += b.Depth
		}
		if aligned {
			at = (at + 7) &^ 7
		}
	}
	return p
}

// compileStrikes writes the two tables for one strike whose glyphs follow each
// other. Formats 8 and 9 make the last glyph of the first two.
func compileStrikes(cells []glyph.Cell, f strikeFormat, depth int) (loc, bits []byte) {
	bits = be.AppendUint32(nil, 0x00020000)
	var at []int
	base := len(bits)
	for i := range cells {
		c := &cells[i]
		at = append(at, len(bits)-base)
		image := f.image
		if image > 7 && i < len(cells)-1 {
			image -= 7 // 8 is built of format 1, 9 of format 2
		}
		switch image {
		case 1, 2:
			bits = append(append(bits, metricsOf(c, false)...), imageOf(&c.Bitmap, image == 1)...)
		case 5:
			bits = append(bits, imageOf(&c.Bitmap, false)...)
		case 6, 7:
			bits = append(append(bits, metricsOf(c, true)...), imageOf(&c.Bitmap, image == 6)...)
		case 8, 9:
			bits = append(bits, metricsOf(c, image == 9)...)
			if image == 8 {
				bits = append(bits, 0)
			}
			bits = be.AppendUint16(bits, 2)
			for j := range 2 {
				bits = be.AppendUint16(bits, uint16(cells[j].Index))
				bits = append(bits, byte(cells[j].Bitmap.Left-c.Bitmap.Left), byte(c.Bitmap.Top()-cells[j].Bitmap.Top()))
			}
		}
	}
	at = append(at, len(bits)-base)
	first, last := cells[0].Index, cells[len(cells)-1].Index
	index := func(kind, image, from, to int) []byte {
		p := be.AppendUint16(nil, uint16(kind))
		p = be.AppendUint16(p, uint16(image))
		p = be.AppendUint32(p, uint32(base))
		if kind == 4 {
			p = be.AppendUint32(p, uint32(to-from))
		}
		if kind == 2 || kind == 5 {
			p = be.AppendUint32(p, uint32(at[1]-at[0]))
			p = append(p, metricsOf(&cells[0], true)...)
		}
		if kind == 5 {
			p = be.AppendUint32(p, uint32(to-from))
		}
		for i := from; i <= to; i++ {
			switch kind {
			case 1:
				p = be.AppendUint32(p, uint32(at[i]))
			case 3:
				p = be.AppendUint16(p, uint16(at[i]))
			case 4:
				if i < to {
					p = be.AppendUint16(p, uint16(cells[i].Index))
				} else {
					p = be.AppendUint16(p, 0)
				}
				p = be.AppendUint16(p, uint16(at[i]))
			case 5:
				if i < to {
					p = be.AppendUint16(p, uint16(cells[i].Index))
				}
			}
		}
		return p
	}
	n := len(cells)
	type part struct {
		first, last int
		data        []byte
	}
	parts := []part{{first, last, index(f.index, f.image, 0, n)}}
	if f.image > 7 { // the parts have a format of their own
		parts = []part{{first, last - 1, index(f.index, f.image-7, 0, n-1)}, {last, last, index(f.index, f.image, n-1, n)}}
	}
	list := []byte{}
	var data []byte
	for _, p := range parts {
		list = be.AppendUint16(list, uint16(p.first))
		list = be.AppendUint16(list, uint16(p.last))
		list = be.AppendUint32(list, uint32(8*len(parts)+len(data)))
		data = append(data, p.data...)
		for len(data)%4 != 0 {
			data = append(data, 0)
		}
	}
	loc = be.AppendUint32(nil, 0x00020000)
	loc = be.AppendUint32(loc, 1)
	for _, v := range []int{8 + 48, len(list) + len(data), len(parts), 0} {
		loc = be.AppendUint32(loc, uint32(v))
	}
	line := [12]byte{20, 0xFC, 30} // ascender, descender, widest
	loc = append(append(loc, line[:]...), line[:]...)
	loc = be.AppendUint16(loc, uint16(first))
	loc = be.AppendUint16(loc, uint16(last))
	loc = append(loc, 20, 20, byte(depth), 1) // horizontal metrics
	return append(append(loc, list...), data...), bits
}

// withTables puts tables into a font file.
func withTables(font []byte, add map[string][]byte) []byte {
	tables := maps.Clone(add)
	for i := range int(be.Uint16(font[4:])) {
		e := font[12+16*i:]
		at, n := be.Uint32(e[8:]), be.Uint32(e[12:])
		tables[string(e[:4])] = font[at : at+n]
	}
	out := append(be.AppendUint16(slices.Clone(font[:4]), uint16(len(tables))), 0, 0, 0, 0, 0, 0)
	at := 12 + 16*len(tables)
	var body []byte
	for _, tag := range slices.Sorted(maps.Keys(tables)) {
		out = append(out, tag...)
		for _, v := range []int{0, at + len(body), len(tables[tag])} {
			out = be.AppendUint32(out, uint32(v))
		}
		body = append(body, tables[tag]...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	return append(out, body...)
}

// strikeCells are glyphs 36 on; for formats whose metrics stand in the index
// all have one box (FreeType takes an advance of 0 for none, so none is 0), and for composites the last is made of the first two.
func strikeCells(rnd *rand.Rand, f strikeFormat, depth int) []glyph.Cell {
	var cells []glyph.Cell
	for i := range 4 {
		left, bottom, w, h, advance := rnd.Intn(5)-2, rnd.Intn(7)-3, 3+rnd.Intn(18), 3+rnd.Intn(18), 1+rnd.Intn(24)
		if f.image == 5 && i > 0 {
			b := &cells[0].Bitmap
			left, bottom, w, h, advance = b.Left, b.Bottom, b.Width, b.Height, cells[0].Advance
		}
		b := glyph.NewBitmap(left, bottom, w, h, depth)
		for y := b.Bottom; y < b.Top(); y++ {
			for x := b.Left; x < b.Right(); x++ {
				b.Set(x, y, uint8(rnd.Intn(256)))
			}
		}
		cells = append(cells, glyph.Cell{Ref: glyph.Ref{Key: indexKey(36 + i), Code: glyph.NoCode, Index: 36 + i}, Advance: advance, Bitmap: b})
	}
	if f.image > 7 {
		last, b := &cells[3], union(cells[:2])
		last.Bitmap = glyph.NewBitmap(b.Left, b.Bottom, b.Width, b.Height, depth)
		for y := b.Bottom; y < b.Top(); y++ {
			for x := b.Left; x < b.Right(); x++ {
				last.Bitmap.Set(x, y, cells[0].Bitmap.At(x, y)|cells[1].Bitmap.At(x, y))
			}
		}
	}
	return cells
}

func TestStrikesReadInEveryFormat(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	for _, depth := range []int{1, 2, 4, 8} {
		for _, f := range strikeFormats {
			if f.image > 7 && depth > 1 {
				continue // how grey parts mix is not specified
			}
			cells := strikeCells(rnd, f, depth)
			loc, bits := compileStrikes(cells, f, depth)
			font := withTables(goregular.TTF, map[string][]byte{"EBLC": loc, "EBDT": bits})
			got, err := ParseSfntStrikes(font)
			why := fmt.Sprintf("%s, depth %d", f, depth)
			require.NoError(t, err, why)
			require.Len(t, got, 1, why)
			require.Equal(t, depth, got[0].Depth)
			sameCells(t, cells, got[0].Cells, why)
			path := filepath.Join(t.TempDir(), "a.ttf")
			require.NoError(t, os.WriteFile(path, font, 0o666))
			ft := freeTypeReads(t, path)
			require.Len(t, ft[20], len(cells), why)
			agreeWithFreeType(t, ft[20], got[0], byIndex, why)
		}
	}
}

func FuzzParseSfntStrikes(f *testing.F) {
	rnd := rand.New(rand.NewSource(1))
	for _, format := range strikeFormats {
		loc, bits := compileStrikes(strikeCells(rnd, format, 1), format, 1)
		f.Add(loc, bits)
	}
	f.Fuzz(func(t *testing.T, loc, bits []byte) {
		_, err := ParseSfntStrikes(withTables([]byte("\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00"), map[string][]byte{"EBLC": loc, "EBDT": bits}))
		if err != nil {
			require.True(t, isInputError(err), err)
		}
	})
}

// A composite that is part of itself ends in an error, not in endless work.
func TestACompositeOfItselfIsRefused(t *testing.T) {
	f := strikeFormat{1, 8}
	cells := strikeCells(rand.New(rand.NewSource(1)), f, 1)
	loc, bits := compileStrikes(cells, f, 1)
	at := len(bits) - 8 // the first part
	be.PutUint16(bits[at:], uint16(cells[3].Index))
	_, err := ParseSfntStrikes(withTables(goregular.TTF, map[string][]byte{"EBLC": loc, "EBDT": bits}))
	require.ErrorIs(t, err, ErrInvalid)
	require.ErrorContains(t, err, "contain each other")
}
