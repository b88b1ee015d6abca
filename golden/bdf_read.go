package golden

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

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
// BBX; short rows are filled with zeros, long ones cut, and Font.Ragged tells.
// Bitmaps come out tight. A glyph's Ref has its key and its code, unless
// CHARSET_REGISTRY says that codes are not Unicode; its index is what ENCODING
// -1 gives, else its place in the file.
func ReadBDF(r io.Reader) (*Font, error) {
	data, err := readBounded(r, maxBDF)
	if err != nil {
		return nil, err
	}
	return ParseBDF(data)
}

// readBounded reads all, and refuses what is longer than most when it has read one byte more.
func readBounded(r io.Reader, most int) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, int64(most)+1))
	if err != nil {
		return nil, err
	}
	return data, bounded(data, most)
}

func bounded(data []byte, most int) error {
	if len(data) > most {
		return fmt.Errorf("%w: more than %d bytes; split the font", ErrUnsupported, most)
	}
	return nil
}

// ParseBDF is ReadBDF of a document in memory.
func ParseBDF(data []byte) (*Font, error) {
	if err := bounded(data, maxBDF); err != nil {
		return nil, err
	}
	p := bdfParser{lines: bdfLines{text: data}, font: &Font{Depth: 1}, unicode: true}
	if err := p.header(); err != nil {
		return nil, p.at(err)
	}
	for {
		more, err := p.glyph()
		if err != nil {
			return nil, p.at(err)
		}
		if !more {
			p.name()
			return p.font, nil
		}
	}
}

// bdfParser turns lines into a font. Names and bitmaps of many glyphs share one
// allocation each: a strike is loaded at the speed of the disk, not of malloc.
type bdfParser struct {
	lines        bdfLines
	font         *Font
	unicode      bool // codes are Unicode
	swidth       int  // global ones of 2.2
	dwidth       int
	haveS, haveD bool
	names        []byte
	nameEnds     []int
	words        []uint64
	used         int // of words
}

func (p *bdfParser) at(err error) error {
	if errors.Is(err, ErrUnsupported) {
		return fmt.Errorf("line %d: %w", p.lines.number, err)
	}
	return fmt.Errorf("%w: line %d: %w", ErrInvalid, p.lines.number, advised(err, "correct the file"))
}

func (p *bdfParser) header() error {
	word, args, ok := p.lines.next()
	first := strings.TrimSpace(string(word) + " " + string(args))
	if strings.HasPrefix(first, pointerMagic) {
		return errPointer
	}
	if !ok || string(word) != "STARTFONT" {
		return fmt.Errorf("a BDF font begins with STARTFONT, not %.40q", first)
	}
	if v := string(args); v != "2.1" && v != "2.2" {
		return fmt.Errorf("%w: version %.20q is neither 2.1 nor 2.2", ErrUnsupported, v)
	}
	sized := false
	for {
		word, args, ok := p.lines.next()
		if !ok {
			return errors.New("the file ends before CHARS")
		}
		var err error
		switch string(word) {
		case "FONT":
			p.font.Name = string(appendUnescaped(nil, args))
		case "SIZE":
			sized, err = true, p.size(args)
		case "SWIDTH":
			p.swidth, err = firstInt(args)
			p.haveS = true
		case "DWIDTH":
			p.dwidth, err = firstInt(args)
			p.haveD = true
		case "STARTPROPERTIES":
			p.properties()
		case "CHARS":
			if !sized {
				return errors.New("SIZE is missing before CHARS")
			}
			if n, _, ok := leadingInt(args); ok && n > 0 {
				const least = 40 // bytes that a glyph takes at least
				p.font.Cells = make([]glyph.Cell, 0, min(n, p.lines.left()/least))
			}
			return nil
		case "<<<<<<<", "=======", ">>>>>>>":
			return errConflict
		}
		if err != nil {
			return fmt.Errorf("%s: %w", word, err)
		}
	}
}

func (p *bdfParser) size(args []byte) error {
	f := bytes.Fields(args)
	if len(f) < 3 {
		return errors.New("needs points, x and y resolution")
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
		n, _, ok := leadingInt(f[3])
		if !ok {
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

// properties looks for the character set, and skips the rest.
func (p *bdfParser) properties() {
	registry, encoding := "", ""
	for {
		word, args, ok := p.lines.next()
		if !ok || string(word) == "ENDPROPERTIES" {
			break
		}
		switch string(word) {
		case "CHARSET_REGISTRY":
			registry = strings.Trim(string(args), `"`)
		case "CHARSET_ENCODING":
			encoding = strings.Trim(string(args), `"`)
		}
	}
	p.unicode = registry == "" || unicodeCharset(registry, encoding)
}

// unicodeCharset says that codes of an X character set are Unicode: ISO 10646,
// or ISO 8859-1, which is its start.
func unicodeCharset(registry, encoding string) bool {
	return strings.EqualFold(registry, "ISO10646") || strings.EqualFold(registry, "ISO8859") && encoding == "1"
}

// glyph reads one STARTCHAR to ENDCHAR; false at ENDFONT.
func (p *bdfParser) glyph() (bool, error) {
	word, args, ok := p.lines.next()
	for ok && string(word) != "STARTCHAR" {
		switch string(word) {
		case "ENDFONT":
			return false, nil
		case "<<<<<<<", "=======", ">>>>>>>":
			return false, errConflict
		}
		word, args, ok = p.lines.next()
	}
	if !ok {
		return false, errors.New("the file ends before ENDFONT")
	}
	if len(p.font.Cells) >= maxBDFCells {
		return false, fmt.Errorf("more than %d glyphs", maxBDFCells)
	}
	if len(args) == 0 {
		return false, errEmptyKey
	}
	p.names = appendUnescaped(p.names, args)
	p.nameEnds = append(p.nameEnds, len(p.names))
	p.font.Cells = append(p.font.Cells, glyph.Cell{
		Ref: glyph.Ref{Code: glyph.NoCode, Index: len(p.font.Cells)}, SWidth: p.swidth, Advance: p.dwidth, Bitmap: glyph.Bitmap{Depth: p.font.Depth},
	})
	if err := p.cell(&p.font.Cells[len(p.font.Cells)-1], args); err != nil {
		return false, fmt.Errorf("glyph %.40q: %w", args, err)
	}
	return true, nil
}

// cell reads what follows STARTCHAR.
func (p *bdfParser) cell(c *glyph.Cell, name []byte) error {
	haveS, haveD, haveBBX, rows, amiss := p.haveS, p.haveD, false, false, ""
	for {
		word, args, ok := p.lines.next()
		if !ok {
			return errors.New("the file ends inside it")
		}
		var err error
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
			err = p.box(c, args)
			haveBBX = true
		case "BITMAP":
			if !haveBBX {
				return errors.New("BITMAP stands before BBX")
			}
			amiss, rows = p.lines.rows(&c.Bitmap), c.Bitmap.Width > 0
		case "ENDCHAR":
			if !haveBBX {
				return errors.New("it has no BBX")
			}
			if !haveD && amiss == "" {
				amiss = "it has no DWIDTH, which is its advance"
			}
			p.widths(c, haveS, haveD)
			if !p.unicode {
				c.Code = glyph.NoCode
			}
			if amiss != "" && p.font.Ragged == "" {
				p.font.Ragged = fmt.Sprintf("glyph %.40q: %s", name, amiss)
			}
			if c.Bitmap.Trim(); len(c.Bitmap.Words) == 0 {
				c.Bitmap.Words = nil
			}
			return nil
		case "STARTCHAR", "ENDFONT":
			return errors.New("it has no ENDCHAR")
		case "<<<<<<<", "=======", ">>>>>>>":
			return errConflict
		default:
			if rows && amiss == "" {
				amiss = fmt.Sprintf("%.40q follows its %d rows, not ENDCHAR", word, c.Bitmap.Height)
			}
		}
		if err != nil {
			return fmt.Errorf("%s: %w", word, err)
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

// name hands each glyph its key, all cut from one string.
func (p *bdfParser) name() {
	all, from := string(p.names), 0
	for i, to := range p.nameEnds {
		p.font.Cells[i].Key = glyph.Key(all[from:to])
		nameRef(&p.font.Cells[i].Ref)
		from = to
	}
}

// nameRef sets the name where the key is one and not a stand-in for one.
func nameRef(r *glyph.Ref) {
	if r.Key[0] != '#' && (len(r.Key) < 3 || r.Key[:2] != "U+") {
		r.Name = string(r.Key)
	}
}

func encoding(r *glyph.Ref, args []byte) error {
	n, rest, ok := leadingInt(args)
	if !ok || n < -1 || n > 0x10FFFF {
		return fmt.Errorf("%.20q is no code point", args)
	}
	r.Code = rune(n)
	if i, _, ok := leadingInt(rest); ok && n == -1 && i >= 0 {
		r.Index = i
	}
	return nil
}

func (p *bdfParser) box(c *glyph.Cell, args []byte) error {
	var v [4]int
	rest, ok := args, false
	for i := range v {
		if v[i], rest, ok = leadingInt(rest); !ok || v[i] < -maxBDFSide || v[i] > maxBDFSide || i < 2 && v[i] < 0 {
			return fmt.Errorf("%.40q is not width, height, x and y offset within %d", args, maxBDFSide)
		}
	}
	if rowBytes := (v[0]*p.font.Depth + 7) / 8; rowBytes*v[1] > p.lines.left() {
		return fmt.Errorf("a bitmap of %d × %d is larger than the rest of the file", v[0], v[1])
	}
	stride := (v[0]*p.font.Depth + 63) / 64
	c.Bitmap = glyph.Bitmap{Width: v[0], Height: v[1], Left: v[2], Bottom: v[3], Depth: p.font.Depth, Stride: stride, Words: p.take(stride * v[1])}
	return nil
}

// take cuts zeroed words from a block that many bitmaps share.
func (p *bdfParser) take(n int) []uint64 {
	if n > len(p.words)-p.used {
		p.words, p.used = make([]uint64, max(n, min(1<<13, p.lines.left()/8+1))), 0
	}
	p.used += n
	return p.words[p.used-n : p.used : p.used]
}
