package harness

import (
	"bytes"
	"encoding/binary"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
)

// commitAll commits a folder, of which it makes a repository if it is none.
func commitAll(t *testing.T, dir string) {
	for _, args := range [][]string{{"init", "-q"}, {"add", "-A"}, {"-c", "user.name=Ada", "-c", "user.email=ada@larkmoor.example", "commit", "-q", "-m", "as it is"}} {
		c := exec.Command("git", args...)
		c.Dir = dir
		out, err := c.CombinedOutput()
		require.NoError(t, err, "%s", out)
	}
}

// widened is a font whose glyph of an index has an advance of a hundred units more.
func widened(font []byte, index int) []byte {
	out := bytes.Clone(font)
	entry := bytes.Index(out, []byte("hmtx"))
	advance := out[int(binary.BigEndian.Uint32(out[entry+8:]))+4*index:]
	binary.BigEndian.PutUint16(advance, binary.BigEndian.Uint16(advance)+100)
	return out
}

func TestWhyAGlyphChangedIsToldFromTheFontThatGitHas(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip("git is not installed")
	}
	const letter = 43 // H of Go Regular
	for _, c := range []struct {
		reason         string
		approved, then []byte // what was approved and what was committed after it, if anything
		now            []byte
		committed      bool
		want           string
		changed        int
		bare           bool
		fill           string // of the device, other than was approved
	}{
		{"a table is gone", goregular.TTF, nil, withoutFpgm(goregular.TTF), true, "fpgm is gone", 0, true, ""},
		{"a version stands between them, and a pointer to one", goregular.TTF, []byte("version https://git-lfs.github.com/spec/v1"), withoutFpgm(goregular.TTF), true, "fpgm is gone", 0, true, ""},
		{"git has not the font", goregular.TTF, nil, withoutFpgm(goregular.TTF), false, "the font has glyph programs and no fpgm", 0, true, ""},
		{"nothing of the hints is another", withoutFpgm(goregular.TTF), nil, widened(withoutFpgm(goregular.TTF), letter), true, "the advance is 100 units wider", 2, false, ""},
		{"the font is the same one, and filled otherwise", withoutFpgm(goregular.TTF), nil, withoutFpgm(goregular.TTF), true, "the font has glyph programs and no fpgm", 0, true, "touch"},
	} {
		plan := facesIn(t, map[string][]byte{"a": c.approved})
		approveAll(t, plan)
		dir := filepath.Dir(plan)
		font := filepath.Join(dir, "a.ttf")
		if !c.committed {
			require.NoError(t, os.WriteFile(filepath.Join(dir, ".gitignore"), []byte("*.ttf"), 0o666))
		}
		commitAll(t, dir)
		if c.then != nil {
			require.NoError(t, os.WriteFile(font, c.then, 0o666))
			commitAll(t, dir)
		}
		require.NoError(t, os.WriteFile(font, c.now, 0o666))
		if c.fill != "" {
			text, err := os.ReadFile(plan)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(plan, bytes.ReplaceAll(text, []byte("sizes ="), []byte("fill = \""+c.fill+"\"\nsizes =")), 0o666))
		}
		told, sum := reasons(t, plan, Options{}, "")
		require.NotEmpty(t, told, c.reason)
		if c.changed > 0 {
			require.Equal(t, c.changed, sum.Changed, c.reason)
		}
		bare := false
		for _, is := range told {
			require.Equal(t, c.want, is.note, "%s: %s", c.reason, is.glyph)
			bare = bare || is.bare
		}
		require.Equal(t, c.bare, bare, c.reason)

		cache := t.TempDir()
		for _, o := range []struct {
			reason  string
			options Options
			keep    string
		}{
			{"those that wait on disk", Options{}, t.TempDir()},
			{"drawn, and then remembered", Options{Cache: cache}, ""},
			{"remembered", Options{Cache: cache}, ""},
			{"remembered, waiting on disk", Options{Cache: cache}, t.TempDir()},
			{"what git has is not remembered, so nothing is another than that", Options{Cache: cache, Audit: 1}, ""},
		} {
			again, _ := reasons(t, plan, o.options, o.keep)
			require.Equal(t, told, again, "%s: %s", c.reason, o.reason)
		}
	}
}

// toldOf is what a check tells of why a glyph changed.
type toldOf struct {
	glyph, dpi, note string
	bare             bool
}

// reasons checks a plan; its changes wait in a folder, if one is named.
func reasons(t *testing.T, plan string, o Options, keep string) (told []toldOf, sum *Summary) {
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(t.Context(), p, o)
	require.NoError(t, err)
	defer r.Close()
	if keep != "" {
		r.KeepChanges(keep)
	}
	sum, err = r.Check(t.Context(), func(s *StrikeResult) error {
		return s.Each(func(c *Change) error {
			told = append(told, toldOf{c.Glyph, c.DPI, c.Note, c.Bare})
			return nil
		})
	})
	require.NoError(t, err)
	return told, sum
}
