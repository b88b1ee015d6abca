package gridfit

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// What a fitter remembers of a face is what the next size reads of it, and nothing of another face.
func TestGlyphsThatWereReadAreThoseOfTheFile(t *testing.T) {
	var r reading
	for _, name := range []string{"larkmoor-text-a.ttf", "larkmoor-text-b.ttf", "larkmoor-text-a.ttf"} {
		f := demoFace(t, name)
		r.begin(f)
		kept := 0
		for round := range 2 {
			for i := range f.NumGlyphs() {
				if got, again := r.readIn(t, i); round == 1 && len(got.X) > 0 {
					require.False(t, again, "it was read before")
					kept++
				}
			}
		}
		require.Greater(t, kept, 20)
	}
}

func demoFace(t *testing.T, name string) *face.TrueType {
	data, err := os.ReadFile("../../fixtures/" + name)
	require.NoError(t, err)
	f, err := face.Parse(data, 0)
	require.NoError(t, err)
	return f.(*face.TrueType)
}

// readIn gives a glyph, which must be that of the file, and whether it was read anew.
func (r *reading) readIn(t *testing.T, index int) (got *face.Glyph, anew bool) {
	want, err := r.face.Glyph(index)
	require.NoError(t, err)
	room := &face.Glyph{}
	got, err = r.of(index, room)
	require.NoError(t, err)
	require.Equal(t, said(want), said(got))
	return got, got == room
}

// said is what a glyph says, in lists that are never nil.
func said(g *face.Glyph) []any {
	return []any{g.XMin, g.YMin, g.XMax, g.YMax, append([]glyph.FUnit{}, g.X...), append([]glyph.FUnit{}, g.Y...),
		append([]bool{}, g.On...), append([]int{}, g.Ends...), append([]face.Component{}, g.Components...), string(g.Instructions)}
}

func TestWhatThereIsNoRoomForIsReadAgain(t *testing.T) {
	f := demoFace(t, "larkmoor-text-a.ttf")
	var r reading
	r.begin(f)
	const most = mostPointsRead - 40
	r.x, r.y, r.on = r.x[:most], r.y[:most], r.on[:most]
	known, again := 0, 0
	for range 2 {
		for i := range f.NumGlyphs() {
			if _, anew := r.readIn(t, i); anew {
				again++
			} else {
				known++
			}
		}
	}
	require.Greater(t, known, 0)
	require.Greater(t, again, f.NumGlyphs())
}
