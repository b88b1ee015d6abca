package harness

import (
	"fmt"
	"strings"

	"smokeproof/harness/glyph"
)

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
