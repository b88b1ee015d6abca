package golden

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"

	"smokeproof/harness/glyph"
)

// WriteArt draws a cell in text: a line with its name, origin and advance, then
// rows top to bottom, '#' for ink and '.' for none; grey by the digits 1 to 9.
func WriteArt(w io.Writer, c *glyph.Cell) error {
	t := c.Bitmap.Tight()
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s left %d bottom %d advance %d\n", EscapeKey(c.Key), t.Left, t.Bottom, c.Advance)
	for y := t.Top() - 1; y >= t.Bottom; y-- {
		for x := t.Left; x < t.Right(); x++ {
			b.WriteByte(artInk(t.At(x, y), t.Max()))
		}
		b.WriteByte('\n')
	}
	_, err := w.Write(b.Bytes())
	return err
}

func artInk(v, full uint8) byte {
	switch v {
	case 0:
		return '.'
	case full:
		return '#'
	}
	return '1' + byte(int(v)*9/(int(full)+1))
}

// WritePBM writes a cell's tight bitmap as a packed PBM (P4), or a grey one as
// PGM (P5).
func WritePBM(w io.Writer, c *glyph.Cell) error {
	t := c.Bitmap.Tight()
	var b bytes.Buffer
	if t.Depth > 1 {
		fmt.Fprintf(&b, "P5\n%d %d\n%d\n", t.Width, t.Height, t.Max())
		for y := t.Top() - 1; y >= t.Bottom; y-- {
			for x := t.Left; x < t.Right(); x++ {
				b.WriteByte(t.Max() - t.At(x, y)) // PGM: 0 is black
			}
		}
	} else {
		fmt.Fprintf(&b, "P4\n%d %d\n", t.Width, t.Height)
		for y := range t.Height {
			for i := range (t.Width + 7) / 8 {
				b.WriteByte(byte(t.Row(y)[i/8] >> (56 - 8*(i%8))))
			}
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

// WritePNG writes a cell's tight bitmap as a PNG whose pHYs chunk gives the
// device's resolution in pixels per metre.
func WritePNG(w io.Writer, c *glyph.Cell, r glyph.Resolution) error {
	t := c.Bitmap.Tight()
	steps := 1 << t.Depth
	palette := make(color.Palette, steps)
	for i := range palette {
		palette[i] = color.Gray{Y: 255 - uint8(i*255/(steps-1))}
	}
	img := image.NewPaletted(image.Rect(0, 0, max(t.Width, 1), max(t.Height, 1)), palette)
	for y := range t.Height {
		for x := range t.Width {
			img.SetColorIndex(x, y, t.At(t.Left+x, t.Top()-1-y))
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return err
	}
	const afterIHDR = 8 + 25
	out := append([]byte(nil), b.Bytes()[:afterIHDR]...)
	out = appendPHYs(out, r)
	_, err := w.Write(append(out, b.Bytes()[afterIHDR:]...))
	return err
}

// appendPHYs adds the physical size chunk (W3C PNG 11.3.5.3): x, y, unit metre.
func appendPHYs(p []byte, r glyph.Resolution) []byte {
	chunk := []byte("pHYs")
	for _, d := range []glyph.DPI{r.X, r.Y} {
		chunk = binary.BigEndian.AppendUint32(chunk, uint32((int64(d)*10+127)/254)) // thousandths of a dpi / 25.4 mm
	}
	chunk = append(chunk, 1)
	p = binary.BigEndian.AppendUint32(p, uint32(len(chunk)-4))
	p = append(p, chunk...)
	return binary.BigEndian.AppendUint32(p, crc32.ChecksumIEEE(chunk))
}
