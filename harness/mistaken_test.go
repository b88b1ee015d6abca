package harness

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// lettersOf gives a font whose letters, from A on, have these shapes, eight columns wide.
func lettersOf(shapes ...string) *golden.Font {
	f := &golden.Font{Name: "f", Size: glyph.Pt(8), DPI: glyph.Dots(300), Depth: 1}
	for i, shape := range shapes {
		rows := strings.Fields(shape)
		c := glyph.Cell{Ref: glyph.Ref{Key: glyph.Key(rune('A' + i)), Code: 'A' + rune(i), Index: i + 1}, Advance: 9, Bitmap: glyph.NewBitmap(0, 0, 8, len(rows), 1)}
		for y, row := range rows {
			for x, r := range row {
				if r == '#' {
					c.Bitmap.Set(x, len(rows)-1-y, 1)
				}
			}
		}
		f.Cells = append(f.Cells, c)
	}
	return f
}

func TestALetterDrawnAsAnotherIsApprovedSaysWhich(t *testing.T) {
	const (
		stem  = "##...... ##...... ##...... ##...... ##...... ##......"
		cross = "...##... ...##... ######## ######## ...##... ...##..."
		box   = "######## ##....## ##....## ##....## ##....## ########"
		cut   = "######## ##....## ##....## ...##### ##....## ########"
		aside = ".##..... .##..... .##..... .##..... .##..... .##....."
		wide  = "###..... ###..... ###..... ###..... ###..... ###....."
	)
	all := []string{stem, cross, box}
	for _, c := range []struct {
		reason    string
		was, now  []string
		drawnAs   map[string]string
		unchanged int
	}{
		{"glyphs renumbered by one", all, []string{cross, box, stem}, map[string]string{"A": "B", "B": "C", "C": "A"}, 0},
		{"two exchanged", all, []string{cross, stem, box}, map[string]string{"A": "B", "B": "A"}, 1},
		{"two exchanged, one at a bearing of its own", all, []string{cross, aside, box}, map[string]string{"A": "B", "B": "A"}, 1},
		{"one damaged in a shape of its own", all, []string{stem, cross, cut}, nil, 2},
		{"one a pixel wider, and no other letter", all, []string{wide, cross, box}, nil, 2},
		{"two have its shape, of which the first is named", []string{stem, cross, cross}, []string{cross, box, cut}, map[string]string{"A": "B"}, 0},
	} {
		res, err := Compare(lettersOf(c.was...), lettersOf(c.now...), CompareOptions{Gate: diff.Major, DistanceMM: 400})
		require.NoError(t, err, c.reason)
		require.Len(t, res.Changes, 3-c.unchanged, c.reason)
		for _, ch := range res.Changes {
			other, mistaken := c.drawnAs[ch.Glyph]
			if !mistaken {
				require.NotContains(t, ch.Findings[0].Text, "stands in its place", c.reason)
				continue
			}
			require.Len(t, ch.Findings, 1, "%s: %+v", c.reason, ch.Findings)
			require.Equal(t, string(diff.Missing), ch.Findings[0].Finding, c.reason)
			require.Equal(t, "critical", ch.Findings[0].Severity, c.reason)
			text := other + " stands in its place: every pixel is as approved for " + other
			if c.now[ch.Index-1] == aside {
				text += ", 1 px further right"
			}
			require.Equal(t, text, ch.Findings[0].Text, c.reason)
			require.NotZero(t, ch.Lost+ch.Gained, c.reason)
		}
	}
}
