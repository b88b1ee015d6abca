package harness

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A golden changed to the same length, its time of modification set back.
func TestAGoldenChangedBehindItsTimestampIsSeen(t *testing.T) {
	defer func(was time.Duration) { settled = was }(settled)
	settled = 50 * time.Millisecond
	d := newDesk(t)
	time.Sleep(3 * settled)
	_, _, drawn := d.check(t, d.cache)
	require.Zero(t, drawn)
	path := filepath.Join(d.dir, "golden/face/203/8.bdf")
	st, err := os.Stat(path)
	require.NoError(t, err)
	d.replace(t, "golden/face/203/8.bdf", "BITMAP\n3", "BITMAP\n7")
	require.NoError(t, os.Chtimes(path, st.ModTime(), st.ModTime()))
	drawn, glyphs := d.holds(t)
	require.Equal(t, glyphs, drawn)
}

// The clock of a disk may be too coarse to tell a second write from the first.
func TestTheStampOfAFileJustWrittenIsNotTrusted(t *testing.T) {
	defer func(was time.Duration) { settled = was }(settled)
	path := filepath.Join(t.TempDir(), "golden.bdf")
	require.NoError(t, os.WriteFile(path, []byte("one"), 0o666))
	f := (&cache{dir: t.TempDir()}).openFileDigests(filepath.Dir(path))
	settled = time.Minute
	was, err := f.digest(path)
	require.NoError(t, err)
	require.Empty(t, f.known)
	settled = -time.Minute
	again, err := f.digest(path)
	require.NoError(t, err)
	require.Equal(t, was, again)
	require.Len(t, f.known, 1)
}

// What a strike came to over goldens that somebody changed meanwhile is not kept under their names.
func TestWhatWasJudgedOverOtherGoldensIsNotRemembered(t *testing.T) {
	d := newDesk(t)
	p, err := LoadPlan(d.plan)
	require.NoError(t, err)
	r, err := Open(t.Context(), p, Options{Cache: t.TempDir()})
	require.NoError(t, err)
	defer r.Close()
	m, err := r.remembered(t.Context(), &r.strikes[0])
	require.NoError(t, err)
	m.result = &StrikeResult{}
	const path = "golden/face/203/8.bdf"
	was := d.read(t, path)
	d.replace(t, path, "BITMAP\n3", "BITMAP\n7")
	r.remember(m)
	require.Nil(t, r.cache.loadEntry(m.key))
	d.write(t, path, was)
	r.remember(m)
	require.NotNil(t, r.cache.loadEntry(m.key))
}

func TestATornCacheIsNoticedAndRebuilt(t *testing.T) {
	for _, tear := range []struct {
		name string
		do   func(b []byte) []byte
	}{
		{"cut short", func(b []byte) []byte { return b[:len(b)/2] }},
		{"empty", func([]byte) []byte { return nil }},
		{"one bit", func(b []byte) []byte { b[len(b)-3] ^= 4; return b }},
		{"zeros", func(b []byte) []byte { return make([]byte, len(b)) }},
	} {
		t.Run(tear.name, func(t *testing.T) {
			d := newDesk(t)
			torn := 0
			require.NoError(t, filepath.WalkDir(d.cache, func(path string, e fs.DirEntry, err error) error {
				if err != nil || e.IsDir() || e.Name() == "pruned" {
					return err
				}
				b, err := os.ReadFile(path)
				require.NoError(t, err)
				torn++
				return os.WriteFile(path, tear.do(b), 0o666)
			}))
			require.GreaterOrEqual(t, torn, 2)
			drawn, glyphs := d.holds(t)
			require.Equal(t, glyphs, drawn)
		})
	}
}

func TestAnEntryUnderAnotherKeyIsTorn(t *testing.T) {
	c := &cache{dir: t.TempDir()}
	a, b := keyOf(field{"a", nil}), keyOf(field{"b", nil})
	c.store(strikesDir, a, []byte("what a came to"))
	require.NotNil(t, c.load(strikesDir, a))
	require.NoError(t, os.MkdirAll(filepath.Dir(c.path(strikesDir, b)), 0o777))
	require.NoError(t, os.Rename(c.path(strikesDir, a), c.path(strikesDir, b)))
	require.Nil(t, c.load(strikesDir, b))
}

func TestEntriesNobodyAskedForAreRemoved(t *testing.T) {
	c := &cache{dir: t.TempDir()}
	old, young := keyOf(field{"old", nil}), keyOf(field{"young", nil})
	c.store(strikesDir, old, []byte("x"))
	c.store(strikesDir, young, []byte("y"))
	past := time.Now().Add(-2 * entryLife)
	require.NoError(t, os.Chtimes(c.path(strikesDir, old), past, past))
	c.prune()
	require.Nil(t, c.load(strikesDir, old))
	require.NotNil(t, c.load(strikesDir, young))
}
