package face

import (
	"bytes"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// Faces that differ in what no drawing hangs on are drawn from the same, and no others.
func TestWhatAFaceIsDrawnFrom(t *testing.T) {
	from := func(t *testing.T, file string, alter func(font []byte, table func(tag string) []byte)) [][]byte {
		font, err := os.ReadFile("../../fixtures/" + file)
		require.NoError(t, err)
		dir, err := readDirectory(font, 0)
		require.NoError(t, err)
		alter(font, func(tag string) []byte {
			b, err := dir.need(tag, 1)
			require.NoError(t, err)
			return b
		})
		f, err := Parse(font, 0)
		require.NoError(t, err)
		return DrawnFrom(f)
	}
	as := func([]byte, func(string) []byte) {}
	for _, c := range []struct {
		file, reason string
		alter        func(font []byte, table func(string) []byte)
		same         bool
	}{
		{"larkmoor-text-a.ttf", "another name", func(_ []byte, table func(string) []byte) { table("name")[20] ^= 1 }, true},
		{"larkmoor-text-a.ttf", "another date", func(_ []byte, table func(string) []byte) { table("head")[35] ^= 1 }, true},
		{"larkmoor-text-a.ttf", "other units per em", func(_ []byte, table func(string) []byte) { table("head")[19] ^= 4 }, false},
		{"larkmoor-text-a.ttf", "whole ppem no more", func(_ []byte, table func(string) []byte) { table("head")[17] ^= 8 }, false},
		{"larkmoor-text-a.ttf", "a control value", func(_ []byte, table func(string) []byte) { table("cvt ")[1] ^= 1 }, false},
		{"larkmoor-text-a.ttf", "the control value program", func(_ []byte, table func(string) []byte) { table("prep")[0] ^= 1 }, false},
		{"larkmoor-text-a.ttf", "the font program", func(_ []byte, table func(string) []byte) { table("fpgm")[0] ^= 1 }, false},
		{"larkmoor-text-a.ttf", "an outline", func(_ []byte, table func(string) []byte) { table("glyf")[14] ^= 1 }, false},
		{"larkmoor-text-a.ttf", "an advance", func(_ []byte, table func(string) []byte) { table("hmtx")[1] ^= 1 }, false},
		{"larkmoor-text-a.ttf", "heights of phantom points", func(_ []byte, table func(string) []byte) { table("hhea")[5] ^= 1; table("OS/2")[69] ^= 1 }, false},
		{"larkmoor-text-a.otf", "another name", func(_ []byte, table func(string) []byte) { table("name")[20] ^= 1 }, true},
		{"larkmoor-text-a.otf", "an advance", func(_ []byte, table func(string) []byte) { table("hmtx")[1] ^= 1 }, false},
		{"larkmoor-text-a.otf", "a charstring", func(_ []byte, table func(string) []byte) { b := table("CFF "); b[len(b)-40] ^= 1 }, false},
		{"larkmoor-text-a.otf", "other units per em", func(_ []byte, table func(string) []byte) { table("head")[19] ^= 4 }, false},
	} {
		was, now := from(t, c.file, as), from(t, c.file, c.alter)
		require.NotEmpty(t, was)
		require.Equal(t, c.same, slices.EqualFunc(was, now, bytes.Equal), "%s: %s", c.file, c.reason)
	}
	f, err := Open("../../fixtures/larkmoor-text-a.pfb", 0)
	require.NoError(t, err)
	require.Nil(t, DrawnFrom(f), "an AFM file beside a Type 1 font counts too")
}
