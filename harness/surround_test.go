package harness

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

func TestWhatStandsAroundChanges(t *testing.T) {
	cell := func(name string, advance int) glyph.Cell {
		return glyph.Cell{Ref: glyph.Ref{Key: glyph.Key(name), Code: rune(name[0])}, Advance: advance, Bitmap: glyph.Bitmap{Depth: 1}}
	}
	goldens := &golden.Font{Cells: []glyph.Cell{cell("n", 5), cell("o", 6), cell("z", 7)}}
	change := func(face, size, glyph string) Change {
		return Change{Face: face, Device: "label", Size: size, DPI: "203", Glyph: glyph, Over: digestOf(&goldens.Cells[0])}
	}
	res := &Results{Changes: []Change{change("few", "8", "n"), change("many", "8", "n")}}
	for i := range MostApart {
		res.Changes = append(res.Changes, change("many", "8", fmt.Sprint(i)))
	}
	for _, face := range []string{"few", "many", "none"} {
		res.Strikes = append(res.Strikes, StrikeRecord{Face: face, Device: "label", Size: "8"})
	}
	goldens.Size = 8000
	around, err := SurroundOf(res, goldens)
	require.NoError(t, err)
	require.Empty(t, around.Ramps, "n is not as approved")
	require.Equal(t, []string{"few o", "many o"}, lettersAround(around), "n changed, z is in no word, and of the third face nothing is asked")

	goldens.Size = 10_000
	around, err = SurroundOf(res, goldens)
	require.NoError(t, err)
	require.Len(t, around.Ramps, 1, "at another size n stands, of the face that is no throng")
	require.Equal(t, []string{"few", "10", "n"}, []string{around.Ramps[0].Face, around.Ramps[0].Size, around.Ramps[0].Glyph})
	require.Empty(t, around.Letters, "where nothing changed no word is set")

	a, err := newSurrounding(res)
	require.NoError(t, err)
	at := glyph.Strike{Face: "many", Device: "label", Size: 8000}
	require.Zero(t, a.moved(at, goldens.Cells), "the golden is the one that the run found")
	goldens.Cells[0].Advance++
	require.Equal(t, 1, a.moved(at, goldens.Cells), "it is another by now; o changed in nothing that the run knows of")
	res.Changes[1].Over = ""
	a, err = newSurrounding(res)
	require.NoError(t, err)
	require.Equal(t, 1, a.moved(at, goldens.Cells), "there was none, and there is one by now")
	require.True(t, a.touches(at))
	at.Device = "laser"
	require.False(t, a.touches(at))
}

func lettersAround(around *Surround) (list []string) {
	for _, l := range around.Letters {
		for _, c := range l.Cells {
			list = append(list, l.Face+" "+c.Glyph)
		}
	}
	return list
}
