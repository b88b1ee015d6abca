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
