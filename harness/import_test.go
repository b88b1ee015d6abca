package harness

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/harness/glyph"
)

// installedFont skips where a file of a package is not installed; in CI that
// is a failure.
func installedFont(t *testing.T, path, pkg string) string {
	t.Helper()
	if _, err := os.Stat(path); err != nil && os.Getenv("CI") != "true" {
		t.Skipf("%s is not installed: %s", pkg, path)
	}
	require.FileExists(t, path)
	return path
}

// runOver opens a run over one face on some devices.
func runOver(t *testing.T, font, devices string, f Filter) *Run {
	t.Helper()
	path := filepath.Join(t.TempDir(), PlanName)
	require.NoError(t, os.WriteFile(path, fmt.Appendf(nil, "[[face]]\nname = \"a\"\nfile = %q\n%s", font, devices), 0o666))
	return openRun(t, path, f)
}

func openRun(t *testing.T, path string, f Filter) *Run {
	t.Helper()
	p, err := LoadPlan(path)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{Filter: f})
	require.NoError(t, err)
	t.Cleanup(func() { r.Close() })
	return r
}

// Hand-made fonts beside outlines of the same face: by name (PCF), by index
// (strikes), by number (PK).
func TestHandMadeFontsLandInTheStrikeOfTheirSize(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct {
		why, source, face, pkg, devices string
		names                           map[int]string
		lands                           []string // sizes
		glyphs, unmatched               int
	}{
		{"a PCF by its point size, 189 of 191 glyphs by name", "/usr/share/fonts/X11/100dpi/charR14.pcf.gz",
			"/usr/share/fonts/X11/Type1/c0648bt_.pfb", "xfonts-100dpi, xfonts-scalable",
			"[[device]]\nname = \"screen\"\ndpi = 100\nsizes = [8, 14, 18]\n", nil, []string{"14"}, 189, 2},
		{"strikes of 10 to 13 pixels, each in its own", "/usr/share/fonts/truetype/anonymous-pro/Anonymous Pro.ttf",
			"/usr/share/fonts/truetype/anonymous-pro/Anonymous Pro.ttf", "fonts-anonymous-pro",
			"[[device]]\nname = \"panel\"\ndpi = 72\nsizes = [9, 10, 11, 12, 13]\n", nil, []string{"10", "11", "12", "13"}, 0, 0},
	} {
		r := runOver(t, installedFont(t, c.face, c.pkg), c.devices, Filter{})
		got, err := r.Import(ctx, ImportOptions{Sources: []string{installedFont(t, c.source, c.pkg)}, Names: c.names})
		require.NoError(t, err, c.why)
		var sizes []string
		for _, s := range got.Strikes {
			sizes = append(sizes, s.Size)
			require.Len(t, s.Unmatched, c.unmatched, c.why)
			require.Positive(t, s.Glyphs, c.why)
			if c.glyphs > 0 {
				require.Equal(t, c.glyphs, s.Glyphs, c.why)
			}
		}
		require.ElementsMatch(t, c.lands, sizes, c.why)
		problems, err := r.Store.Verify(ctx)
		require.NoError(t, err)
		require.NotEmpty(t, problems, "%s: nobody has approved them", c.why)
		a, err := r.Approve(ctx, ApproveOptions{By: "Ada Marsh", Why: "as its makers drew it", Stored: true})
		require.NoError(t, err)
		require.Len(t, problems, a.Approved, c.why)
		problems, err = r.Store.Verify(ctx)
		require.NoError(t, err)
		require.Empty(t, problems, c.why)
	}
}

// METAFONT's own bitmaps at printer resolution beside the outlines of the same
// face: TeX's 7-bit text encoding names the numbers.
func TestPKLandsByTheNamesOfItsNumbers(t *testing.T) {
	if os.Getenv("SMOKEPROOF_ARCHIVE") != "1" {
		t.Skip("make archive runs it: texlive-base is too big for make test")
	}
	const tex = "/usr/share/texlive/texmf-dist/fonts/"
	ctx := context.Background()
	r := runOver(t, installedFont(t, tex+"type1/public/amsfonts/cm/cmr10.pfb", "texlive-base"), "[[device]]\nname = \"laser\"\ndpi = 600\nsizes = [8, 10]\n", Filter{})
	source := tex + "pk/ljfour/public/cm/dpi600/cmr10.pk"
	_, err := r.Import(ctx, ImportOptions{Sources: []string{source}})
	require.ErrorContains(t, err, "--names")
	enc, err := os.Open(tex + "enc/dvips/base/7t.enc")
	require.NoError(t, err)
	defer enc.Close()
	names, err := ReadGlyphNames(enc)
	require.NoError(t, err)
	got, err := r.Import(ctx, ImportOptions{Sources: []string{source}, Names: names})
	require.NoError(t, err)
	require.Len(t, got.Strikes, 1)
	require.Equal(t, "10", got.Strikes[0].Size)
	require.GreaterOrEqual(t, got.Strikes[0].Glyphs, 126)
	_, err = r.Approve(ctx, ApproveOptions{By: "Ada Marsh", Why: "as METAFONT drew it", Stored: true})
	require.NoError(t, err)
	near, all := 0, 0
	sum, err := openRun(t, r.Plan.Path, Filter{Sizes: []glyph.Points{glyph.Pt(10)}}).Check(ctx, func(s *StrikeResult) error {
		for i := range s.Changes {
			if c := &s.Changes[i]; c.Status == "changed" {
				all++
				if c.Lost+c.Gained < c.stored.Bitmap.Ink()/2 {
					near++
				}
			}
		}
		return nil
	})
	require.NoError(t, err)
	t.Logf("%d equal, %d of %d others have the same letter's shape", sum.Equal, near, all)
	require.GreaterOrEqual(t, 10*near, 9*all, "a bitmap under another letter's name would share little ink with it")
}

// Whatever goes out comes back as it went, in every format and depth.
func TestWhatIsExportedIsImportedUnchanged(t *testing.T) {
	ctx := context.Background()
	for _, mode := range []string{"bilevel", "grey"} {
		for i := range ExportFormats {
			f := &ExportFormats[i]
			if f.Name == "xbdf" && mode == "grey" {
				continue
			}
			plan := facesIn(t, map[string][]byte{"regular": goregular.TTF})
			data, err := os.ReadFile(plan)
			require.NoError(t, err)
			text, _, _ := strings.Cut(string(data), "[[device]]")
			require.NoError(t, os.WriteFile(plan, []byte(text+"[[device]]\nname = \"d\"\ndpi = 203.2\nmode = \""+mode+"\"\nsizes = [8]\n"), 0o666))
			r := openRun(t, plan, Filter{})
			_, err = r.Approve(ctx, ApproveOptions{By: "Ada Marsh", Why: "first set"})
			require.NoError(t, err)
			before, err := r.Store.Load(ctx, r.strikes[0].Strike)
			require.NoError(t, err)
			pattern := filepath.Join(t.TempDir(), "x"+f.Ending)
			if f.single {
				pattern = filepath.Join(t.TempDir(), glyphPlace+f.Ending)
			}
			_, n, err := r.Export(ctx, f, pattern, nil, func(path string, print func(io.Writer) error) error {
				var b bytes.Buffer
				if err := print(&b); err != nil {
					return err
				}
				return os.WriteFile(path, b.Bytes(), 0o666)
			})
			require.NoError(t, err, f.Name)
			require.Equal(t, len(before.Cells), n)
			require.NoError(t, os.RemoveAll(r.Plan.Goldens))
			got, err := r.Import(ctx, ImportOptions{Sources: []string{pattern}})
			require.NoError(t, err, f.Name)
			require.Equal(t, n, got.Strikes[0].Glyphs, f.Name)
			require.Empty(t, got.Strikes[0].Unmatched, f.Name)
			after, err := r.Store.Load(ctx, r.strikes[0].Strike)
			require.NoError(t, err)
			for j := range before.Cells {
				require.Equal(t, before.Cells[j].Key, after.Cells[j].Key, f.Name)
				require.Equal(t, before.Cells[j].Digest(), after.Cells[j].Digest(), "%s %s: %s", f.Name, mode, before.Cells[j].Key)
			}
		}
	}
}

// bdfOf is a font of 8 pt at 300 dpi with a dot of 2 × 1 for each name.
func bdfOf(t *testing.T, names ...string) string {
	t.Helper()
	doc := fmt.Sprintf("STARTFONT 2.1\nFONT x\nSIZE 8 300 300\nFONTBOUNDINGBOX 2 1 0 0\nCHARS %d\n", len(names))
	for _, n := range names {
		doc += "STARTCHAR " + n + "\nENCODING -1\nDWIDTH 24 0\nBBX 2 1 0 0\nBITMAP\nC0\nENDCHAR\n"
	}
	path := filepath.Join(t.TempDir(), "a.bdf")
	require.NoError(t, os.WriteFile(path, []byte(doc+"ENDFONT\n"), 0o666))
	return path
}

// pkOf is a PK font of 10 pt at 300 dpi that holds a dot of 2 × 1 as number 72
// (Rokicki, "Packed (PK) font file format", TUGboat 6:3, 1985).
func pkOf(t *testing.T) string {
	t.Helper()
	doc := []byte{247, 89, 0, // pre, its version, no comment
		0, 0xA0, 0, 0, 0, 0, 0, 0, // design size 10 pt in 2^-20, checksum
		0, 4, 0x26, 0xB6, 0, 4, 0x26, 0xB6, // 300 pixels an inch of 72.27 pt, in 2^-16 a pt
		0xE0, 9, 72, 0, 0, 0, 24, 2, 1, 0, 0, 0xC0, // raw bits, 9 bytes to come, number, width, advance, 2 × 1 at the origin
		245, 246} // post, and one to a multiple of four
	path := filepath.Join(t.TempDir(), "a.pk")
	require.NoError(t, os.WriteFile(path, doc, 0o666))
	return path
}

func TestAStrikeTakesWhatIsItsOwn(t *testing.T) {
	dots := func(mode, dpi, size string) string {
		return "[[device]]\nname = \"d\"\nmode = \"" + mode + "\"\ndpi = " + dpi + "\nsizes = [" + size + "]\n"
	}
	selected, err := ParseSelection("H")
	require.NoError(t, err)
	font := filepath.Join(t.TempDir(), "a.ttf")
	require.NoError(t, os.WriteFile(font, goregular.TTF, 0o666))
	for _, c := range []struct {
		why, device, source string
		filter              Filter
		names               map[int]string
		notes               []string
		ink                 uint8
	}{
		{why: "as it is", device: dots("bilevel", "300", "8"), source: bdfOf(t, "H"), ink: 1},
		{why: "not what is left out of the selection", device: dots("bilevel", "300", "8"), source: bdfOf(t, "H", "n"), filter: Filter{Glyphs: selected}, ink: 1},
		{why: "a glyph once", device: dots("bilevel", "300", "8"), source: bdfOf(t, "H", "H"), ink: 1},
		{why: "on a grey device full ink is full", device: dots("grey", "300", "8"), source: bdfOf(t, "H"), ink: 255},
		{why: "another size goes into the only strike there is, and is told", device: dots("bilevel", "203", "8"), source: bdfOf(t, "H"),
			notes: []string{"made for 33 × 33 pixels per em, the strike has 23 × 23"}, ink: 1},
		{why: "a number by its name", device: dots("bilevel", "300", "8, 10"), source: pkOf(t), names: map[int]string{72: "H", 73: "n"}, ink: 1},
	} {
		r := runOver(t, font, c.device, c.filter)
		got, err := r.Import(t.Context(), ImportOptions{Sources: []string{c.source}, Names: c.names})
		require.NoError(t, err, c.why)
		require.Len(t, got.Strikes, 1, c.why)
		require.Equal(t, 1, got.Strikes[0].Glyphs, c.why)
		require.ElementsMatch(t, c.notes, got.Strikes[0].Notes, c.why)
		for i := range r.strikes {
			have, err := r.Store.Load(t.Context(), r.strikes[i].Strike)
			require.NoError(t, err)
			if r.strikes[i].Strike.Size.String() != got.Strikes[0].Size {
				require.Empty(t, have.Cells, c.why)
				continue
			}
			require.Len(t, have.Cells, 1, c.why)
			b := &have.Cells[0].Bitmap
			require.Equal(t, glyph.Key("H"), have.Cells[0].Key, c.why)
			require.Equal(t, 24, have.Cells[0].Advance, c.why)
			require.Equal(t, []uint8{0, c.ink, c.ink, 0}, []uint8{b.At(-1, 0), b.At(0, 0), b.At(1, 0), b.At(2, 0)}, c.why)
		}
	}
	_, err = runOver(t, font, dots("bilevel", "300", "10"), Filter{}).Import(t.Context(), ImportOptions{Sources: []string{pkOf(t)}})
	require.ErrorContains(t, err, "of its glyphs (1) none is among those selected of a 10 pt 300 dpi (d); it knows its glyphs by number; say with --names which number is which glyph")
}

// H of Go Regular is 1479 of 2048 units wide: 16.29 px at 8 pt and 203 dpi.
func TestAnAdvanceAPixelOffTheFacesOwnIsTold(t *testing.T) {
	r := openRun(t, facesIn(t, map[string][]byte{"regular": goregular.TTF}), Filter{Devices: []string{"label"}})
	s := &r.strikes[0]
	h := s.Glyphs()[slices.IndexFunc(s.Glyphs(), func(ref glyph.Ref) bool { return ref.Key == "H" })]
	for advance, told := range map[int]bool{15: true, 16: false, 17: false, 18: true} {
		f := r.disagreement(s, &glyph.Cell{Ref: h, Advance: advance, Bitmap: glyph.Bitmap{Depth: 1}})
		require.Equal(t, told, f != nil, "%d px", advance)
		if told {
			require.Contains(t, f.Text, "than the face's 16.3 px")
		}
	}
}

func TestImportsThatCannotLandWriteNothing(t *testing.T) {
	ctx := context.Background()
	plan := facesIn(t, map[string][]byte{"regular": goregular.TTF})
	bdf := func(size, body string) string {
		path := filepath.Join(t.TempDir(), "a.bdf")
		doc := "STARTFONT 2.1\nFONT x\nSIZE " + size + "\nFONTBOUNDINGBOX 1 1 0 0\nCHARS 1\n" + body + "ENDFONT\n"
		require.NoError(t, os.WriteFile(path, []byte(doc), 0o666))
		return path
	}
	const a = "STARTCHAR A\nENCODING 65\nDWIDTH 8 0\nBBX 1 1 0 0\nBITMAP\n80\nENDCHAR\n"
	for _, c := range []struct{ why, source, says string }{
		{"no strike of its size", bdf("30 300 300", a), "no strike of the plan is"},
		{"a stranger", bdf("8 300 300", strings.Replace(a, "A\nENCODING 65", "qqq\nENCODING -1", 1)), "of its glyphs (1) none"},
		{"grey for a bilevel device", bdf("8 300 300 8", a), "is grey"},
		{"no file", "nothing.bdf", "correct its path"},
		{"a folder", t.TempDir(), "no regular file"},
		{"a pattern that nothing has", filepath.Join(t.TempDir(), "{glyph}.png"), "no file has such a name"},
		{"a pattern with other places", "x/{face}/{glyph}.png", "no other place"},
	} {
		r := openRun(t, plan, Filter{})
		_, err := r.Import(ctx, ImportOptions{Sources: []string{c.source}})
		require.ErrorContains(t, err, c.says, c.why)
		require.NoDirExists(t, r.Plan.Goldens, c.why)
	}
	two := filepath.Join(t.TempDir(), PlanName)
	require.NoError(t, os.WriteFile(two, []byte("[[face]]\nname = \"a\"\nfile = \""+filepath.Join(filepath.Dir(plan), "regular.ttf")+
		"\"\n[[device]]\nname = \"d\"\ndpi = 300\nsizes = [8]\n[[device]]\nname = \"e\"\ndpi = 300\nsizes = [8]\n"), 0o666))
	_, err := openRun(t, two, Filter{}).Import(ctx, ImportOptions{Sources: []string{bdf("8 300 300", a)}})
	require.ErrorContains(t, err, "2 strikes could take it")
}

func TestNamesOfNumbersAreReadInBothForms(t *testing.T) {
	for _, c := range []struct{ why, text string }{
		{"an encoding vector", "% TeX text\n/Demo [ /.notdef /A\n/B/C ] def"},
		{"lines", "# ours\n1 A\n0x2 B\n03 C\n"},
	} {
		got, err := ReadGlyphNames(strings.NewReader(c.text))
		require.NoError(t, err, c.why)
		require.Equal(t, map[int]string{1: "A", 2: "B", 3: "C"}, got, c.why)
	}
	for _, bad := range []string{"/Demo [ /A", "1 A B", "x A", "99999999 A"} {
		_, err := ReadGlyphNames(strings.NewReader(bad))
		require.ErrorIs(t, err, ErrUsage, bad)
	}
}

func TestTextSavedOnWindowsIsImported(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"a": goregular.TTF})
	font := filepath.Join(filepath.Dir(plan), "a.ttf")
	for _, c := range []struct{ reason, text string }{
		{"text as draw prints it", "e left 1 bottom 0 advance 6\n####\n#..#\n"},
		{"BDF", "STARTFONT 2.1\nSIZE 8 300 300\nCHARS 1\nSTARTCHAR e\nENCODING 101\nDWIDTH 6 0\nBBX 4 2 1 0\nBITMAP\nF0\n90\nENDCHAR\nENDFONT\n"},
	} {
		r := runOver(t, font, "[[device]]\nname = \"d\"\ndpi = 300\nsizes = [8]\n", Filter{})
		source := filepath.Join(t.TempDir(), "e.txt")
		require.NoError(t, os.WriteFile(source, []byte("\uFEFF"+strings.ReplaceAll(c.text, "\n", "\r\n")), 0o666))
		got, err := r.Import(t.Context(), ImportOptions{Sources: []string{source}})
		require.NoError(t, err, c.reason)
		require.Equal(t, 1, got.Strikes[0].Glyphs, c.reason)
		require.Empty(t, got.Strikes[0].Unmatched, c.reason)
	}
}
