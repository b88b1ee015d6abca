package harness

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestOfAWholeFaceWhatReadersMeetMostComesFirst(t *testing.T) {
	list := []Change{
		{Glyph: "hyphen", Code: '-', Severity: "major", Score: 9},
		{Glyph: "n", Code: 'n', Severity: "major", Score: 1},
		{Glyph: "ligature", Code: -1, Severity: "critical", Score: 9},
		{Glyph: "shade", Code: 0x2591, Severity: "critical", Score: 8},
		{Glyph: "percent", Code: '%', Severity: "critical", Score: 3},
		{Glyph: "thorn", Code: 'þ', Severity: "critical", Score: 4},
		{Glyph: "h", Code: 'h', Severity: "critical", Score: 1},
		{Glyph: "7", Code: '7', Severity: "critical", Score: 2},
	}
	order := func(status string) (names []string) {
		for i := range list {
			list[i].Status = status
		}
		sortWorstFirst(list)
		for i := range list {
			names = append(names, list[i].Glyph)
		}
		return names
	}
	require.Equal(t, []string{"7", "h", "thorn", "percent", "ligature", "shade", "n", "hyphen"}, order("looked"),
		"within a class letters and figures of ASCII, other letters and signs of ASCII, the rest; each by score")
	require.Equal(t, []string{"ligature", "shade", "thorn", "percent", "7", "h", "hyphen", "n"}, order("changed"),
		"where somebody approved a bitmap, its weight alone counts")
}
