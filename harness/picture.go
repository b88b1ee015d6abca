package harness

import (
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"strings"

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

// svgPath writes an outline as an SVG path in 1/64 px, Y up.
func svgPath(o *glyph.Outline) string {
	var sb strings.Builder
	start := 0
	for _, end := range o.Ends {
		svgContour(&sb, o.Points[start:end+1])
		start = end + 1
	}
	return sb.String()
}

// svgContour writes one closed contour. Where two quadratic controls meet, the
// on-curve point half-way between them is implied.
func svgContour(sb *strings.Builder, ps []glyph.Point) {
	if len(ps) < 2 {
		return
	}
	first := 0
	for first < len(ps) && ps[first].Kind != glyph.OnCurve {
		first++
	}
	at := func(i int) glyph.Point { return ps[(first+i)%len(ps)] }
	from := at(0)
	if first == len(ps) { // controls only
		from = middle(ps[len(ps)-1], ps[0])
		fmt.Fprintf(sb, "M%d %d", from.X, from.Y)
		for i := range ps {
			quadTo(sb, at(i), at(i+1))
		}
		sb.WriteString("Z")
		return
	}
	fmt.Fprintf(sb, "M%d %d", from.X, from.Y)
	for i := 1; i <= len(ps); i++ {
		switch p := at(i); p.Kind {
		case glyph.OnCurve:
			fmt.Fprintf(sb, "L%d %d", p.X, p.Y)
		case glyph.Quad:
			quadTo(sb, p, at(i+1))
			if at(i+1).Kind == glyph.OnCurve {
				i++
			}
		case glyph.Cubic:
			q, r := at(i+1), at(i+2)
			fmt.Fprintf(sb, "C%d %d %d %d %d %d", p.X, p.Y, q.X, q.Y, r.X, r.Y)
			i += 2
		}
	}
	sb.WriteString("Z")
}

func quadTo(sb *strings.Builder, control, next glyph.Point) {
	to := next
	if next.Kind == glyph.Quad {
		to = middle(control, next)
	}
	fmt.Fprintf(sb, "Q%d %d %d %d", control.X, control.Y, to.X, to.Y)
}

func middle(a, b glyph.Point) glyph.Point {
	return glyph.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
}
