package golden

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzIntent finishes intents that somebody left in a golden folder: whatever
// they ask for, what lies outside stays as it is.
func FuzzIntent(f *testing.F) {
	f.Add([]byte(`[{"From":"face/203/.new-8.bdf","To":"face/203/8.bdf"},{"From":"face/203/8.bdf.gz"}]`))
	f.Add([]byte(`[{"From":"way/precious"},{"From":"../precious","To":"face"}]`))
	f.Add([]byte(`[{"From":"face/203/8.bdf","To":"way/precious"},{"From":"way","To":"face/way"},{"From":"."}]`))
	f.Fuzz(func(t *testing.T, intent []byte) {
		top := t.TempDir()
		precious, dir := filepath.Join(top, "precious"), filepath.Join(top, "golden")
		require.NoError(t, os.WriteFile(precious, []byte("precious"), 0o666))
		require.NoError(t, os.MkdirAll(filepath.Join(dir, "face", "203"), 0o777))
		require.NoError(t, os.Symlink(top, filepath.Join(dir, "way")))
		for _, name := range []string{"8.bdf", ".new-8.bdf", "8.approvals"} {
			require.NoError(t, os.WriteFile(filepath.Join(dir, "face", "203", name), []byte(name), 0o666))
		}
		require.NoError(t, os.WriteFile(filepath.Join(dir, intentName), intent, 0o666))
		root, err := os.OpenRoot(dir)
		require.NoError(t, err)
		defer root.Close()
		if err := finish(root); err == nil {
			require.NoFileExists(t, filepath.Join(dir, intentName), "what is finished is not finished again")
		}
		data, err := os.ReadFile(precious)
		require.NoError(t, err)
		require.Equal(t, "precious", string(data))
		names, err := os.ReadDir(top)
		require.NoError(t, err)
		require.Len(t, names, 2, "nothing new stands outside")
	})
}
