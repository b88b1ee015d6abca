package harness

import (
	"bytes"
	"context"
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
)

func TestNotesTellOfAdvancesThatTheAFMFileStatesOtherwise(t *testing.T) {
	dir := t.TempDir()
	font, err := os.ReadFile("../fixtures/larkmoor-text-a.pfb")
	require.NoError(t, err)
	for name, data := range map[string][]byte{
		"text.pfb": font,
		"text.afm": []byte("StartFontMetrics 4.1\nC 72 ; WX 745 ; N H ; B 0 0 0 0 ;\nC 73 ; WX 320 ; N I ; B 0 0 0 0 ;\nEndFontMetrics\n"),
		PlanName: []byte("[[face]]\nname = \"text\"\nfile = \"text.pfb\"\nglyphs = \"all\"\n\n" +
			"[[device]]\nname = \"label\"\ndpi = 203\nmode = \"bilevel\"\nrenderer = \"built-in\"\nsizes = [8]\n"),
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o666))
	}
	p, err := LoadPlan(filepath.Join(dir, PlanName))
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{})
	require.NoError(t, err)
	defer r.Close()
	require.Equal(t, []string{`face "text": the AFM file beside it gives other advances to 1 glyphs, first "H": font 740, AFM 745; text set by the one prints as the other`}, r.Notes())
}

func TestNotesTellThatAVariableFontIsOneInstance(t *testing.T) {
	variable := bytes.Replace(goregular.TTF, []byte("name"), []byte("fvar"), 1) // in its directory
	r := openRun(t, facesIn(t, map[string][]byte{"a": variable}), Filter{})
	require.Equal(t, []string{`face "a": of this variable font the default instance is drawn; each other that ships is proofed as a font of its own`}, r.Notes())
}

func TestNotesTellThatAFontHasNoHintsOrLacksATableOfTheirs(t *testing.T) {
	stems, err := os.ReadFile("../fixtures/larkmoor-text-a.pfb")
	require.NoError(t, err)
	said := func(name string, font []byte) []string {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), font, 0o666))
		require.NoError(t, os.WriteFile(filepath.Join(dir, PlanName), []byte("[[face]]\nname = \"a\"\nfile = \""+name+"\"\n[[device]]\nname = \"label\"\ndpi = 203\nsizes = [8]\n"), 0o666))
		return openRun(t, filepath.Join(dir, PlanName), Filter{}).Notes()
	}
	require.Empty(t, said("a.ttf", goregular.TTF), "programs")
	require.Empty(t, said("a.pfb", stems), "stems")
	require.Equal(t, []string{`face "a": the font has glyph programs and no prep; a build may have lost it`}, said("a.ttf", withoutTable(goregular.TTF, "prep")))
	require.Equal(t, []string{`face "a": no glyph of it has hints: each is drawn as its outline falls on the pixels`}, said("a.ttf", withoutPrograms(t, goregular.TTF)))
}

// withoutPrograms is a font whose glyphs are all blank, and so have none.
func withoutPrograms(t *testing.T, font []byte) []byte {
	t.Helper()
	out := bytes.Clone(font)
	entry := bytes.Index(out, []byte("loca"))
	from, size := binary.BigEndian.Uint32(out[entry+8:]), binary.BigEndian.Uint32(out[entry+12:])
	clear(out[from : from+size])
	return out
}
