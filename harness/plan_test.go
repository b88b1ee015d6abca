package harness

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

func planIn(t *testing.T, text string) (*Plan, error) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a.ttf"), nil, 0o666))
	return ParsePlan(filepath.Join(dir, "p.toml"), []byte(text))
}

const wholePlan = `
[gate]
severity = "minor"
[reading]
distance_mm = 350
[golden]
folder = "approved"
[[face]]
name = "text"
file = "a.ttf"
glyphs = "U+0041-005A,eacute"
[[device]]
name = "label"
dots_per_mm = 8
sizes = [6, 7.5]
[[device]]
name = "panel"
dpi = "203,406"
mode = "grey"
sizes = ["8"]
`

func TestPlanReadsEveryKey(t *testing.T) {
	p, err := planIn(t, wholePlan)
	require.NoError(t, err)
	require.Equal(t, diff.Minor, p.Gate)
	require.Equal(t, 350.0, p.DistanceMM)
	require.Equal(t, "approved", filepath.Base(p.Goldens))
	require.True(t, p.Faces[0].Glyphs.Has(glyph.Ref{Name: "Q", Code: 'Q'}))
	require.True(t, p.Faces[0].Glyphs.Has(glyph.Ref{Name: "eacute", Code: 'é'}))
	require.False(t, p.Faces[0].Glyphs.Has(glyph.Ref{Name: "q", Code: 'q'}))
	require.Equal(t, glyph.Resolution{X: 203200, Y: 203200}, p.Devices[0].DPI, "8 dots/mm is 203.2 dpi exactly")
	require.Equal(t, []glyph.Points{6000, 7500}, p.Devices[0].Sizes)
	require.Equal(t, glyph.Resolution{X: 203000, Y: 406000}, p.Devices[1].DPI)
	require.Equal(t, glyph.Grey, p.Devices[1].Mode)
}

func TestAPlanSavedOnWindowsIsTheSamePlan(t *testing.T) {
	p, err := planIn(t, "\uFEFF"+strings.ReplaceAll(wholePlan, "\n", "\r\n"))
	require.NoError(t, err)
	require.Equal(t, diff.Minor, p.Gate)
	require.Equal(t, []glyph.Points{6000, 7500}, p.Devices[0].Sizes)
	_, err = planIn(t, "\uFEFF\r\n\r\nsizes = 8\r\n")
	require.ErrorContains(t, err, "p.toml:3: unknown key")
}

func TestPlanFaultsNameFileAndLine(t *testing.T) {
	const device = "[[device]]\nname = \"d\"\ndpi = 300\nsizes = [8]\n"
	const face = "[[face]]\nname = \"a\"\nfile = \"a.ttf\"\n"
	for _, c := range []struct{ reason, text, want string }{
		{"a misspelt key must not be ignored", face + "glyph = \"A\"\n" + device, `p.toml:4: unknown key "face.glyph"`},
		{"a broken file says where", face + "[[device]\n", "p.toml:4:"},
		{"a face needs a file that is there", "[[face]]\nname = \"a\"\nfile = \"b.ttf\"\n" + device, "p.toml:3: font file b.ttf does not exist"},
		{"two faces of one name would share goldens", face + "[[face]]\nname = \"A\"\nfile = \"a.ttf\"\n" + device, `p.toml:5: face "A" is named twice`},
		{"and so would the other way round", strings.Replace(face, "\"a\"", "\"A\"", 1) + face + device, `p.toml:5: face "a" is named twice`},
		{"a gate is a severity", "[gate]\nseverity = \"bad\"\n" + face + device, `p.toml:2: severity "bad" is unknown`},
		{"a size is a decimal number", face + "[[device]]\nname = \"d\"\ndpi = 300\nsizes = [8, 0]\n", "p.toml:7: size in points"},
		{"a resolution is needed", face + "[[device]]\nname = \"d\"\nsizes = [8]\n", `p.toml:4: device "d" has no resolution`},
		{"only one resolution counts", face + "[[device]]\nname = \"d\"\ndpi = 300\ndots_per_mm = 8\nsizes = [8]\n", "p.toml:7: device \"d\" gives both"},
		{"a process needs a command", face + device + "renderer = \"process\"\n", "p.toml:8: device \"d\" has renderer"},
		{"a place that nothing is put into", face + device + "renderer = \"process\"\ncommand = [\"x\", \"{font}\", \"{pt}\"]\n", "p.toml:9: device \"d\": command holds {pt}; the places are {font} "},
		{"a command run for each strike must be told the font", face + device + "renderer = \"process\"\ncommand = [\"x\", \"{size}\"]\n", "p.toml:9: device \"d\": command holds {size} but not {font}"},
		{"an option that would not be honoured is refused", face + device + "renderer = \"process\"\ncommand = [\"x\"]\nfill = \"touch\"\n", "p.toml:10: fill \"touch\" is not supported"},
		{"nor by FreeType's worker, whose fill is its own", face + device + "renderer = \"freetype\"\nfill = \"touch\"\n", "p.toml:9: fill \"touch\" is not supported"},
		{"grey devices have nothing to place sideways", face + device + "mode = \"grey\"\nsideways = true\n", "p.toml:9: sideways is for the built-in renderer on bilevel devices"},
		{"sizes by the thousand are a mistake or an attack", face + "[[device]]\nname = \"d\"\ndpi = 300\nsizes = [" + strings.Repeat("8,", 1001) + "]\n", "p.toml:7: device \"d\" has 1001 sizes, the limit is 1000"},
		{"no resolution is too large to count in", face + "[[device]]\nname = \"d\"\ndots_per_mm = 90000\nsizes = [8]\n", "p.toml:6: 90000 dots/mm is out of range"},
		{"a name must be a file's", strings.Replace(face, "\"a\"", "\""+strings.Repeat("x", 1<<16)+"\"", 1) + device, "p.toml:2: face \"xxxx"},
		{"strikes by the million are a mistake or an attack", strings.Repeat(face, 1100) + "[[device]]\nname = \"d\"\ndpi = 300\nsizes = [" + numbers(1000) + "]\n", "the plan stands for 1100000 strikes, the limit is 1048576"},
		{"a reading distance is a reader's", "[reading]\ndistance_mm = 0\n" + face + device, "p.toml:2: reading distance 0 mm is out of range"},
		{"at a distance that is no number all would be too small to see", "[reading]\ndistance_mm = nan\n" + face + device, "p.toml:2: reading distance NaN mm is out of range"},
		{"a folder is no font", "[[face]]\nname = \"a\"\nfile = \".\"\n" + device, "p.toml:3: font file . is no regular file"},
		{"a face without file says so, and not that its folder is none", "[[face]]\nname = \"a\"\n" + device, "p.toml:1: face \"a\" names no file"},
		{"goldens lie under the name", "[[face]]\nfile = \"a.ttf\"\n" + device, "p.toml:1: face without a name"},
		{"faces of a collection count from 0", face + "index = -1\n" + device, "p.toml:4: face index -1 is negative"},
		{"glyphs are a selection", face + "glyphs = \"A,,B\"\n" + device, "p.toml:4: glyph selection has an empty part"},
		{"an index is a number", face + "glyphs = \"#x\"\n" + device, "p.toml:4: glyph selection \"#x\" is no index"},
		{"a list would be another way to say the same", face + "glyphs = [\"A\"]\n" + device, `p.toml:4:10: key "face.glyphs": cannot decode TOML array; write glyphs = "U+0020-007E,eacute"`},
		{"one size is a list as well", face + "[[device]]\nname = \"d\"\ndpi = 300\nsizes = 8\n", `p.toml:7:9: key "device.sizes": cannot decode TOML integer; write sizes = [6, 8, 10]`},
		{"a size twice would be a golden twice", face + "[[device]]\nname = \"d\"\ndpi = 300\nsizes = [8, 8.0]\n", "p.toml:7: size 8 is listed twice"},
		{"a fill rule is one of four", face + device + "fill = \"round\"\n", "p.toml:8: "},
		{"one of two fill rules would never be as approved", face + device + strings.Replace(device, "\"d\"", "\"e\"", 1) + "fill = \"touch\"\n",
			`p.toml:12: devices "d" and "e" share their goldens of 8 pt and differ in fill, so one would never pass`},
		{"nor of two ways to place glyphs", face + device + "sideways = true\n" + strings.Replace(device, "\"d\"", "\"e\"", 1),
			`p.toml:9: devices "d" and "e" share their goldens of 8 pt and differ in sideways`},
		{"a renderer is one of three", face + device + "renderer = \"builtin\"\n", "p.toml:8: renderer \"builtin\" is unknown"},
		{"a command that would not be run is refused", face + device + "command = [\"x\"]\n", "p.toml:8: device \"d\" has a command but renderer"},
		{"an empty plan checks nothing and must not pass", "", "p.toml:1: no [[face]]"},
	} {
		_, err := planIn(t, c.text)
		require.Error(t, err, c.reason)
		require.Contains(t, err.Error(), c.want, c.reason)
		var all PlanErrors
		require.ErrorAs(t, err, &all, c.reason)
		for _, e := range all {
			require.NotContains(t, e.Error(), "\n", c.reason)
		}
	}
}

func TestDevicesMayShareGoldens(t *testing.T) {
	const face = "[[face]]\nname = \"a\"\nfile = \"a.ttf\"\n"
	device := func(name, more string) string {
		return fmt.Sprintf("[[device]]\nname = %q\ndpi = 300\n%s\n", name, more)
	}
	for _, c := range []struct{ reason, first, second string }{
		{"drawn alike", "sizes = [8]", "sizes = [8]"},
		{"another program, held against the same bitmaps", "sizes = [8]\nfill = \"inside\"", "sizes = [8]\nrenderer = \"process\"\ncommand = [\"x\"]"},
		{"other sizes", "sizes = [8]\nfill = \"inside\"", "sizes = [9]"},
		{"grey, which has goldens of its own", "sizes = [8]\nfill = \"inside\"", "sizes = [8]\nmode = \"grey\""},
	} {
		_, err := planIn(t, face+device("d", c.first)+device("e", c.second))
		require.NoError(t, err, c.reason)
	}
}

// numbers lists the numbers from 1.
func numbers(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "%d,", i+1)
	}
	return b.String()
}

func TestAStrikeTooLargeForAGoldenIsRefused(t *testing.T) {
	for _, c := range []struct{ why, dpi, size string }{
		{"larger than a golden may be", "2400", "500"},
		{"larger than 26.6 can hold", "100000", "100000"},
	} {
		p, err := planIn(t, "[[face]]\nname = \"a\"\nfile = \"a.ttf\"\n[[device]]\nname = \"d\"\ndpi = "+c.dpi+"\nsizes = ["+c.size+"]\n")
		require.NoError(t, err, c.why)
		_, err = Open(t.Context(), p, Options{})
		require.ErrorIs(t, err, ErrUsage, c.why)
		require.ErrorContains(t, err, "pixels per em, the limit is 16384", c.why)
	}
}

func TestPlanReportsAllFaultsAtOnce(t *testing.T) {
	_, err := planIn(t, "[[face]]\nname = \"a\"\nfile = \"b.ttf\"\n[[device]]\nname = \"d\"\nmode = \"red\"\n")
	var all PlanErrors
	require.ErrorAs(t, err, &all)
	require.Len(t, all, 4, "file, mode, resolution and sizes")
}

func TestSelectionRefusesWhatItCannotMean(t *testing.T) {
	for _, bad := range []string{"U+", "U+0042-0041", "z-a", "A,,B", "U+ZZ"} {
		_, err := ParseSelection(bad)
		require.Error(t, err, bad)
	}
}

func TestSelectionTakesOneCharacterAsItself(t *testing.T) {
	s, err := ParseSelection("é, comma")
	require.NoError(t, err)
	require.True(t, s.Has(glyph.Ref{Key: "U+00E9", Code: 'é'}))
	require.True(t, s.Has(glyph.Ref{Key: "comma", Name: "comma", Code: ','}))
	require.False(t, s.Has(glyph.Ref{Key: "e", Name: "e", Code: 'e'}))
}

func TestSelectionTakesTwoCharactersAsARange(t *testing.T) {
	s, err := ParseSelection("a-z,alef-ar")
	require.NoError(t, err)
	for _, c := range []struct {
		reason string
		ref    glyph.Ref
		has    bool
	}{
		{"its first", glyph.Ref{Name: "a", Code: 'a'}, true},
		{"its last", glyph.Ref{Name: "z", Code: 'z'}, true},
		{"none before", glyph.Ref{Name: "grave", Code: '`'}, false},
		{"none behind", glyph.Ref{Name: "braceleft", Code: '{'}, false},
		{"longer words are a name", glyph.Ref{Name: "alef-ar", Code: 0x627}, true},
	} {
		require.Equal(t, c.has, s.Has(c.ref), c.reason)
	}
}

func TestAPartOfASelectionThatSelectsNothingIsLeft(t *testing.T) {
	s, err := ParseSelection("e,eacut,U+0041-005A,U+4E00,#7,#9")
	require.NoError(t, err)
	left := s.Without([]glyph.Ref{{Key: "e", Name: "e", Code: 'e', Index: 3}, {Key: "B", Name: "B", Code: 'B', Index: 7}})
	require.Equal(t, "eacut, U+4E00, #9", left.String())
	require.True(t, left.Without([]glyph.Ref{{Key: "eacut", Index: 9}, {Code: 0x4e00}}).All())
}

// A glyph that the plan no longer has may be asked for as long as it has a golden.
func TestWhatNeitherFontNorGoldensHaveIsUnknown(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"regular": goregular.TTF})
	approveAll(t, plan)
	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(plan, []byte(strings.Replace(string(text), "U+0020-007E", "U+0041-0042", 1)), 0o666))
	asked, err := ParseSelection("A,z,nosuch")
	require.NoError(t, err)
	r := openRun(t, plan, Filter{Glyphs: asked})
	unknown, err := r.Unknown(t.Context())
	require.NoError(t, err)
	require.Equal(t, "nosuch", unknown.String(), "A is the plan's, z has a golden")
}

func FuzzParsePlan(f *testing.F) {
	f.Add(wholePlan)
	f.Add(strings.Repeat("[", 40))
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ParsePlan(filepath.Join(t.TempDir(), "p.toml"), []byte(text))
		require.True(t, (p == nil) == (err != nil))
	})
}
