package diff_test

import (
	"strings"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

// drawn reads a glyph from rows of '#' and '.', top to bottom, its lower left
// corner at the origin; the advance is the width of the rows.
func drawn(art string) *glyph.Cell {
	rows := strings.Fields(art)
	c := &glyph.Cell{Bitmap: glyph.NewBitmap(0, 0, len(rows[0]), len(rows), 1), Advance: len(rows[0])}
	for i, row := range rows {
		for x, r := range row {
			if r == '#' {
				c.Bitmap.Set(x, len(rows)-1-i, 1)
			}
		}
	}
	return c
}

func at(dpi int) *diff.Judge {
	return diff.NewJudge(diff.Viewing{DPI: glyph.Dots(dpi), DistanceMM: 400})
}

func compare(j *diff.Judge, g, c *glyph.Cell) diff.Report {
	return j.Compare(diff.Pair{Golden: g, Candidate: c})
}

const (
	letterH = `
		##......##
		##......##
		##......##
		##......##
		##......##
		##########
		##......##
		##......##
		##......##
		##......##
		##......##
		##......##`
	letterE = `
		..######..
		.########.
		##......##
		##......##
		##########
		##########
		##........
		##........
		##......##
		.########.
		..######..`
	letterI = `
		.######.
		...##...
		...##...
		...##...
		...##...
		...##...
		...##...
		...##...
		...##...
		...##...
		.######.`
	letterX = `
		##........##
		.##......##.
		..##....##..
		...##..##...
		....####....
		.....##.....
		....####....
		...##..##...
		..##....##..
		.##......##.
		##........##`
	letterO = `
		....####....
		..########..
		.##......##.
		.##......##.
		##........##
		##........##
		##........##
		##........##
		.##......##.
		.##......##.
		..########..
		....####....`
	letterDotted = `
		###....
		###....
		###....
		.......
		.......
		###....
		###....
		###....
		###....
		###....
		###....
		###....`
	letterSlanted = `
		.....###
		.....###
		....###.
		....###.
		....###.
		...###..
		...###..
		..###...
		..###...
		..###...
		.###....
		.###....`
	letterHyphen = `
		##########
		##########`
)

// box changes every pixel of a half-open box of a copy.
func box(c *glyph.Cell, v uint8, x0, y0, x1, y1 int) *glyph.Cell {
	w, h := max(c.Bitmap.Right(), x1), max(c.Bitmap.Top(), y1)
	left, bottom := min(c.Bitmap.Left, x0), min(c.Bitmap.Bottom, y0)
	out := &glyph.Cell{Advance: c.Advance, Bitmap: glyph.NewBitmap(left, bottom, w-left, h-bottom, 1)}
	for y := bottom; y < h; y++ {
		for x := left; x < w; x++ {
			out.Bitmap.Set(x, y, c.Bitmap.At(x, y))
			if x >= x0 && x < x1 && y >= y0 && y < y1 {
				out.Bitmap.Set(x, y, v)
			}
		}
	}
	return out
}

func moved(c *glyph.Cell, dx, dy int) *glyph.Cell {
	out := *c
	out.Bitmap.Left += dx
	out.Bitmap.Bottom += dy
	return &out
}

// smeared draws every row a pixel longer to the right.
func smeared(c *glyph.Cell) *glyph.Cell {
	out := &glyph.Cell{Advance: c.Advance, Bitmap: glyph.NewBitmap(0, 0, c.Bitmap.Width+1, c.Bitmap.Height, 1)}
	for y := range c.Bitmap.Height {
		for x := range c.Bitmap.Width + 1 {
			out.Bitmap.Set(x, y, max(c.Bitmap.At(x, y), c.Bitmap.At(x-1, y)))
		}
	}
	return out
}

func blank() *glyph.Cell {
	c := drawn(letterH)
	c.Bitmap = glyph.NewBitmap(0, 0, 10, 12, 1)
	return c
}
