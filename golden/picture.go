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
	"strconv"

	"smokeproof/harness/glyph"
)

// A picture is one glyph alone. No picture format has a place for a glyph's
// origin and advance, so ours carry them where other programs look past them:
// PBM and PGM in a comment, "# left 1 bottom 0 advance 24"; PNG in the chunks
// oFFs (upper left corner from the origin, Y down, in pixels; PNG extensions
// 1.2) and tEXt ("Advance").

// WritePBM writes a cell's tight bitmap as a packed PBM (P4), or a grey one as
// PGM (P5).
func WritePBM(w io.Writer, c *glyph.Cell) error {
	t := c.Bitmap.Tight()
	var b bytes.Buffer
	kind := 4
	if t.Depth > 1 {
		kind = 5
	}
	fmt.Fprintf(&b, "P%d\n# left %d bottom %d advance %d\n%d %d\n", kind, t.Left, t.Bottom, c.Advance, t.Width, t.Height)
	if t.Depth > 1 {
		fmt.Fprintf(&b, "%d\n", t.Max())
		for y := t.Top() - 1; y >= t.Bottom; y-- {
			for x := t.Left; x < t.Right(); x++ {
				b.WriteByte(t.Max() - t.At(x, y)) // PGM: 0 is black
			}
		}
	} else {
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
// device's resolution in pixels per metre. A glyph without ink is one white pixel.
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
	out = AppendPHYs(out, r)
	place := binary.BigEndian.AppendUint32(nil, uint32(int32(t.Left)))
	place = binary.BigEndian.AppendUint32(place, uint32(int32(-t.Top())))
	out = appendChunk(out, "oFFs", append(place, 0)) // unit: pixel
	out = appendChunk(out, "tEXt", []byte("Advance\x00"+strconv.Itoa(c.Advance)))
	_, err := w.Write(append(out, b.Bytes()[afterIHDR:]...))
	return err
}

// AppendPHYs adds the physical size chunk (W3C PNG 11.3.5.3): x, y, unit metre.
func AppendPHYs(p []byte, r glyph.Resolution) []byte {
	var data []byte
	for _, d := range []glyph.DPI{r.X, r.Y} {
		data = binary.BigEndian.AppendUint32(data, uint32((int64(d)*10+127)/254)) // thousandths of a dpi / 25.4 mm
	}
	return appendChunk(p, "pHYs", append(data, 1))
}

func appendChunk(p []byte, kind string, data []byte) []byte {
	p = binary.BigEndian.AppendUint32(p, uint32(len(data)))
	body := append([]byte(kind), data...)
	p = append(p, body...)
	return binary.BigEndian.AppendUint32(p, crc32.ChecksumIEEE(body))
}
