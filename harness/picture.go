package harness

import (
	"encoding/base64"
	"encoding/binary"
	"fmt"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

// packPicture writes a cell for results.json; nil stays nil.
func packPicture(c *glyph.Cell) *Picture {
	if c == nil {
		return nil
	}
	b := c.Bitmap.Tight()
	bytesPerRow := (b.Width*b.Depth + 7) / 8
	rows := make([]byte, 0, bytesPerRow*b.Height)
	var word [8]byte
	for y := range b.Height {
		left := bytesPerRow
		for _, w := range b.Row(y) {
			binary.BigEndian.PutUint64(word[:], w)
			n := min(left, 8)
			rows = append(rows, word[:n]...)
			left -= n
		}
	}
	return &Picture{
		Left: b.Left, Bottom: b.Bottom, Width: b.Width, Height: b.Height,
		Depth: b.Depth, Advance: c.Advance, Rows: base64.StdEncoding.EncodeToString(rows),
	}
}

// Unpack turns a picture back into a bitmap.
func (p *Picture) Unpack() (glyph.Bitmap, error) {
	if !p.sound() {
		return glyph.Bitmap{}, fmt.Errorf("picture of %d × %d, depth %d, is out of range", p.Width, p.Height, p.Depth)
	}
	rows, err := base64.StdEncoding.DecodeString(p.Rows)
	bytesPerRow := (p.Width*p.Depth + 7) / 8
	if err != nil || len(rows) != bytesPerRow*p.Height {
		return glyph.Bitmap{}, fmt.Errorf("picture of %d × %d does not fit its rows", p.Width, p.Height)
	}
	b := glyph.NewBitmap(p.Left, p.Bottom, p.Width, p.Height, p.Depth)
	for y := range b.Height {
		for i, v := range rows[y*bytesPerRow : (y+1)*bytesPerRow] {
			b.Row(y)[i/8] |= uint64(v) << (56 - 8*(i%8))
		}
	}
	return b, nil
}

func packWeights(m diff.WeightMap) *Weights {
	top := 0.0
	for _, w := range m.W {
		top = max(top, w)
	}
	if top == 0 {
		return nil
	}
	b := make([]byte, len(m.W))
	for i, w := range m.W {
		b[i] = byte(w/top*255 + 0.5)
	}
	return &Weights{Left: m.Left, Bottom: m.Bottom, Width: m.Width, Height: m.Height, Scale: top / 255, Bytes: base64.StdEncoding.EncodeToString(b)}
}
