package golden

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strings"

	"smokeproof/harness/glyph"
)

// Tables of a PCF file and bits of their formats (FreeType's pcf.h).
const (
	pcfProperties = 1 << 0
	pcfMetrics    = 1 << 2
	pcfBitmaps    = 1 << 3
	pcfEncodings  = 1 << 5
	pcfSWidths    = 1 << 6
	pcfNames      = 1 << 7

	pcfPadMask    = 3      // rows end on 1, 2, 4 or 8 bytes
	pcfBigBytes   = 1 << 2 // most significant byte first
	pcfBigBits    = 1 << 3 // most significant bit first
	pcfUnitShift  = 4      // bits are counted within units of 1, 2 or 4 bytes
	pcfCompressed = 1 << 8 // metrics of a byte each
)

// pcfNoGlyph marks a code that the font has no glyph for.
const pcfNoGlyph = 0xFFFF

// ParsePCF reads a bitmap font of the X server's Portable Compiled Format,
// in every byte order, bit order, padding and scan unit.
// Codes are kept where the character set is ISO 10646 or ISO 8859-1. Bitmaps
// come out tight.
func ParsePCF(data []byte) (*Font, error) {
	p := pcfParser{font: &Font{Depth: 1}, unicode: true}
	err := p.tables(data)
	for _, step := range []struct {
		what string
		read func() error
	}{
		{"properties", p.properties}, {"metrics", p.metrics}, {"bitmaps", p.bitmaps},
		{"scalable widths", p.swidths}, {"glyph names", p.names}, {"encodings", p.encodings},
	} {
		if err == nil {
			if err = step.read(); err != nil {
				err = fmt.Errorf("PCF %s: %w", step.what, err)
			}
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%w: %w; take another copy of the file", ErrInvalid, err)
	}
	p.finish()
	return p.font, nil
}

type pcfParser struct {
	table   map[int]cursor // from the format word on
	font    *Font
	unicode bool
}

func (p *pcfParser) tables(data []byte) error {
	c := cursor{data: data, order: binary.LittleEndian}
	if string(c.take(4)) != pcfMagic {
		return fmt.Errorf("a PCF file begins with 01 66 63 70")
	}
	p.table = map[int]cursor{}
	for n := c.u32(); n > 0 && !c.short; n-- {
		kind := c.u32()
		c.u32() // the format, which the table repeats
		size, offset := c.u32(), c.u32()
		p.table[kind] = c.sub(offset, size)
	}
	if c.short {
		return fmt.Errorf("the file ends inside the list of tables")
	}
	return nil
}

// open returns a table behind its format word, in its own byte order.
func (p *pcfParser) open(kind int) (c cursor, format int, err error) {
	c, ok := p.table[kind]
	if !ok {
		return c, 0, fmt.Errorf("the table is missing")
	}
	c.order = binary.LittleEndian
	format = c.u32()
	if format&pcfBigBytes != 0 {
		c.order = binary.BigEndian
	}
	return c, format, c.end()
}

func (p *pcfParser) properties() error {
	c, _, err := p.open(pcfProperties)
	if err != nil {
		return err
	}
	n := c.u32()
	list := c.take(n * 9)
	if n%4 != 0 {
		c.take(4 - n%4)
	}
	text := c.take(c.u32())
	if c.short {
		return c.end()
	}
	str := func(at int) string {
		if at < 0 || at >= len(text) {
			return ""
		}
		s, _, _ := bytes.Cut(text[at:], []byte{0})
		return string(s)
	}
	var registry, encoding string
	l := cursor{data: list, order: c.order}
	for range n {
		name, isString, value := str(l.u32()), l.u8() != 0, l.s32()
		switch {
		case name == "FONT" && isString:
			p.font.Name = str(value)
		case name == "CHARSET_REGISTRY" && isString:
			registry = str(value)
		case name == "CHARSET_ENCODING" && isString:
			encoding = str(value)
		case isString || value <= 0 || value > 100_000:
		case name == "POINT_SIZE": // in tenths
			p.font.Size = glyph.Points(value * 100)
		case name == "RESOLUTION_X":
			p.font.DPI.X = glyph.DPI(value * 1000)
		case name == "RESOLUTION_Y":
			p.font.DPI.Y = glyph.DPI(value * 1000)
		}
	}
	p.unicode = registry == "" || unicodeCharset(registry, encoding)
	return nil
}

func (p *pcfParser) metrics() error {
	c, format, err := p.open(pcfMetrics)
	if err != nil {
		return err
	}
	n, each := 0, 12
	if format&pcfCompressed != 0 {
		n, each = c.u16(), 5 // unsigned: Unifont has 57,086 glyphs
	} else {
		n = c.s32()
	}
	if n < 0 || n > (len(c.data)-c.pos)/each {
		return fmt.Errorf("%d glyphs are more than the table holds", n)
	}
	p.font.Cells = make([]glyph.Cell, n)
	for i := range n {
		var m [5]int // left, right, advance, ascent, descent
		for j := range m {
			if each == 5 {
				m[j] = c.u8() - 0x80
			} else {
				m[j] = c.s16()
			}
		}
		if each == 12 {
			c.u16() // attributes
		}
		w, h := m[1]-m[0], m[3]+m[4]
		if w < 0 || h < 0 || w > maxBDFSide || h > maxBDFSide {
			return fmt.Errorf("glyph %d is %d × %d", i, w, h)
		}
		p.font.Cells[i] = glyph.Cell{
			Ref:     glyph.Ref{Key: indexKey(i), Code: glyph.NoCode, Index: i},
			Advance: m[2], Bitmap: glyph.Bitmap{Left: m[0], Bottom: -m[4], Width: w, Height: h, Depth: 1},
		}
	}
	return c.end()
}

func (p *pcfParser) bitmaps() error {
	c, format, err := p.open(pcfBitmaps)
	if err != nil {
		return err
	}
	n := c.s32()
	if n != len(p.font.Cells) {
		return fmt.Errorf("%d bitmaps for %d glyphs", n, len(p.font.Cells))
	}
	offsets := cursor{data: c.take(4 * n), order: c.order}
	var sizes [4]int // of the data, for each padding
	for i := range sizes {
		sizes[i] = c.s32()
	}
	data := cursor{data: c.take(sizes[format&pcfPadMask])}
	if c.short || offsets.short {
		return c.end()
	}
	layout, err := pcfLayoutOf(format)
	if err != nil {
		return err
	}
	used := 0
	for i := range p.font.Cells {
		b := &p.font.Cells[i].Bitmap
		rows := data.sub(offsets.u32(), layout.stride(b.Width)*b.Height)
		if used += len(rows.data); rows.short || used > len(data.data) {
			return fmt.Errorf("glyph %d lies outside the table, or over another", i)
		}
		pixels, ok := layout.read(b, rows.data)
		if !ok {
			return fmt.Errorf("glyph %d ends inside a scan unit", i)
		}
		*b = pixels.Tight()
	}
	return nil
}

func (p *pcfParser) swidths() error {
	if _, ok := p.table[pcfSWidths]; !ok {
		return nil
	}
	c, _, err := p.open(pcfSWidths)
	if err != nil {
		return err
	}
	n := c.s32()
	for i := range min(max(n, 0), len(p.font.Cells)) {
		p.font.Cells[i].SWidth = c.s32()
	}
	return c.end()
}

func (p *pcfParser) names() error {
	if _, ok := p.table[pcfNames]; !ok {
		return nil
	}
	c, _, err := p.open(pcfNames)
	if err != nil {
		return err
	}
	n := c.s32()
	if n != len(p.font.Cells) {
		return fmt.Errorf("%d names for %d glyphs", n, len(p.font.Cells))
	}
	offsets := cursor{data: c.take(4 * n), order: c.order}
	text := c.take(c.s32())
	if c.short {
		return c.end()
	}
	for i := range p.font.Cells {
		at := offsets.s32()
		if at < 0 || at >= len(text) {
			return fmt.Errorf("the name of glyph %d lies outside the table", i)
		}
		if s, _, _ := bytes.Cut(text[at:], []byte{0}); len(s) > 0 {
			p.font.Cells[i].Key = glyph.Key(s)
			nameRef(&p.font.Cells[i].Ref)
		}
	}
	return nil
}

func (p *pcfParser) encodings() error {
	c, _, err := p.open(pcfEncodings)
	if err != nil {
		return err
	}
	lo2, hi2, lo1, hi1 := c.u16(), c.u16(), c.u16(), c.u16()
	c.u16() // the default character
	if lo2 > hi2 || lo1 > hi1 || hi2 > 255 || hi1 > 255 {
		return fmt.Errorf("codes from %d, %d to %d, %d", lo1, lo2, hi1, hi2)
	}
	for high := lo1; high <= hi1; high++ {
		for low := lo2; low <= hi2; low++ {
			i := c.u16()
			if i == pcfNoGlyph || c.short {
				continue
			}
			if i >= len(p.font.Cells) {
				return fmt.Errorf("code %02X%02X has glyph %d of %d", high, low, i, len(p.font.Cells))
			}
			if r := &p.font.Cells[i].Ref; p.unicode && r.Code == glyph.NoCode {
				r.Code = rune(high<<8 | low)
			}
		}
	}
	return c.end()
}

// finish takes size and resolution from the name where the properties leave
// them out (X Logical Font Description: the 8th to 10th field).
func (p *pcfParser) finish() {
	f := strings.Split(p.font.Name, "-")
	if len(f) != 15 {
		return
	}
	for i, v := range []struct {
		to    *int32
		scale int
	}{{(*int32)(&p.font.Size), 100}, {(*int32)(&p.font.DPI.X), 1000}, {(*int32)(&p.font.DPI.Y), 1000}} {
		if n, _, ok := leadingInt([]byte(f[8+i])); ok && *v.to == 0 && n > 0 && n <= 100_000 {
			*v.to = int32(n * v.scale)
		}
	}
}
