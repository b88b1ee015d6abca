//go:build unix

package golden

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

func TestOrphansAreFoundBothWays(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct{ why, remove, text string }{
		{"bitmaps without approvals", ".approvals", "without an approvals file"},
		{"approvals without bitmaps", ".bdf", "its bitmap is gone"},
	} {
		s := Open(t.TempDir())
		require.NoError(t, s.Record(ctx, demo, decisions(1, "Ada")), c.why)
		require.NoError(t, os.Remove(filepath.Join(s.dir, place(demo)+c.remove)), c.why)
		problems, err := s.Verify(ctx)
		require.NoError(t, err, c.why)
		require.NotEmpty(t, problems, c.why)
		require.Contains(t, problems[0].Text, c.text, c.why)
	}
}

func TestAStoreThatIsNotThereIsNotVerified(t *testing.T) {
	dir := t.TempDir()
	for _, of := range []string{"golden", "."} { // no folder, and an empty one
		_, err := Open(filepath.Join(dir, of)).Verify(context.Background())
		require.ErrorContains(t, err, "there are no goldens; approve some first", "nothing wrong is not the same as nothing there")
	}
}

func TestALinkOutOfTheStoreIsRefused(t *testing.T) {
	dir, outside := t.TempDir(), t.TempDir()
	require.NoError(t, os.Symlink(outside, filepath.Join(dir, FileName(demo.Face))))
	require.NoError(t, os.Mkdir(filepath.Join(outside, demo.DPI.String()), 0o777))
	err := Open(dir).Record(context.Background(), demo, decisions(1, "Ada"))
	require.ErrorContains(t, err, "symbolic link")
	left, err := os.ReadDir(filepath.Join(outside, demo.DPI.String()))
	require.NoError(t, err)
	require.Empty(t, left, "nothing was written outside")
}

func TestAFolderThatIsALinkIsNotTakenForVerified(t *testing.T) {
	ctx := context.Background()
	face := FileName(demo.Face)
	for _, c := range []struct{ why, link, to string }{
		{"the folder of a face", face, "moved"},
		{"the folder of a resolution", filepath.Join(face, demo.DPI.String()), "moved"},
		{"a link in a circle", face, "golden/" + face},
		{"the store", "", "moved"},
	} {
		top := t.TempDir()
		dir := filepath.Join(top, "golden")
		require.NoError(t, Open(dir).Record(ctx, demo, decisions(1, "Ada")), c.why)
		require.NoError(t, os.Rename(filepath.Join(dir, c.link), filepath.Join(top, "moved")), c.why)
		require.NoError(t, os.Symlink(filepath.Join(top, c.to), filepath.Join(dir, c.link)), c.why)
		_, err := Open(dir).Verify(ctx)
		require.ErrorContains(t, err, "is a symbolic link", c.why)
		require.Error(t, Open(dir).Record(ctx, demo, decisions(2, "Ada")), c.why)
	}
}

// What a stranger's branch may plant in a golden folder costs nothing outside it.
func TestPlantedFilesDoNoHarmOutsideTheStore(t *testing.T) {
	ctx := context.Background()
	strike := filepath.Join(FileName(demo.Face), demo.DPI.String())
	size := demo.Size.String()
	for _, c := range []struct {
		why   string
		plant func(dir, outside string) error
		fails bool
	}{
		{"a lock that is a link", func(dir, outside string) error {
			return os.Symlink(outside, filepath.Join(dir, ".lock"))
		}, true},
		{"a lock that is a pipe without a reader", func(dir, _ string) error {
			return syscall.Mkfifo(filepath.Join(dir, ".lock"), 0o666)
		}, false},
		{"a file aside that is a link", func(dir, outside string) error {
			return os.Symlink(outside, filepath.Join(dir, strike, asidePrefix+size+".bdf"))
		}, false},
		{"an intent through a link", func(dir, outside string) error {
			return errors.Join(os.Symlink(filepath.Dir(outside), filepath.Join(dir, "way")),
				os.WriteFile(filepath.Join(dir, intentName), []byte(`[{"From":"way/precious"}]`), 0o666))
		}, true},
		{"an intent that renames outwards", func(dir, outside string) error {
			return os.WriteFile(filepath.Join(dir, intentName), []byte(`[{"From":"`+filepath.Join(strike, size+".bdf")+`","To":"`+outside+`"}]`), 0o666)
		}, true},
		{"an intent that is a link", func(dir, outside string) error {
			return os.Symlink(outside, filepath.Join(dir, intentName))
		}, true},
		{"an intent without end", func(dir, _ string) error {
			return os.Symlink("/dev/zero", filepath.Join(dir, intentName))
		}, true},
		{"goldens that are a pipe without a writer", func(dir, _ string) error {
			path := filepath.Join(dir, strike, size+".bdf")
			return errors.Join(os.Remove(path), syscall.Mkfifo(path, 0o666))
		}, true},
		{"goldens that are a device without end", func(dir, _ string) error {
			path := filepath.Join(dir, strike, size+".bdf")
			return errors.Join(os.Remove(path), os.Symlink("/dev/zero", path))
		}, true},
		{"approvals that are a folder", func(dir, _ string) error {
			path := filepath.Join(dir, strike, size+".approvals")
			return errors.Join(os.Remove(path), os.Mkdir(path, 0o777))
		}, true},
	} {
		dir, outside := t.TempDir(), filepath.Join(t.TempDir(), "precious")
		require.NoError(t, os.WriteFile(outside, []byte("precious"), 0o666), c.why)
		s := Open(dir)
		require.NoError(t, s.Record(ctx, demo, decisions(1, "Ada")), c.why)
		require.NoError(t, os.Remove(filepath.Join(dir, ".lock")), c.why)
		require.NoError(t, c.plant(dir, outside), c.why)
		_, loaded := s.Load(ctx, demo)
		recorded := s.Record(ctx, demo, decisions(2, "Ada"))
		if c.fails {
			require.Error(t, loaded, c.why)
			require.Error(t, recorded, c.why)
			require.NotContains(t, recorded.Error(), "\n", c.why)
		} else {
			require.NoError(t, errors.Join(loaded, recorded), c.why)
		}
		data, err := os.ReadFile(outside)
		require.NoError(t, err, c.why)
		require.Equal(t, "precious", string(data), c.why)
	}
}

func TestHostileKeysSurviveAsOneWord(t *testing.T) {
	for _, k := range []glyph.Key{"%", "%41", "a\nENDFONT", "\x00", "\xff", "../x", " "} {
		got, err := UnescapeKey(EscapeKey(k))
		require.NoError(t, err)
		require.Equal(t, k, got)
		require.NotContains(t, EscapeKey(k), "\n")
	}
}
