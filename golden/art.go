package golden

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"smokeproof/harness/glyph"
)

// Art is a glyph in text: a line with its name, origin and advance, then rows
// top to bottom, '.' for no ink and '#' for full ink. Grey samples are hex
// digits, one for each pixel up to 4 bits, two at 8:
//
//	e left 1 bottom 0 advance 5
//	.##.
//	####
//	#...
//	.##.
//
// Bottom is the row of the last line, Y up: 0 stands on the baseline.

// WriteArt draws a cell in text.
func WriteArt(w io.Writer, c *glyph.Cell) error {
	t := c.Bitmap.Tight()
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s left %d bottom %d advance %d", EscapeKey(c.Key), t.Left, t.Bottom, c.Advance)
	if t.Depth > 1 {
		fmt.Fprintf(&b, " depth %d", t.Depth)
	}
	b.WriteByte('\n')
	for y := t.Top() - 1; y >= t.Bottom; y-- {
		for x := t.Left; x < t.Right(); x++ {
			switch v := t.At(x, y); {
			case v == 0:
				b.WriteString(".."[:artWidth(t.Depth)])
			case v == t.Max():
				b.WriteString("##"[:artWidth(t.Depth)])
			default:
				fmt.Fprintf(&b, "%0*x", artWidth(t.Depth), v)
			}
		}
		b.WriteByte('\n')
	}
	_, err := w.Write(b.Bytes())
	return err
}

// artWidth is how many characters a pixel takes.
func artWidth(depth int) int {
	if depth > 4 {
		return 2
	}
	return 1
}

// maxArtLine bounds a row of art in bytes: two for each pixel of the widest glyph.
const maxArtLine = 2*maxBDFSide + 2

// ReadArt reads what WriteArt writes, changed by hand or not, any number of
// glyphs. Short rows are filled up, blanks count as '.', and an empty line
// between rows is an empty row; lines that begin with ';' are skipped.
func ReadArt(r io.Reader) ([]glyph.Cell, error) {
	p := artParser{in: bufio.NewScanner(r)}
	p.in.Buffer(nil, maxArtLine)
	if err := p.read(); err != nil {
		return nil, fmt.Errorf("%w: line %d: %w; correct the file", ErrInvalid, p.line, err)
	}
	return p.cells, nil
}

type artParser struct {
	in    *bufio.Scanner
	line  int
	cells []glyph.Cell
	rows  []string // of the last cell
	blank int      // empty lines since the last row
}

func (p *artParser) read() error {
	for p.in.Scan() {
		p.line++
		t := strings.TrimRight(p.in.Text(), " \t\r")
		switch f := strings.Fields(t); {
		case len(f) == 0:
			p.blank++
		case t[0] == ';':
		case len(f) >= 7 && f[1] == "left":
			if err := p.finish(); err != nil {
				return err
			}
			if err := p.begin(f); err != nil {
				return err
			}
		case len(p.cells) == 0:
			return errors.New("expected a glyph's first line, as: A left 1 bottom 0 advance 12")
		case len(p.rows)+p.blank >= maxBDFSide:
			return fmt.Errorf("the glyph has more than %d rows", maxBDFSide)
		default:
			if len(p.rows) > 0 {
				p.rows = append(p.rows, make([]string, p.blank)...)
			}
			p.rows, p.blank = append(p.rows, t), 0
		}
	}
	if err := p.in.Err(); err != nil {
		return err
	}
	return p.finish()
}

func (p *artParser) begin(f []string) error {
	key, err := UnescapeKey(f[0])
	if err != nil {
		return err
	}
	c := glyph.Cell{Ref: glyph.Ref{Key: key, Code: glyph.NoCode, Index: len(p.cells)}}
	nameRef(&c.Ref)
	c.Bitmap.Depth = 1
	for i := 1; i+1 < len(f); i += 2 {
		n, err := firstInt([]byte(f[i+1]))
		if err != nil {
			return fmt.Errorf("%s %w", f[i], err)
		}
		switch f[i] {
		case "left":
			c.Bitmap.Left = n
		case "bottom":
			c.Bitmap.Bottom = n
		case "advance":
			c.Advance = n
		case "depth":
			if n != 1 && n != 2 && n != 4 && n != 8 {
				return fmt.Errorf("depth %d is none of 1, 2, 4, 8", n)
			}
			c.Bitmap.Depth = n
		default:
			return fmt.Errorf("%q is none of left, bottom, advance, depth", f[i])
		}
	}
	if len(f)%2 == 0 {
		return fmt.Errorf("%q has no number", f[len(f)-1])
	}
	p.cells = append(p.cells, c)
	return nil
}

// finish turns the rows of the last cell into its bitmap.
func (p *artParser) finish() error {
	if len(p.cells) == 0 {
		return nil
	}
	c := &p.cells[len(p.cells)-1]
	depth, each, width := c.Bitmap.Depth, artWidth(c.Bitmap.Depth), 0
	for _, r := range p.rows {
		width = max(width, (len(r)+each-1)/each)
	}
	b := glyph.NewBitmap(c.Bitmap.Left, c.Bitmap.Bottom, width, len(p.rows), depth)
	for i, r := range p.rows {
		for x := 0; x*each < len(r); x++ {
			v, err := artInk(r[x*each:min((x+1)*each, len(r))], b.Max())
			if err != nil {
				return fmt.Errorf("glyph %s, row %d, column %d: %w", c.Key, i+1, x+1, err)
			}
			b.Set(b.Left+x, b.Top()-1-i, v)
		}
	}
	c.Bitmap, p.rows, p.blank = b.Tight(), nil, 0
	return nil
}

func artInk(s string, full uint8) (uint8, error) {
	switch strings.TrimSpace(s) {
	case "", ".", "..":
		return 0, nil
	case "#", "##":
		return full, nil
	}
	v := 0
	for i := range len(s) {
		d := hexValue[s[i]]
		if d > 15 {
			v = 1 << 8
			break
		}
		v = v<<4 | int(d)
	}
	if v > int(full) || full == 1 {
		return 0, fmt.Errorf("%q is no ink; use '.' for none and '#' for full", s)
	}
	return uint8(v), nil
}
