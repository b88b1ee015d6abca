package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

func TestGlyphsThatReadersMeetFirst(t *testing.T) {
	codes := []rune{glyph.NoCode, 0x20000, 0x4E8C, 0x3400, 'b', 0x4E00, 'a', 0x3401}
	var refs []glyph.Ref
	for _, c := range codes {
		refs = append(refs, glyph.Ref{Code: c})
	}
	for _, c := range []struct {
		reason    string
		n, count  int
		selection string
	}{
		{"lowest first", 1, 1, "U+0061-0061"},
		{"rare ideographs are passed over", 4, 4, "U+0061-0062,U+4E00-4E8C"},
		{"until all others are in", 6, 6, "U+0061-0062,U+4E00-20000,U+3400-3400"},
		{"what has no code is met nowhere", 8, 7, "U+0061-0062,U+4E00-20000,U+3400-3401"},
	} {
		t.Run(c.reason, func(t *testing.T) {
			selection, count := metFirst(refs, c.n)
			require.Equal(t, c.selection, selection)
			require.Equal(t, c.count, count)
			s, err := harness.ParseSelection(selection)
			require.NoError(t, err)
			selected := 0
			for _, r := range refs {
				if s.Has(r) {
					selected++
				}
			}
			require.Equal(t, c.count, selected)
		})
	}
	_, count := metFirst(refs[:1], 4)
	require.Zero(t, count, "a face without codes")
}

// A font at more sizes than look has patience for is looked at in part, and that is said; unless glyphs
// are named.
func TestAFontOfTooManyDrawingsIsLookedAtInPart(t *testing.T) {
	font := filepath.Join(t.TempDir(), "Go.ttf")
	require.NoError(t, os.WriteFile(font, goregular.TTF, 0o666))
	open := func(sizes int, args ...string) (drawings int, said string) {
		var errs bytes.Buffer
		c := &call{ctx: t.Context(), verb: &lookVerb, stderr: &errs, flags: pflag.NewFlagSet("look", pflag.ContinueOnError), argv: args}
		c.selectionFlags()
		require.NoError(t, c.parse())
		for pt := range sizes {
			c.sizes = append(c.sizes, fmt.Sprint(4+pt))
		}
		r, err := c.openLook([]string{font}, []string{"203"}, 0)
		require.NoError(t, err)
		defer r.Close()
		for i := range r.Strikes() {
			drawings += r.Strikes()[i].Count()
		}
		return drawings, errs.String()
	}
	one, _ := open(1)
	few := mostLookedAt / one
	drawings, said := open(few)
	require.Equal(t, one*few, drawings)
	require.Empty(t, said)

	drawings, said = open(2 * few)
	require.LessOrEqual(t, drawings, mostLookedAt)
	require.Greater(t, drawings, mostLookedAt*9/10)
	require.Regexp(t, fmt.Sprintf(`Go.ttf: looks at \d+ of its %d glyphs, U\+0000-[0-9A-F]+; --glyphs all looks at every one`, one), said)

	drawings, said = open(2*few, "--glyphs", "all")
	require.Equal(t, 2*one*few, drawings)
	require.Empty(t, said)
}

func TestALookTellsWhatAPersonShouldKnowOfTheFont(t *testing.T) {
	t.Chdir(t.TempDir())
	variable := bytes.Replace(goregular.TTF, []byte("name"), []byte("fvar"), 1) // in its directory
	require.NoError(t, os.WriteFile("v.ttf", variable, 0o666))
	_, _, said := run("look", "v.ttf", "--size", "8", "--glyphs", "H")
	require.Equal(t, "smokeproof look: face \"v\": of this variable font the default instance is drawn; each other that ships is proofed as a font of its own\n", said)
}
