package harness

import (
	"bytes"
	"errors"
	"io"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
)

func TestEachGoldenLeavesOnceToAPlaceOfItsOwn(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"regular": goregular.TTF})
	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	again := "[[device]]\nname = \"second\"\ndpi = 203\nsizes = [8]\n"
	require.NoError(t, os.WriteFile(plan, append(text, again...), 0o666))
	r := openRun(t, plan, Filter{})
	none := errors.New("nothing is put anywhere")
	bdf, err := FindExportFormat("bdf")
	require.NoError(t, err)
	_, _, err = r.Export(t.Context(), bdf, "x", nil, func(string, func(io.Writer) error) error { return none })
	require.ErrorIs(t, err, ErrUsage)
	require.ErrorContains(t, err, "there are no goldens of what was selected", "before anything is approved")
	approveAll(t, plan)

	for _, c := range []struct {
		reason, format, pattern string
		files, glyphs           int
		says                    string
	}{
		{"two devices of one resolution share their goldens", "bdf", "{face}-{dpi}-{size}.bdf", 2, 2 * 95, ""},
		{"a place for each device keeps them apart", "bdf", "{device}.bdf", 3, 3 * 95, ""},
		{"two resolutions in one file would be one of them", "bdf", "{size}.bdf", 0, 0,
			"both regular 8 pt 203 dpi bilevel and regular 8 pt 300 dpi bilevel go there; put more places into --out, as \"export/{face}/{dpi}/{size}.bdf\""},
		{"so would glyphs in one picture", "png", "{dpi}.png", 0, 0, "put more places into --out, as \"export/{face}/{dpi}/{size}/{glyph}.png\""},
		{"a picture each", "pbm", "{dpi}/{size}/{glyph}.pbm", 2 * 95, 2 * 95, ""},
		{"a font is no glyph's", "bdf", "{face}/{glyph}.bdf", 0, 0, "a file of bdf has no place {glyph}; the places are {face} {device} {dpi} {size}"},
		{"a place misspelt would be a file's name", "png", "{Size}/{glyph}.png", 0, 0, "no place {Size}"},
		{"one stream holds one font", "bdf", "", 0, 0, "more than one bdf leaves; give --out a pattern, as \"export/{face}/{dpi}/{size}.bdf\""},
	} {
		f, err := FindExportFormat(c.format)
		require.NoError(t, err)
		put := map[string]bool{}
		var stream bytes.Buffer
		files, glyphs, err := r.Export(t.Context(), f, c.pattern, &stream, func(path string, print func(io.Writer) error) error {
			require.False(t, put[path], "%s: %s is written over", c.reason, path)
			require.NotContains(t, path, "{", c.reason)
			put[path] = true
			return print(io.Discard)
		})
		require.Equal(t, []int{c.files, c.glyphs}, []int{files, glyphs}, c.reason)
		if c.says == "" {
			require.NoError(t, err, c.reason)
			require.Len(t, put, c.files, c.reason)
			require.Zero(t, stream.Len(), c.reason)
		} else {
			require.ErrorIs(t, err, ErrUsage, c.reason)
			require.ErrorContains(t, err, c.says, c.reason)
			require.Empty(t, put, "%s: nothing is written before it is refused", c.reason)
			require.Empty(t, stream.String(), c.reason)
		}
	}
}
