package golden

import (
	"encoding/binary"
	"errors"
	"fmt"

	"smokeproof/harness/glyph"
)

// Limits on one strike: indices may name the same glyph and the same data many
// times over. A font has at most 65,535 glyphs.
const (
	maxStrikePixels = 1 << 28 // each image counts 64 at least
	maxStrikeNotes  = 1 << 17
)

// ParseSfntStrikes reads the bitmap strikes inside a TrueType font file: tables
// EBLC and EBDT (OpenType), version 2, index formats 1 to 5, image formats 1,
// 2, 5 to 9. Each strike is a font of ppem points at 72 dpi. Glyphs are known
// by index, "#36"; their names are in other tables. Bitmaps come out tight.
func ParseSfntStrikes(data []byte) ([]*Font, error) {
	loc, bits, err := strikeTables(data)
	if err != nil {
		return nil, err
	}
	c := cursor{data: loc, order: binary.BigEndian}
	if major := c.u16(); major != 2 {
		return nil, fmt.Errorf("%w: EBLC version %d; only 2 is known", ErrUnsupported, major)
	}
	c.u16()
	n := c.u32()
	if n > (len(loc)-8)/48 {
		return nil, fmt.Errorf("%w: EBLC: %d strikes are more than the table holds; take another copy of the font", ErrInvalid, n)
	}
	var out []*Font
	for i := range n {
		s := sfntStrike{loc: loc, bits: bits, font: &Font{}}
		record := c.sub(8+48*i, 48)
		err := s.read(&record)
		if errors.Is(err, ErrUnsupported) {
			return nil, fmt.Errorf("EBLC strike %d: %w", i, err)
		} else if err != nil {
			return nil, fmt.Errorf("%w: EBLC strike %d: %w; take another copy of the font", ErrInvalid, i, err)
		}
		out = append(out, s.font)
	}
	return out, nil
}

// strikeTables finds EBLC and EBDT in a font file.
func strikeTables(data []byte) (loc, bits []byte, err error) {
	c := cursor{data: data, order: binary.BigEndian}
	switch v := c.u32(); v {
	case 0x00010000, 0x4F54544F, 0x74727565: // TrueType, "OTTO", "true"
	case 0x74746366: // "ttcf"
		return nil, nil, fmt.Errorf("%w: a font collection; take one face out of it", ErrUnsupported)
	default:
		return nil, nil, fmt.Errorf("%w: no TrueType font begins with %08x; name another file", ErrInvalid, v)
	}
	n := c.u16()
	c.take(6)
	for range n {
		tag := string(c.take(4))
		c.u32()
		part := c.sub(c.u32(), c.u32())
		switch tag {
		case "EBLC":
			loc = part.data
		case "EBDT":
			bits = part.data
		}
	}
	if loc == nil || bits == nil {
		return nil, nil, fmt.Errorf("%w: the font holds no bitmap strikes (tables EBLC and EBDT); name another file", ErrInvalid)
	}
	return loc, bits, nil
}

type sfntStrike struct {
	loc, bits []byte
	font      *Font
	images    map[int]sfntImage // by glyph index
	order     []int
	notes     int // entries of the index, with those that come twice
	pixels    int
}

// sfntImage is where one glyph's image lies in EBDT.
type sfntImage struct {
	format       int
	offset, size int
	metrics      *sfntMetrics // where the index holds them
}

// sfntMetrics are device pixels, Y up: the box's upper left corner from the
// origin, and the advance.
type sfntMetrics struct{ width, height, left, top, advance int }

func (s *sfntStrike) read(r *cursor) error {
	list, _, n := r.u32(), r.u32(), r.u32()
	r.take(4 + 12 + 12 + 2 + 2) // colour, line metrics, first and last glyph
	ppemX, ppemY, depth := r.u8(), r.u8(), r.u8()
	if ppemX == 0 || ppemY == 0 {
		return errors.New("the strike has no size")
	}
	switch depth {
	case 1, 2, 4, 8:
		s.font.Depth = depth
	default:
		return fmt.Errorf("%w: %d bits per pixel", ErrUnsupported, depth)
	}
	s.font.Name = fmt.Sprintf("%d ppem", ppemY)
	s.font.Size = glyph.Pt(ppemY)
	s.font.DPI = glyph.Resolution{X: glyph.DPI(ratio(ppemX, 72000, ppemY)), Y: 72000}
	s.images = map[int]sfntImage{}
	c := cursor{data: s.loc, order: binary.BigEndian}
	for i := range n {
		e := c.sub(list+8*i, 8)
		first, last, at := e.u16(), e.u16(), list+e.u32()
		if e.short || first > last || at > len(s.loc) {
			return fmt.Errorf("glyph range %d lies outside the table", i)
		}
		if err := s.index(first, last, c.sub(at, len(s.loc)-at)); err != nil {
			return err
		}
		if s.notes > maxStrikeNotes {
			return errors.New("its ranges name the same glyphs again and again")
		}
	}
	for _, i := range s.order {
		b, m, err := s.draw(i, 0)
		if err != nil {
			return fmt.Errorf("glyph %d: %w", i, err)
		}
		s.font.Cells = append(s.font.Cells, glyph.Cell{
			Ref:     glyph.Ref{Key: indexKey(i), Code: glyph.NoCode, Index: i},
			Advance: m.advance, SWidth: ratio(m.advance, 1000, ppemX), Bitmap: b.Tight(),
		})
	}
	return nil
}

// index reads one range of glyphs and notes where their images are.
func (s *sfntStrike) index(first, last int, c cursor) error {
	kind, format, base := c.u16(), c.u16(), c.u32()
	note := func(i, from, size int, m *sfntMetrics) {
		s.notes++
		if _, twice := s.images[i]; size > 0 && !twice {
			s.images[i] = sfntImage{format, base + from, size, m}
			s.order = append(s.order, i)
		}
	}
	switch kind {
	case 1, 3:
		next := c.u32
		if kind == 3 {
			next = c.u16
		}
		from := next()
		for i := first; i <= last && !c.short; i++ {
			to := next()
			note(i, from, to-from, nil)
			from = to
		}
	case 2:
		size := c.u32()
		m := c.bigMetrics()
		for i := first; i <= last; i++ {
			note(i, (i-first)*size, size, &m)
		}
	case 4:
		n := c.u32()
		i, from := c.u16(), c.u16()
		for ; n > 0 && !c.short; n-- {
			nextI, to := c.u16(), c.u16()
			note(i, from, to-from, nil)
			i, from = nextI, to
		}
	case 5:
		size := c.u32()
		m := c.bigMetrics()
		for k, n := 0, c.u32(); k < n && !c.short; k++ {
			note(c.u16(), k*size, size, &m)
		}
	default:
		return fmt.Errorf("%w: index format %d", ErrUnsupported, kind)
	}
	return c.end()
}

func (c *cursor) smallMetrics() sfntMetrics {
	return sfntMetrics{height: c.u8(), width: c.u8(), left: c.s8(), top: c.s8(), advance: c.u8()}
}

func (c *cursor) bigMetrics() sfntMetrics {
	m := c.smallMetrics()
	c.take(3) // the vertical ones
	return m
}

// maxParts bounds how deep composites may lie in each other.
const maxParts = 8

// draw gives a glyph's bitmap about its origin.
func (s *sfntStrike) draw(i, depth int) (b glyph.Bitmap, m sfntMetrics, err error) {
	at, ok := s.images[i]
	if !ok {
		return b, m, errors.New("the strike does not hold it")
	}
	if depth > maxParts {
		return b, m, errors.New("its parts contain each other")
	}
	all := cursor{data: s.bits, order: binary.BigEndian}
	c := all.sub(at.offset, at.size)
	if c.short {
		return b, m, errors.New("its image lies outside the table")
	}
	switch at.format {
	case 1, 2, 8:
		m = c.smallMetrics()
	case 6, 7, 9:
		m = c.bigMetrics()
	case 5:
		if at.metrics == nil {
			return b, m, errors.New("image format 5 wants metrics in the index")
		}
		m = *at.metrics
	default:
		return b, m, fmt.Errorf("%w: image format %d", ErrUnsupported, at.format)
	}
	if s.pixels += m.width*m.height + 64; s.pixels > maxStrikePixels {
		return b, m, fmt.Errorf("all images together have more than %d pixels", maxStrikePixels)
	}
	b = glyph.NewBitmap(m.left, m.top-m.height, m.width, m.height, s.font.Depth)
	switch at.format {
	case 1, 6:
		err = s.rows(&b, &c, true)
	case 2, 5, 7:
		err = s.rows(&b, &c, false)
	case 8:
		c.u8() // padding
		err = s.parts(&b, &c, depth)
	case 9:
		err = s.parts(&b, &c, depth)
	}
	return b, m, err
}

// rows reads samples, each row from a byte of its own or right behind the last.
func (s *sfntStrike) rows(b *glyph.Bitmap, c *cursor, aligned bool) error {
	d := b.Depth
	stride := b.Width * d
	if aligned {
		stride = (stride + 7) &^ 7
	}
	data := c.take((stride*b.Height + 7) / 8)
	if c.short {
		return errors.New("its image ends too early")
	}
	for y := range b.Height {
		for x := range b.Width {
			bit := y*stride + x*d
			v := data[bit/8] >> (8 - d - bit%8) & b.Max()
			b.Row(y)[x*d/64] |= uint64(v) << (64 - d - x*d%64)
		}
	}
	return nil
}

// parts lays other glyphs into the box: offsets are from its upper left corner
// to that of the part, the second one downward.
func (s *sfntStrike) parts(b *glyph.Bitmap, c *cursor, depth int) error {
	for n := c.u16(); n > 0; n-- {
		index, dx, dy := c.u16(), c.s8(), c.s8()
		if c.short {
			return errors.New("its list of parts ends too early")
		}
		part, _, err := s.draw(index, depth+1)
		if err != nil {
			return fmt.Errorf("part %d: %w", index, err)
		}
		part.Left, part.Bottom = b.Left+dx, b.Top()-dy-part.Height
		for y := part.Bottom; y < part.Top(); y++ {
			for x := part.Left; x < part.Right(); x++ {
				if v := part.At(x, y); v > b.At(x, y) {
					b.Set(x, y, v)
				}
			}
		}
	}
	return nil
}
