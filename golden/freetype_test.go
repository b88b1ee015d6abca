package golden

import (
	"bufio"
	"bytes"
	"encoding/hex"
	"fmt"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// need skips where a program or a file is not installed; in CI that is a failure.
func need(t *testing.T, err error, what string) {
	t.Helper()
	if err != nil && os.Getenv("CI") != "true" {
		t.Skipf("%s is not installed", what)
	}
	require.NoError(t, err, "%s is not installed", what)
}

// installed reads a file of a package.
func installed(t *testing.T, path, pkg string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	need(t, err, pkg)
	return data
}

var buildStrikes = sync.OnceValues(func() (string, error) {
	flags, err := exec.Command("pkg-config", "--cflags", "--libs", "freetype2").Output()
	if err != nil {
		return "", err
	}
	dir, err := os.MkdirTemp("", "ftstrikes")
	if err != nil {
		return "", err
	}
	bin := filepath.Join(dir, "ftstrikes")
	out, err := exec.Command("cc", append([]string{"-O1", "-o", bin, "testdata/ftstrikes.c"}, strings.Fields(string(flags))...)...).CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return bin, nil
})

// ftGlyph is a glyph as FreeType reads it.
type ftGlyph struct {
	name, left, top, width, height, advance, depth, pitch int
	rows                                                  []byte
}

// freeTypeReads gives each strike of a font file, by ppem, as FreeType reads it.
func freeTypeReads(t *testing.T, path string, args ...string) map[int][]ftGlyph {
	t.Helper()
	bin, err := buildStrikes()
	need(t, err, "libfreetype-dev")
	out, err := exec.Command(bin, append([]string{path}, args...)...).Output()
	require.NoError(t, err, "%s", path)
	all := map[int][]ftGlyph{}
	ppem := 0
	s := bufio.NewScanner(bytes.NewReader(out))
	s.Buffer(nil, 1<<22)
	for s.Scan() {
		if _, err := fmt.Sscanf(s.Text(), "strike %d", &ppem); err == nil {
			continue
		}
		var g ftGlyph
		var rows string
		f := strings.Split(s.Text(), " ")
		require.Len(t, f, 9)
		_, err := fmt.Sscan(strings.Join(append(f[:7:7], f[8]), " "), &g.name, &g.left, &g.top, &g.width, &g.height, &g.advance, &g.depth, &g.pitch)
		require.NoError(t, err)
		rows = f[7]
		g.rows, err = hex.DecodeString(rows)
		require.NoError(t, err)
		all[ppem] = append(all[ppem], g)
	}
	require.NoError(t, s.Err())
	return all
}

// cell is FreeType's glyph in our terms.
func (g *ftGlyph) cell(depth int) glyph.Cell {
	b := glyph.NewBitmap(g.left, g.top-g.height, g.width, g.height, depth)
	for y := range g.height {
		for x := range g.width {
			v := g.rows[y*g.pitch+x*g.depth/8] >> (8 - g.depth - x*g.depth%8) & byte(1<<g.depth-1)
			b.Set(b.Left+x, b.Top()-1-y, v)
		}
	}
	return glyph.Cell{Advance: g.advance, Bitmap: b.Tight()}
}

// agree holds our glyphs against FreeType's, both by the name that key gives.
func agreeWithFreeType(t *testing.T, ft []ftGlyph, f *Font, key func(*glyph.Cell) int, why string) {
	t.Helper()
	ours := map[int]*glyph.Cell{}
	for i := range f.Cells {
		ours[key(&f.Cells[i])] = &f.Cells[i]
	}
	seen := 0
	for i := range ft {
		c := ours[ft[i].name]
		if c == nil {
			continue // FreeType invents an empty glyph 0 for fonts that have none
		}
		seen++
		want := ft[i].cell(f.Depth)
		require.Equal(t, want.Advance, c.Advance, "%s: advance of %s", why, c.Key)
		require.True(t, want.Bitmap.Equal(&c.Bitmap), "%s: bitmap of %s: FreeType %+v, here %+v", why, c.Key, want.Bitmap, c.Bitmap)
	}
	require.GreaterOrEqual(t, seen, len(ours)-1, "%s: FreeType reads %d of %d glyphs", why, seen, len(ours))
}

func byCode(c *glyph.Cell) int  { return int(c.Code) }
func byIndex(c *glyph.Cell) int { return c.Index }

// Every glyph of fonts that we write, at each depth, read by FreeType. It
// leaves out glyphs without a code, so each gets one.
func TestFreeTypeReadsOurBDF(t *testing.T) {
	rnd := rand.New(rand.NewSource(7))
	for _, depth := range []int{1, 2, 4, 8} {
		for round := range 5 {
			f := randomFont(rnd, depth)
			for i := range f.Cells {
				f.Cells[i].Code = rune('A' + i)
			}
			path := filepath.Join(t.TempDir(), "a.bdf")
			var doc bytes.Buffer
			require.NoError(t, WriteBDF(&doc, f))
			require.NoError(t, os.WriteFile(path, doc.Bytes(), 0o666))
			for _, g := range freeTypeReads(t, path, "codes") {
				agreeWithFreeType(t, g, f, byCode, fmt.Sprintf("depth %d, round %d", depth, round))
			}
		}
	}
}

// x11Fonts are real PCF files, of one family or all.
func x11Fonts(t *testing.T, pattern string) []string {
	var out []string
	for _, dir := range []string{"100dpi", "75dpi"} {
		found, err := filepath.Glob("/usr/share/fonts/X11/" + dir + "/" + pattern)
		require.NoError(t, err)
		out = append(out, found...)
	}
	if len(out) == 0 {
		need(t, os.ErrNotExist, "xfonts-100dpi, xfonts-75dpi")
	}
	return out
}

// Charter and its relatives at two resolutions: our reader against FreeType's,
// and the way through our BDF and back. SMOKEPROOF_ARCHIVE=1 reads all 728 files.
func TestX11FontsReadAsFreeTypeReadsThem(t *testing.T) {
	pattern := "charR*.pcf.gz"
	if os.Getenv("SMOKEPROOF_ARCHIVE") == "1" {
		pattern = "*.pcf.gz"
	}
	glyphs := 0
	for _, path := range x11Fonts(t, pattern) {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		f, err := ParseFont(data)
		require.NoError(t, err, path)
		require.NotZero(t, f.Size, path)
		coded := *f
		coded.Cells = nil
		for _, c := range f.Cells {
			if c.Code != glyph.NoCode {
				coded.Cells = append(coded.Cells, c)
			}
		}
		for _, g := range freeTypeReads(t, path, "codes") {
			agreeWithFreeType(t, g, &coded, byCode, path)
		}
		glyphs += len(f.Cells)
		sameThroughBDF(t, f)
	}
	t.Logf("%d glyphs", glyphs)
}

// sameThroughBDF writes a font and reads it back.
func sameThroughBDF(t *testing.T, f *Font) {
	t.Helper()
	var doc bytes.Buffer
	require.NoError(t, WriteBDF(&doc, f))
	again, err := ReadBDF(&doc)
	require.NoError(t, err)
	sameCells(t, f.Cells, again.Cells, f.Name)
	require.Equal(t, f.Size, again.Size)
	require.Equal(t, f.DPI, again.DPI)
}

func sameCells(t *testing.T, want, got []glyph.Cell, why string) {
	t.Helper()
	require.Len(t, got, len(want), why)
	for i := range want {
		require.Equal(t, want[i].Key, got[i].Key, why)
		require.Equal(t, want[i].Code, got[i].Code, "%s: %s", why, want[i].Key)
		require.Equal(t, want[i].Digest(), got[i].Digest(), "%s: %s", why, want[i].Key)
	}
}

// Every order that the X font compiler writes, of a BDF of ours. Its padding to
// 8 bytes is left out: bdftopcf 1.1 then writes a table that says 2.
func TestPCFReadsInEveryOrder(t *testing.T) {
	_, err := exec.LookPath("bdftopcf")
	need(t, err, "xfonts-utils (bdftopcf)")
	f := lettered(rand.New(rand.NewSource(3)))
	src := filepath.Join(t.TempDir(), "a.bdf")
	var doc bytes.Buffer
	require.NoError(t, WriteXBDF(&doc, f))
	require.NoError(t, os.WriteFile(src, doc.Bytes(), 0o666))
	for _, pad := range []string{"1", "2", "4"} {
		for _, unit := range []string{"1", "2", "4"} {
			for _, order := range []string{"-mM", "-mL", "-lM", "-lL"} {
				if unit > pad {
					continue // rows would end inside a unit
				}
				why := fmt.Sprintf("-p%s -u%s %s", pad, unit, order)
				out, err := exec.Command("bdftopcf", "-p"+pad, "-u"+unit, order[:2], "-"+order[2:], src).Output()
				require.NoError(t, err, why)
				got, err := ParsePCF(out)
				require.NoError(t, err, why)
				sameCells(t, f.Cells, got.Cells, why)
				require.Equal(t, f.Size, got.Size, why)
				require.Equal(t, f.DPI, got.DPI, why)
			}
		}
	}
}

// Anonymous Pro carries hand-made strikes beside its outlines.
func TestStrikesInAFontReadAsFreeTypeReadsThem(t *testing.T) {
	names := []string{"Anonymous Pro.ttf"}
	if os.Getenv("SMOKEPROOF_ARCHIVE") == "1" {
		names = append(names, "Anonymous Pro B.ttf", "Anonymous Pro I.ttf", "Anonymous Pro BI.ttf")
	}
	for _, name := range names {
		path := "/usr/share/fonts/truetype/anonymous-pro/" + name
		strikes, err := ParseSfntStrikes(installed(t, path, "fonts-anonymous-pro"))
		require.NoError(t, err, name)
		ft := freeTypeReads(t, path)
		require.Len(t, strikes, len(ft), name)
		for _, f := range strikes {
			x, _ := glyph.PixelsPerEm(f.Size, f.DPI).Nominal()
			require.NotEmpty(t, f.Cells)
			agreeWithFreeType(t, ft[x], f, byIndex, fmt.Sprintf("%s at %d ppem", name, x))
			sameThroughBDF(t, f)
		}
	}
}

// GNU Unifont covers the whole plane: as PCF, and as a strike inside a TrueType
// font that says little else.
func TestUnifontReadsAsFreeTypeReadsIt(t *testing.T) {
	if os.Getenv("SMOKEPROOF_ARCHIVE") != "1" {
		t.Skip("make archive runs it: 240,000 glyphs")
	}
	for _, name := range []string{"unifont", "unifont_csur", "unifont_sample"} {
		path := "/usr/share/fonts/X11/misc/" + name + ".pcf.gz"
		f, err := ParseFont(installed(t, path, "xfonts-unifont"))
		require.NoError(t, err, path)
		for _, g := range freeTypeReads(t, path, "codes") {
			agreeWithFreeType(t, g, f, byCode, path)
		}
		sameThroughBDF(t, f)
		t.Logf("%s: %d glyphs", name, len(f.Cells))
	}
	path := "/usr/share/fonts/truetype/unifont/unifont_sample.ttf"
	strikes, err := ParseSfntStrikes(installed(t, path, "fonts-unifont"))
	require.NoError(t, err)
	ft := freeTypeReads(t, path)
	require.Len(t, strikes, len(ft))
	for _, f := range strikes {
		x, _ := glyph.PixelsPerEm(f.Size, f.DPI).Nominal()
		agreeWithFreeType(t, ft[x], f, byIndex, path)
		sameThroughBDF(t, f)
		t.Logf("%s at %d ppem: %d glyphs", path, x, len(f.Cells))
	}
}
