package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestTheReadmeShowsWhatIsPrinted holds README's samples of real fonts against what the
// commands print. Those of the demo faces are held beside the demo.
func TestTheReadmeShowsWhatIsPrinted(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	repository, err := filepath.Abs("../..")
	require.NoError(t, err)
	for _, c := range []struct {
		what, begins string
		needs        []string // fonts of Debian packages
		print        func(t *testing.T, fonts []string) string
	}{
		{"a font's faults", "critical  liberationserif-regular: ", []string{"/usr/share/fonts/truetype/liberation2/LiberationSerif-Regular.ttf"},
			func(t *testing.T, fonts []string) string { return printed(t, "look", fonts[0]) }},
		{"a font program lost", "critical  sans: ", []string{"/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"}, lostProgram},
		{"a bitmap font imported", "charR14.pcf.gz: ", []string{"/usr/share/fonts/X11/100dpi/charR14.pcf.gz", "/usr/share/fonts/X11/Type1/c0648bt_.pfb"},
			func(t *testing.T, fonts []string) string {
				plan, err := os.ReadFile(filepath.Join(repository, "fixtures/charter.toml"))
				require.NoError(t, err)
				require.NoError(t, os.WriteFile("charter.toml", plan, 0o666))
				return printed(t, "import", fonts[0], "--plan", "charter.toml", "--size", "14")
			}},
		{"why a glyph is drawn as it is", "e, larkmoor-text-a 8 pt", nil, func(t *testing.T, _ []string) string {
			return printed(t, "draw", "--font", filepath.Join(repository, "fixtures/larkmoor-text-a.pfb"), "--size", "8", "--dpi", "203", "--why", "e")
		}},
	} {
		t.Run(c.what, func(t *testing.T) {
			for _, f := range c.needs {
				if _, err := os.Stat(f); err != nil && os.Getenv("CI") == "true" {
					t.Fatalf("%s is missing; see APT in the Makefile", f)
				} else if err != nil {
					t.Skipf("%s is missing", f)
				}
			}
			t.Chdir(t.TempDir())
			rest := c.print(t, c.needs)
			for i, piece := range pieces(t, string(text), c.begins) {
				at := strings.Index(rest, piece)
				require.GreaterOrEqual(t, at, 0, "README shows, in piece %d:\n%s\nprinted is:\n%s", i, piece, rest)
				rest = rest[at+len(piece):]
			}
		})
	}
}

// pieces are the parts of the block that begins so, between the places where README
// leaves something out, whose lines hold "…".
func pieces(t *testing.T, readme, begins string) []string {
	for _, block := range fence.FindAllStringSubmatch(readme, -1) {
		if !strings.HasPrefix(block[1], begins) {
			continue
		}
		list := []string{""}
		for line := range strings.Lines(block[1]) {
			before, _, cut := strings.Cut(line, "…")
			list[len(list)-1] += before
			if cut {
				list = append(list, "")
			}
		}
		for i, piece := range list {
			list[i] = strings.TrimSpace(piece)
		}
		return list
	}
	t.Fatalf("README has no block that begins with %q", begins)
	return nil
}

func printed(t *testing.T, args ...string) string {
	_, out, said := run(args...)
	require.Empty(t, said, args)
	return out
}

// lostProgram approves a face and checks it again without its font program.
func lostProgram(t *testing.T, fonts []string) string {
	whole, err := os.ReadFile(fonts[0])
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("sans.ttf", whole, 0o666))
	printed(t, "init", "sans.ttf")
	edit("smokeproof.toml", func(plan string) string { return strings.Replace(plan, `glyphs = "all"`, `glyphs = "U+0021-017F"`, 1) })
	printed(t, "approve", "--by", "Ada Marsh", "--why", "first set")
	withoutFontProgram("sans.ttf", "sans.ttf")
	return printed(t, "check", "--no-cache")
}
