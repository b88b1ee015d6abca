package harness

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// nameless is a font whose post table has no names: version 3.
func nameless(font []byte) []byte {
	out := bytes.Clone(font)
	entry := bytes.Index(out, []byte("post"))
	binary.BigEndian.PutUint32(out[binary.BigEndian.Uint32(out[entry+8:]):], 0x30000)
	return out
}

func TestGoldensFollowTheirGlyphsToNewNames(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"a": goregular.TTF})
	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(plan, bytes.Replace(text, []byte(`"U+0020-007E"`), []byte(`"all"`), 1), 0o666))
	approveAll(t, plan)
	all := check(t, plan).Glyphs
	font := filepath.Join(filepath.Dir(plan), "a.ttf")
	carry := ApproveOptions{By: "Cyd", Why: "names dropped in production", Renamed: true}
	require.Zero(t, approve(t, plan, carry).Renamed, "all have the names that they were approved under")

	require.NoError(t, os.WriteFile(font, gobold.TTF, 0o666))
	changed := check(t, plan).Changed
	require.NotZero(t, changed)
	require.NoError(t, os.WriteFile(font, nameless(gobold.TTF), 0o666))
	sum := check(t, plan)
	require.Equal(t, []int{all, all}, []int{sum.New, sum.Missing})
	a := approve(t, plan, carry)
	require.Equal(t, []int{all, 0}, []int{a.Renamed, a.Approved})
	sum = check(t, plan)
	require.Equal(t, []int{0, 0, changed}, []int{sum.New, sum.Missing, sum.Changed}, "a bitmap that nobody has seen is approved by no new name")

	require.NoError(t, os.WriteFile(font, nameless(goregular.TTF), 0o666))
	require.Equal(t, all, check(t, plan).Equal, "the goldens are those of before")
	r := openRun(t, plan, Filter{})
	problems, err := r.Store.Verify(t.Context())
	require.NoError(t, err)
	require.Empty(t, problems)
}

func TestOnlyGoldensWithoutTheirGlyphAreCarriedOver(t *testing.T) {
	carry := ApproveOptions{By: "Cyd", Why: "production names", Renamed: true}
	for _, c := range []struct {
		reason  string
		glyphs  string
		before  func(t *testing.T, plan string)
		renamed int
	}{
		{"those asked for", "H,e", func(*testing.T, string) {}, 4},
		{"somebody has approved what the new name draws", "", func(t *testing.T, plan string) {
			approve(t, plan, ApproveOptions{By: "Ada", Why: "seen"})
		}, 0},
	} {
		plan := facesIn(t, map[string][]byte{"a": goregular.TTF})
		approveAll(t, plan)
		require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(plan), "a.ttf"), nameless(goregular.TTF), 0o666))
		c.before(t, plan)
		only, err := ParseSelection(c.glyphs)
		require.NoError(t, err)
		a, err := openRun(t, plan, Filter{Glyphs: only}).Approve(t.Context(), carry)
		require.NoError(t, err, c.reason)
		require.Equal(t, c.renamed, a.Renamed, c.reason)
	}
}
