package golden

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAFileIsWhatItWasInEachCommitNewestFirst(t *testing.T) {
	r := newRepository(t)
	const name = "[a]*.ttf" // which git would take for a pattern
	path := filepath.Join(r.dir, name)
	for _, content := range []string{"one", "two", "three", "two", ""} {
		require.NoError(t, os.WriteFile(filepath.Join(r.dir, "another.ttf"), []byte("not "+content), 0o666))
		if content == "" {
			require.NoError(t, os.Remove(path))
		} else {
			require.NoError(t, os.WriteFile(path, []byte(content), 0o666))
		}
		r.commit()
	}
	for _, c := range []struct {
		reason string
		most   int
		enough string // content after which there is enough
		want   []string
	}{
		{"each content once", 9, "", []string{"two", "three", "one"}},
		{"that of the last two commits, one of which has none", 2, "", []string{"two"}},
		{"until there is enough", 9, "three", []string{"two", "three"}},
	} {
		var got []string
		require.NoError(t, EachVersion(t.Context(), path, c.most, func(content []byte) bool {
			got = append(got, string(content))
			return string(content) != c.enough
		}))
		require.Equal(t, c.want, got, c.reason)
	}
	none := func([]byte) bool { t.Fatal("there is none"); return false }
	require.NoError(t, EachVersion(t.Context(), filepath.Join(r.dir, "new.ttf"), 9, none), "a file that nobody committed")
	require.Error(t, EachVersion(t.Context(), filepath.Join(t.TempDir(), name), 9, none), "no repository")
}
