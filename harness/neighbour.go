package harness

import (
	"strings"

	"smokeproof/harness/glyph"
)

// besides are the characters that a changed glyph is set among: stems, rounds
// and diagonals enough for a word around any letter.
const besides = "aehinorstAEHINORST018"

func besideOthers(code rune) bool { return code > 0 && strings.ContainsRune(besides, code) }

func neighbours(cells []*glyph.Cell) []Neighbour {
	out := make([]Neighbour, 0, len(cells))
	for _, c := range cells {
		out = append(out, Neighbour{Glyph: string(c.Key), Code: int(c.Code), Picture: *packPicture(c)})
	}
	return out
}
