package golden

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"smokeproof/harness/glyph"
)

// WriteBDF writes a bitmap font as BDF 2.1 (Adobe TN 5005), the same bytes for
// the same font. A glyph without a code point has ENCODING -1 and its index;
// a glyph without ink has BBX 0 0 0 0. Grey fonts carry bits per pixel as a fourth field
// of SIZE.
func WriteBDF(w io.Writer, f *Font) error {
	b := bufio.NewWriterSize(w, 1<<16)
	depth := ""
	if f.Depth > 1 {
		depth = fmt.Sprintf(" %d", f.Depth)
	}
	box := union(f.Cells)
	fmt.Fprintf(b, "STARTFONT 2.1\nFONT %s\nSIZE %s %s %s%s\nFONTBOUNDINGBOX %d %d %d %d\nCHARS %d\n",
		EscapeKey(glyph.Key(f.Name)), f.Size, f.DPI.X, f.DPI.Y, depth, box.Width, box.Height, box.Left, box.Bottom, len(f.Cells))
	return writeGlyphs(b, f.Cells)
}

// WriteXBDF writes a bilevel font as the tools of the X Window System want a
// BDF before they compile it to PCF: whole numbers for the resolution, a name
// of 14 fields, properties, and codes of ISO 10646. Resolutions are rounded.
func WriteXBDF(w io.Writer, f *Font) error {
	if f.Depth != 1 {
		return fmt.Errorf("%w: %s is grey and PCF is bilevel; export bdf", ErrUnsupported, f.Name)
	}
	b := bufio.NewWriterSize(w, 1<<16)
	box := union(f.Cells)
	x, y := whole(f.DPI.X), whole(f.DPI.Y)
	ppem := glyph.PixelsPerEm(f.Size, f.DPI).Y.Round()
	deci := (int(f.Size) + 50) / 100
	name := strings.Map(func(r rune) rune {
		if r == '-' || r < ' ' || r > '~' || r == '"' {
			return ' '
		}
		return r
	}, f.Name)
	fmt.Fprintf(b, "STARTFONT 2.1\nFONT -smokeproof-%s-medium-r-normal--%d-%d-%d-%d-p-0-iso10646-1\nSIZE %s %d %d\nFONTBOUNDINGBOX %d %d %d %d\n",
		name, ppem, deci, x, y, f.Size, x, y, box.Width, box.Height, box.Left, box.Bottom)
	fmt.Fprintf(b, "STARTPROPERTIES 8\nFONT_ASCENT %d\nFONT_DESCENT %d\nPIXEL_SIZE %d\nPOINT_SIZE %d\nRESOLUTION_X %d\nRESOLUTION_Y %d\nCHARSET_REGISTRY \"ISO10646\"\nCHARSET_ENCODING \"1\"\nENDPROPERTIES\nCHARS %d\n",
		max(box.Top(), 0), max(-box.Bottom, 0), ppem, deci, x, y, len(f.Cells))
	return writeGlyphs(b, f.Cells)
}

// writeGlyphs writes what follows a document's head, to its end.
func writeGlyphs(b *bufio.Writer, cells []glyph.Cell) error {
	var line []byte
	for i := range cells {
		tight := cells[i].Bitmap.Tight()
		line = appendGlyph(line[:0], &cells[i], &tight)
		if _, err := b.Write(line); err != nil {
			return err
		}
	}
	b.WriteString("ENDFONT\n")
	return b.Flush()
}

func whole(d glyph.DPI) int { return int(d+500) / 1000 }

// appendGlyph writes one glyph; t is its tight bitmap.
func appendGlyph(p []byte, c *glyph.Cell, t *glyph.Bitmap) []byte {
	p = appendHead(p, c, t)
	digits := rowDigits(t)
	for y := range t.Height {
		p = appendRow(p, t.Row(y), digits)
	}
	return append(p, glyphFoot...)
}

const (
	glyphStart = "STARTCHAR "
	glyphFoot  = "ENDCHAR\n"
)

// appendHead writes what comes before a glyph's rows.
func appendHead(p []byte, c *glyph.Cell, t *glyph.Bitmap) []byte {
	p = append(p, glyphStart...)
	p = appendKey(p, c.Key)
	if c.Code == glyph.NoCode {
		p = appendNumbers(append(p, "\nENCODING -1"...), c.Index)
	} else {
		p = appendNumbers(append(p, "\nENCODING"...), int(c.Code))
	}
	p = appendNumbers(append(p, "\nSWIDTH"...), c.SWidth, 0)
	p = appendNumbers(append(p, "\nDWIDTH"...), c.Advance, 0)
	p = appendNumbers(append(p, "\nBBX"...), t.Width, t.Height, t.Left, t.Bottom)
	return append(p, "\nBITMAP\n"...)
}

// rowDigits is how many hex digits a row takes: whole bytes.
func rowDigits(b *glyph.Bitmap) int { return 2 * ((b.Width*b.Depth + 7) / 8) }

// appendRow writes a row's first samples as hex digits, eight at a time.
func appendRow(p []byte, row []uint64, digits int) []byte {
	end := len(p) + digits
	p = slices.Grow(p, digits+16)
	for i, at := 0, len(p); at < end; i++ {
		p = binary.BigEndian.AppendUint64(p, eightDigits(row[i]>>32))
		p = binary.BigEndian.AppendUint64(p, eightDigits(row[i]&0xFFFFFFFF))
		at += 16
	}
	return append(p[:end], '\n')
}

// eightDigits is a number of 32 bits as eight digits, the first in the topmost byte.
func eightDigits(v uint64) uint64 {
	const each = 0x0101010101010101
	v = (v | v<<16) & 0x0000FFFF0000FFFF
	v = (v | v<<8) & 0x00FF00FF00FF00FF
	v = (v | v<<4) & 0x0F0F0F0F0F0F0F0F
	letter := (v + 6*each) >> 4 & each
	return v + '0'*each + letter*('A'-'9'-1)
}

func appendNumbers(p []byte, ns ...int) []byte {
	for _, n := range ns {
		p = strconv.AppendInt(append(p, ' '), int64(n), 10)
	}
	return p
}

// union is the smallest box that holds the ink of all cells; its words are left out.
func union(cells []glyph.Cell) glyph.Bitmap {
	var u glyph.Bitmap
	first := true
	for i := range cells {
		b := cells[i].Bitmap.Tight()
		if b.Width == 0 {
			continue
		}
		if first {
			u = glyph.Bitmap{Left: b.Left, Bottom: b.Bottom, Width: b.Width, Height: b.Height}
			first = false
			continue
		}
		right, top := max(u.Right(), b.Right()), max(u.Top(), b.Top())
		u.Left, u.Bottom = min(u.Left, b.Left), min(u.Bottom, b.Bottom)
		u.Width, u.Height = right-u.Left, top-u.Bottom
	}
	return roomy(u)
}

// roomy widens the box to steps of 16 pixels, so that one glyph more or less
// seldom changes a line that every approval would have to touch.
func roomy(u glyph.Bitmap) glyph.Bitmap {
	left, bottom := u.Left&^15, u.Bottom&^15
	u.Width, u.Height = (u.Right()-left+15)&^15, (u.Top()-bottom+15)&^15
	u.Left, u.Bottom = left, bottom
	return u
}
