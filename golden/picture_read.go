package golden

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image/color"
	"image/png"
	"strconv"

	"smokeproof/harness/glyph"
)

// Picture is one glyph's image, read from a file.
type Picture struct {
	Bitmap  glyph.Bitmap // tight; about the origin where Placed, else about the image's lower left corner
	Advance int
	Placed  bool // the file told origin and advance, as ours do
}

// ParsePicture reads a PBM (P1, P4), PGM (P2, P5) or PNG image of one glyph,
// dark on light, for a device of so many bits per pixel. On a bilevel device a
// picture of anything but black and white is an error.
func ParsePicture(data []byte, depth int) (*Picture, error) {
	var p *Picture
	var err error
	switch {
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		p, err = parsePNG(data, depth)
	case len(data) > 2 && data[0] == 'P' && bytes.IndexByte([]byte("1245"), data[1]) >= 0:
		n := netpbm{data: data, pos: 2, kind: data[1]}
		p, err = n.picture(depth)
	default:
		return nil, fmt.Errorf("%w: a picture begins neither as PNG nor as PBM or PGM; convert it", ErrUnsupported)
	}
	if err != nil {
		return nil, fmt.Errorf("%w: picture: %w; correct the file", ErrInvalid, err)
	}
	return p, nil
}

var errNotBilevel = errors.New("it has grey pixels and the device is bilevel")

// ink sets one sample from a level of 0, white, to full, black.
func ink(b *glyph.Bitmap, col, row, level, full int) error {
	if b.Depth == 1 && level != 0 && level != full {
		return errNotBilevel
	}
	b.Set(b.Left+col, b.Top()-1-row, uint8((level*int(b.Max())+full/2)/full))
	return nil
}

func (p *Picture) finish() *Picture {
	p.Bitmap = p.Bitmap.Tight()
	return p
}

// Limits on a PNG picture, which declares its size and may be packed to nothing.
const (
	maxPicture   = 1 << 24 // pixels: a glyph of 72 pt at 2400 dpi has 5.8 million
	maxInflation = 1032    // bytes that a byte of deflate gives at most (RFC 1951)
)

func parsePNG(data []byte, depth int) (*Picture, error) {
	head, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	if head.Width > maxBDFSide || head.Height > maxBDFSide || head.Width*head.Height > min(maxPicture, maxInflation*len(data)*8) {
		return nil, fmt.Errorf("%d × %d is too large for a glyph", head.Width, head.Height)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	box := img.Bounds()
	p := &Picture{Bitmap: glyph.NewBitmap(0, 0, box.Dx(), box.Dy(), depth)}
	p.pngPlace(data)
	for y := range box.Dy() {
		for x := range box.Dx() {
			r, g, b, a := img.At(box.Min.X+x, box.Min.Y+y).RGBA()
			over := 0xFFFF - a // what is transparent is paper
			grey := color.Gray16Model.Convert(color.RGBA64{R: uint16(r + over), G: uint16(g + over), B: uint16(b + over), A: 0xFFFF})
			if err := ink(&p.Bitmap, x, y, 255-int(grey.(color.Gray16).Y>>8), 255); err != nil {
				return nil, err
			}
		}
	}
	return p.finish(), nil
}

// pngPlace looks for the chunks that tell origin and advance.
func (p *Picture) pngPlace(data []byte) {
	placed, advanced := false, false
	for at := 8; at+12 <= len(data); {
		n := int(binary.BigEndian.Uint32(data[at:]))
		if n > len(data)-at-12 {
			break
		}
		body := data[at+8 : at+8+n]
		switch string(data[at+4 : at+8]) {
		case "oFFs":
			if n == 9 && body[8] == 0 {
				left, down := int(int32(binary.BigEndian.Uint32(body))), int(int32(binary.BigEndian.Uint32(body[4:])))
				if max(left, -left, down, -down) <= maxBDFSide {
					p.Bitmap.Left, p.Bitmap.Bottom, placed = left, -down-p.Bitmap.Height, true
				}
			}
		case "tEXt":
			if word, value, ok := bytes.Cut(body, []byte{0}); ok && string(word) == "Advance" {
				v, err := strconv.Atoi(string(value))
				if err == nil && max(v, -v) <= maxBDFSide {
					p.Advance, advanced = v, true
				}
			}
		}
		at += 12 + n
	}
	p.Placed = placed && advanced
}

// netpbm reads the two families of Netpbm that glyphs come in (netpbm manual
// pages pbm, pgm).
type netpbm struct {
	data  []byte
	pos   int
	kind  byte // '1' and '4' PBM, '2' and '5' PGM; '1' and '2' in decimal text
	place Picture
}

func (n *netpbm) picture(depth int) (*Picture, error) {
	width, height, full := n.number(), n.number(), 1
	if n.kind == '2' || n.kind == '5' {
		full = n.number()
	}
	if n.kind == '4' || n.kind == '5' {
		n.pos++ // one white space, then the samples
	}
	if width < 0 || height < 0 || full < 1 || full > 65535 {
		return nil, errors.New("the header is incomplete")
	}
	if width > maxBDFSide || height > maxBDFSide || width*height > 8*len(n.data) {
		return nil, fmt.Errorf("%d × %d is larger than the file", width, height)
	}
	p := n.place
	p.Bitmap = glyph.NewBitmap(p.Bitmap.Left, p.Bitmap.Bottom, width, height, depth)
	for y := range height {
		for x := range width {
			v, ok := n.sample(x, y, width, full)
			if !ok {
				return nil, fmt.Errorf("row %d: the samples end too early, or one is out of range", y+1)
			}
			if err := ink(&p.Bitmap, x, y, v, full); err != nil {
				return nil, err
			}
		}
	}
	return p.finish(), nil
}

// sample gives the ink of a pixel, 0 to full.
func (n *netpbm) sample(x, y, width, full int) (int, bool) {
	at, v := 0, -1
	switch n.kind {
	case '1':
		n.space()
		if n.pos < len(n.data) {
			v = int(n.data[n.pos] - '0')
			n.pos++
		}
		return v, v == 0 || v == 1
	case '2':
		v = n.number()
		return full - v, v >= 0 && v <= full
	case '4':
		if at = n.pos + y*((width+7)/8) + x/8; at < len(n.data) {
			return int(n.data[at] >> (7 - x%8) & 1), true
		}
		return 0, false
	}
	at = n.pos + y*width + x
	if full < 256 {
		if at < len(n.data) {
			v = int(n.data[at])
		}
	} else if at = n.pos + 2*(y*width+x); at+1 < len(n.data) {
		v = int(binary.BigEndian.Uint16(n.data[at:]))
	}
	return full - v, v >= 0 && v <= full
}

// space skips white space and comments; a comment of ours tells the place.
func (n *netpbm) space() {
	for n.pos < len(n.data) {
		switch n.data[n.pos] {
		case ' ', '\t', '\n', '\r', '\v', '\f':
			n.pos++
		case '#':
			line, _, _ := bytes.Cut(n.data[n.pos:], []byte{'\n'})
			n.pos += len(line)
			n.comment(line)
		default:
			return
		}
	}
}

func (n *netpbm) comment(line []byte) {
	var left, bottom, advance int
	if _, err := fmt.Sscanf(string(line), "# left %d bottom %d advance %d", &left, &bottom, &advance); err != nil {
		return
	}
	if max(left, -left, bottom, -bottom, advance, -advance) <= maxBDFSide {
		n.place = Picture{Bitmap: glyph.Bitmap{Left: left, Bottom: bottom}, Advance: advance, Placed: true}
	}
}

// number reads a decimal number behind white space; -1 where there is none.
func (n *netpbm) number() int {
	n.space()
	v, from := 0, n.pos
	for n.pos < len(n.data) && n.data[n.pos]-'0' < 10 && v < 1<<20 {
		v = v*10 + int(n.data[n.pos]-'0')
		n.pos++
	}
	if n.pos == from {
		return -1
	}
	return v
}
