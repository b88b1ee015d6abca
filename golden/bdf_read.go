package golden

import (
	"bytes"
	"fmt"
	"io"
	"strconv"

	"smokeproof/harness/glyph"
)

// Limits on BDF input, each far above any real font.
const (
	maxBDF      = 1 << 30 // bytes: a CJK strike at printer resolution is under 200 MiB
	maxBDFSide  = 1 << 14 // pixels: a glyph of 72 pt at 2400 dpi has 2,400
	maxBDFCells = 1 << 21 // FreeType takes 1,114,112 (bdflib.c)
)

// ReadBDF reads a bitmap font of the Glyph Bitmap Distribution Format 2.1 or
// 2.2 (Adobe TN 5005). A fourth field of SIZE is bits per pixel, as FreeType's
// reader takes it. A missing SWIDTH or DWIDTH follows from the other, or from
// BBX; short rows are filled with zeros, long ones cut. Bitmaps come out tight.
// A glyph's Ref has its key and code; its index is what ENCODING -1 gives, else
// its place in the file.
func ReadBDF(r io.Reader) (*Font, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxBDF+1))
	if err != nil {
		return nil, err
	}
	if len(data) > maxBDF {
		return nil, fmt.Errorf("%w: more than %d bytes", ErrUnsupported, maxBDF)
	}
	p := bdfParser{rest: data, font: &Font{Depth: 1}}
	if err := p.header(); err != nil {
		return nil, p.at(err)
	}
	for {
		more, err := p.glyph()
		if err != nil {
			return nil, p.at(err)
		}
		if !more {
			return p.font, nil
		}
	}
}

// bdfParser walks the lines of a document without copying them.
type bdfParser struct {
	rest         []byte
	line         int
	font         *Font
	swidth       int // global ones of 2.2
	dwidth       int
	haveS, haveD bool
}

func (p *bdfParser) at(err error) error {
	return fmt.Errorf("%w: line %d: %w; correct the file", ErrInvalid, p.line, err)
}

// next returns the next line's keyword and the rest of it.
func (p *bdfParser) next() (word, args []byte, ok bool) {
	for len(p.rest) > 0 {
		line := p.rest
		if i := bytes.IndexByte(line, '\n'); i >= 0 {
			line, p.rest = line[:i], line[i+1:]
		} else {
			p.rest = nil
		}
		p.line++
		line = bytes.TrimRight(line, " \t\r")
		if len(line) == 0 {
			continue
		}
		if i := bytes.IndexAny(line, " \t"); i >= 0 {
			return line[:i], bytes.TrimLeft(line[i:], " \t"), true
		}
		return line, nil, true
	}
	return nil, nil, false
}

func (p *bdfParser) header() error {
	word, args, ok := p.next()
	if !ok || string(word) != "STARTFONT" {
		return fmt.Errorf("a BDF font begins with STARTFONT")
	}
	if v := string(args); v != "2.1" && v != "2.2" {
		return fmt.Errorf("version %.20q is neither 2.1 nor 2.2", v)
	}
	sized := false
	for {
		word, args, ok := p.next()
		if !ok {
			return fmt.Errorf("the file ends before CHARS")
		}
		var err error
		switch string(word) {
		case "FONT":
			p.font.Name = string(args)
		case "SIZE":
			sized, err = true, p.size(args)
		case "SWIDTH":
			p.swidth, err = firstInt(args)
			p.haveS = true
		case "DWIDTH":
			p.dwidth, err = firstInt(args)
			p.haveD = true
		case "CHARS":
			if !sized {
				return fmt.Errorf("SIZE is missing before CHARS")
			}
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", word, err)
		}
	}
}

func (p *bdfParser) size(args []byte) error {
	f := bytes.Fields(args)
	if len(f) < 3 {
		return fmt.Errorf("needs points, x and y resolution")
	}
	var err error
	if p.font.Size, err = glyph.ParsePoints(string(f[0])); err != nil {
		return err
	}
	if p.font.DPI.X, err = glyph.ParseDPI(string(f[1])); err != nil {
		return err
	}
	if p.font.DPI.Y, err = glyph.ParseDPI(string(f[2])); err != nil {
		return err
	}
	if len(f) > 3 {
		n, err := strconv.Atoi(string(f[3]))
		if err != nil {
			return fmt.Errorf("bits per pixel %.20q is no number", f[3])
		}
		switch {
		case n > 4:
			p.font.Depth = 8
		case n > 2:
			p.font.Depth = 4
		case n > 1:
			p.font.Depth = 2
		}
	}
	return nil
}

// glyph reads one STARTCHAR to ENDCHAR; false at ENDFONT or the end of the file.
func (p *bdfParser) glyph() (bool, error) {
	word, args, ok := p.next()
	for ok && string(word) != "STARTCHAR" {
		if string(word) == "ENDFONT" {
			return false, nil
		}
		word, args, ok = p.next()
	}
	if !ok {
		return false, fmt.Errorf("the file ends before ENDFONT")
	}
	if len(p.font.Cells) >= maxBDFCells {
		return false, fmt.Errorf("more than %d glyphs", maxBDFCells)
	}
	key, err := UnescapeKey(string(args))
	if err != nil {
		return false, err
	}
	c := glyph.Cell{Ref: glyph.Ref{Key: key, Code: glyph.NoCode, Index: len(p.font.Cells)}, SWidth: p.swidth, Advance: p.dwidth}
	c.Bitmap.Depth = p.font.Depth
	haveS, haveD, haveBBX := p.haveS, p.haveD, false
	for {
		word, args, ok := p.next()
		if !ok {
			return false, fmt.Errorf("the file ends inside glyph %.40q", key)
		}
		switch string(word) {
		case "ENCODING":
			err = encoding(&c.Ref, args)
		case "SWIDTH":
			c.SWidth, err = firstInt(args)
			haveS = true
		case "DWIDTH":
			c.Advance, err = firstInt(args)
			haveD = true
		case "BBX":
			err = p.box(&c, args)
			haveBBX = true
		case "BITMAP":
			if !haveBBX {
				return false, fmt.Errorf("glyph %.40q has BITMAP before BBX", key)
			}
			p.rows(&c.Bitmap)
		case "ENDCHAR":
			if !haveBBX {
				return false, fmt.Errorf("glyph %.40q has no BBX", key)
			}
			p.widths(&c, haveS, haveD)
			nameRef(&c.Ref)
			c.Bitmap = c.Bitmap.Tight()
			p.font.Cells = append(p.font.Cells, c)
			return true, nil
		case "STARTCHAR", "ENDFONT":
			return false, fmt.Errorf("glyph %.40q has no ENDCHAR", key)
		}
		if err != nil {
			return false, fmt.Errorf("glyph %.40q: %s: %w", key, word, err)
		}
	}
}

// widths fills in whichever width the glyph leaves out, as FreeType does.
func (p *bdfParser) widths(c *glyph.Cell, haveS, haveD bool) {
	if !haveD {
		c.Advance = c.Bitmap.Width
	}
	if per := int64(p.font.Size) * int64(p.font.DPI.X); !haveS && per > 0 {
		c.SWidth = int(int64(c.Advance) * 72000 * 1_000_000 / per)
	}
}

// nameRef sets the name where the key is one and not a stand-in for one.
func nameRef(r *glyph.Ref) {
	if r.Key[0] != '#' && (len(r.Key) < 3 || r.Key[:2] != "U+") {
		r.Name = string(r.Key)
	}
}

func encoding(r *glyph.Ref, args []byte) error {
	f := bytes.Fields(args)
	if len(f) == 0 {
		return fmt.Errorf("no number")
	}
	n, err := strconv.Atoi(string(f[0]))
	if err != nil || n < -1 || n > 0x10FFFF {
		return fmt.Errorf("%.20q is no code point", f[0])
	}
	r.Code = rune(n)
	if n == -1 && len(f) > 1 {
		if i, err := strconv.Atoi(string(f[1])); err == nil && i >= 0 {
			r.Index = i
		}
	}
	return nil
}

func (p *bdfParser) box(c *glyph.Cell, args []byte) error {
	f := bytes.Fields(args)
	if len(f) < 4 {
		return fmt.Errorf("needs width, height, x and y offset")
	}
	var v [4]int
	for i := range v {
		n, err := strconv.Atoi(string(f[i]))
		if err != nil || n < -maxBDFSide || n > maxBDFSide || i < 2 && n < 0 {
			return fmt.Errorf("%.20q is out of range", f[i])
		}
		v[i] = n
	}
	rowBytes := (v[0]*p.font.Depth + 7) / 8
	if rowBytes*v[1] > len(p.rest) {
		return fmt.Errorf("a bitmap of %d × %d is larger than the rest of the file", v[0], v[1])
	}
	c.Bitmap = glyph.NewBitmap(v[2], v[3], v[0], v[1], p.font.Depth)
	return nil
}

// rows reads hex rows until there are enough or another line comes.
func (p *bdfParser) rows(b *glyph.Bitmap) {
	digits := (b.Width*b.Depth + 3) / 4
	for y := range b.Height {
		i := 0
		for i < len(p.rest) && hexValue[p.rest[i]] < 16 {
			i++
		}
		if i == 0 || bytes.HasPrefix(p.rest, []byte("ENDCHAR")) {
			return
		}
		row, line := b.Row(y), p.rest[:i]
		for j, d := range line[:min(i, digits)] {
			row[j/16] |= uint64(hexValue[d]) << (60 - 4*(j%16))
		}
		if b.Stride > 0 && b.Width*b.Depth%64 != 0 {
			row[b.Stride-1] &= ^uint64(0) << (64 - b.Width*b.Depth%64)
		}
		if end := bytes.IndexByte(p.rest[i:], '\n'); end >= 0 {
			p.rest = p.rest[i+end+1:]
		} else {
			p.rest = nil
		}
		p.line++
	}
}

func firstInt(args []byte) (int, error) {
	if i := bytes.IndexAny(args, " \t"); i >= 0 {
		args = args[:i]
	}
	n, err := strconv.Atoi(string(args))
	if err != nil || n < -1<<20 || n > 1<<20 {
		return 0, fmt.Errorf("%.20q is out of range", args)
	}
	return n, nil
}
