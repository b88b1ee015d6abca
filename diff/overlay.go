package diff

import (
	"fmt"
	"strings"

	"smokeproof/harness/glyph"
)

// maxOverlay bounds a picture in pixels, each a character: a drawing that an outline or a
// worker made too large, or threw too far, would fill logs and disks.
const maxOverlay = 1 << 16 // 72 pt at 200 dpi have 40,000

// Overlay draws golden and candidate over each other about the origin, rows top to bottom:
// '#' stays, '-' is ink lost, '+' ink gained, '.' none; in grey, ink is half coverage and
// more. Of what is too large its one row tells the size.
func Overlay(golden, candidate *glyph.Bitmap) []string {
	x0, y0 := min(golden.Left, candidate.Left), min(golden.Bottom, candidate.Bottom)
	x1, y1 := max(golden.Right(), candidate.Right()), max(golden.Top(), candidate.Top())
	for _, b := range [...][2]*glyph.Bitmap{{golden, candidate}, {candidate, golden}} {
		if b[0].Width == 0 || b[0].Height == 0 { // a box without pixels has no place
			x0, y0, x1, y1 = b[1].Left, b[1].Bottom, b[1].Right(), b[1].Top()
		}
	}
	if w, h := x1-x0, y1-y0; w > 0 && h > 0 && w > maxOverlay/h {
		return []string{fmt.Sprintf("(%d × %d pixels: too large to show here)", w, h)}
	}
	inked := func(b *glyph.Bitmap, x, y int) bool { return b.At(x, y) > b.Max()/2 }
	var rows []string
	for y := y1 - 1; y >= y0; y-- {
		var sb strings.Builder
		for x := x0; x < x1; x++ {
			i := 0
			if inked(golden, x, y) {
				i |= 1
			}
			if inked(candidate, x, y) {
				i |= 2
			}
			sb.WriteByte(".-+#"[i])
		}
		rows = append(rows, sb.String())
	}
	return rows
}
