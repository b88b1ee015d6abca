package golden

import (
	"encoding/binary"
	"errors"
	"fmt"

	"smokeproof/harness/glyph"
)

// Commands between the glyphs of a PK file, and the id in its preamble
// (T. Rokicki, "The PKtype processor", 1985).
const (
	pkSpecial1 = 240 // to 243: a string behind a length of 1 to 4 bytes
	pkNumber   = 244
	pkPost     = 245
	pkNothing  = 246
	pkPre      = 247
	pkID       = 89
)

// maxPK bounds the pixels of all glyphs: run lengths can say a great deal in few bytes.
const maxPK = 1 << 30

// ParsePK reads a packed raster font as METAFONT's tools write it. Glyphs are
// known by number: their keys are "#65", and which character a number stands
// for is in no PK file. Size and resolution follow from design size and pixels
// per point of 1/72.27 inch. Bitmaps come out tight.
func ParsePK(data []byte) (*Font, error) {
	p := pkParser{c: cursor{data: data, order: binary.BigEndian}, font: &Font{Depth: 1}}
	if err := p.read(); err != nil {
		return nil, fmt.Errorf("%w: PK at byte %d: %w; take another copy of the file", ErrInvalid, p.c.pos, err)
	}
	return p.font, nil
}

type pkParser struct {
	c      cursor
	font   *Font
	pixels int
}

func (p *pkParser) read() error {
	c := &p.c
	if c.u8() != pkPre || c.u8() != pkID {
		return errors.New("a PK file begins with 247 89")
	}
	p.font.Name = string(c.take(c.u8()))
	design, _ := c.u32(), c.u32()
	across, along := c.u32(), c.u32()
	if c.short || design == 0 || across == 0 || along == 0 || design > 1<<30 || across > 1<<26 || along > 1<<26 {
		return errors.New("the preamble gives no size or resolution")
	}
	p.font.Size = glyph.Points(ratio(design, 1000*7200, 7227<<20))
	p.font.DPI = glyph.Resolution{X: glyph.DPI(ratio(across, 72270, 1<<16)), Y: glyph.DPI(ratio(along, 72270, 1<<16))}
	for {
		switch cmd := c.u8(); {
		case c.short:
			return errors.New("the file ends before its postamble")
		case cmd < pkSpecial1:
			if err := p.glyph(cmd); err != nil {
				return err
			}
		case cmd < pkNumber:
			n := 0
			for range cmd - pkSpecial1 + 1 {
				n = n<<8 | c.u8()
			}
			c.take(n)
		case cmd == pkNumber:
			c.take(4)
		case cmd == pkPost:
			return nil
		case cmd != pkNothing:
			return fmt.Errorf("command %d is unknown", cmd)
		}
	}
}

// ratio is v × by / per, rounded half up.
func ratio(v, by, per int) int { return int((int64(v)*int64(by) + int64(per)/2) / int64(per)) }

// glyph reads one glyph behind its flag byte. Its header comes in three
// lengths, by the low bits of the flag.
func (p *pkParser) glyph(flag int) error {
	c := &p.c
	u24 := func() int { return c.u8()<<16 | c.u16() }
	var length, code, width, advance, w, h, left, top int
	switch size := flag & 7; {
	case size < 4:
		length, code, width, advance = size<<8|c.u8(), c.u8(), u24(), c.u8()
		length -= 8
		w, h, left, top = c.u8(), c.u8(), c.s8(), c.s8()
	case size < 7:
		length, code, width, advance = (size-4)<<16|c.u16(), c.u8(), u24(), c.u16()
		length -= 13
		w, h, left, top = c.u16(), c.u16(), c.s16(), c.s16()
	default:
		length, code, width, advance = c.u32(), c.u32(), c.s32(), ratio(c.s32(), 1, 1<<16)
		c.u32() // escapement along y
		length -= 28
		w, h, left, top = c.u32(), c.u32(), c.s32(), c.s32()
	}
	switch {
	case c.short || length < 0:
		return fmt.Errorf("glyph %d ends inside its header", code)
	case w > maxBDFSide || h > maxBDFSide || max(left, -left, top, -top) > maxBDFSide:
		return fmt.Errorf("glyph %d is %d × %d, its origin at %d, %d", code, w, h, left, top)
	}
	if p.pixels += w * h; p.pixels > maxPK {
		return fmt.Errorf("glyph %d is one too many: all together have more than %d pixels", code, maxPK)
	}
	packed := c.take(length)
	if c.short {
		return fmt.Errorf("glyph %d ends too early", code)
	}
	b := glyph.NewBitmap(-left, top-h+1, w, h, 1) // top counts the rows above that of the origin
	var err error
	if flag>>4 == 14 {
		err = pkPlain(&b, packed)
	} else {
		r := pkRuns{nybbles: packed, dynamic: flag >> 4}
		err = r.fill(&b, flag&8 != 0)
	}
	if err != nil {
		return fmt.Errorf("glyph %d: %w", code, err)
	}
	p.font.Cells = append(p.font.Cells, glyph.Cell{
		Ref:     glyph.Ref{Key: indexKey(code), Code: glyph.NoCode, Index: code},
		Advance: advance, SWidth: ratio(width, 1000, 1<<20), Bitmap: b.Tight(),
	})
	return nil
}

// pkPlain takes rows of bits without any padding between them.
func pkPlain(b *glyph.Bitmap, packed []byte) error {
	if len(packed)*8 < b.Width*b.Height {
		return errors.New("its bits end too early")
	}
	for i := range b.Width * b.Height {
		if packed[i/8]>>(7-i%8)&1 != 0 {
			b.Row(i / b.Width)[i%b.Width/64] |= 1 << (63 - i%b.Width%64)
		}
	}
	return nil
}

// pkRuns reads run lengths and repeat counts from half bytes.
type pkRuns struct {
	nybbles []byte
	pos     int
	dynamic int // runs up to this take one half byte
	repeat  int // how often the row is to come again
}

var errPKShort = errors.New("its runs end too early")

func (r *pkRuns) nybble() (int, error) {
	if r.pos >= 2*len(r.nybbles) {
		return 0, errPKShort
	}
	v := int(r.nybbles[r.pos/2]) >> (4 - 4*(r.pos%2)) & 15
	r.pos++
	return v, nil
}

// run gives the next run length; repeat counts on the way are kept.
func (r *pkRuns) run() (int, error) {
	for {
		v, err := r.nybble()
		switch {
		case err != nil:
			return 0, err
		case v == 0:
			return r.long()
		case v <= r.dynamic:
			return v, nil
		case v < 14:
			low, err := r.nybble()
			return (v-r.dynamic-1)*16 + low + r.dynamic + 1, err
		case r.repeat != 0:
			return 0, errors.New("a row is told twice how often it comes")
		case v == 15:
			r.repeat = 1
		default:
			if r.repeat, err = r.run(); err != nil {
				return 0, err
			}
			if r.repeat > maxBDFSide {
				return 0, errors.New("a row comes too often")
			}
		}
	}
}

// long reads a number that as many zeros precede as it has digits to spare.
func (r *pkRuns) long() (int, error) {
	digits := 1
	v := 0
	for v == 0 {
		var err error
		if v, err = r.nybble(); err != nil {
			return 0, err
		}
		if digits++; digits > 8 {
			return 0, errors.New("a run has too many digits")
		}
	}
	for range digits - 1 {
		n, err := r.nybble()
		if err != nil {
			return 0, err
		}
		v = v<<4 | n
	}
	return v - 15 + (13-r.dynamic)*16 + r.dynamic, nil
}

// fill paints runs, white and black by turns, row after row.
func (r *pkRuns) fill(b *glyph.Bitmap, black bool) error {
	x, y := 0, 0
	for y < b.Height && b.Width > 0 {
		n, err := r.run()
		if err != nil {
			return err
		}
		for n > 0 {
			if y >= b.Height {
				return errors.New("a run goes past the last row")
			}
			part := min(n, b.Width-x)
			if black {
				for i := x; i < x+part; i++ {
					b.Row(y)[i/64] |= 1 << (63 - i%64)
				}
			}
			n -= part
			if x += part; x == b.Width {
				x, y = 0, r.next(b, y)
			}
		}
		black = !black
	}
	return nil
}

// next repeats a finished row and gives the one after.
func (r *pkRuns) next(b *glyph.Bitmap, y int) int {
	row := b.Row(y)
	for ; r.repeat > 0 && y+1 < b.Height; r.repeat-- {
		y++
		copy(b.Row(y), row)
	}
	r.repeat = 0
	return y + 1
}
