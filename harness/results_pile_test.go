package harness

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// held holds letters against others, what changed on a pile or in memory.
func held(t *testing.T, was, now *golden.Font, on *pile) []Change {
	c, err := (&CompareOptions{Gate: diff.Major, DistanceMM: 400}).comparison(was, now)
	require.NoError(t, err)
	c.out.pile = on
	var drawn []render.Drawn
	for _, cell := range now.Cells {
		drawn = append(drawn, render.Drawn{Cell: cell})
	}
	out, err := c.hold(&golden.Strike{ID: c.id, Cells: was.Cells}, drawn)
	require.NoError(t, err)
	all, err := out.all()
	require.NoError(t, err)
	for i := range all {
		all[i].cell, all[i].stored = nil, nil
	}
	return all
}

func TestChangesOnDiskAreThoseInMemory(t *testing.T) {
	const (
		stem  = "##...... ##...... ##...... ##...... ##...... ##......"
		cross = "...##... ...##... ######## ######## ...##... ...##..."
		box   = "######## ##....## ##....## ##....## ##....## ########"
		cut   = "######## ##....## ##....## ...##### ##....## ########"
	)
	many := func(shapes ...string) (all []string) {
		for range 40 {
			all = append(all, shapes...)
		}
		return all
	}
	for _, c := range []struct {
		reason   string
		was, now []string
		onDisk   bool
	}{
		{"nothing changed", []string{stem, box}, []string{stem, box}, false},
		{"a few stay near", []string{stem, box}, []string{cross, cut}, false},
		{"many, of which ties in score keep their order", many(box, stem), many(cut, cross), true},
		{"drawn as others are approved, which is known at the end", many(box, stem, cross), many(cross, box, stem), true},
		{"some are new", many(box), many(cut, cross), true},
		{"some are gone", many(box, stem), many(cut), true},
	} {
		dir := t.TempDir()
		p := &pile{folder: &pileFolder{within: dir}}
		want := held(t, lettersOf(c.was...), lettersOf(c.now...), nil)
		require.Equal(t, want, held(t, lettersOf(c.was...), lettersOf(c.now...), p), c.reason)
		files, err := filepath.Glob(filepath.Join(dir, ".changes-*", "*"))
		require.NoError(t, err)
		require.Equal(t, c.onDisk, len(files) == 1, "%s: %v", c.reason, files)
		p.drop()
		require.NoError(t, p.folder.close())
		left, err := os.ReadDir(dir)
		require.NoError(t, err)
		require.Empty(t, left, c.reason)
	}
}

func TestWhatAKilledRunLeftIsDroppedAfterADay(t *testing.T) {
	dir := t.TempDir()
	at := func(name string, age time.Duration) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(path, 0o777))
		require.NoError(t, os.WriteFile(filepath.Join(path, "1"), nil, 0o666))
		require.NoError(t, os.Chtimes(path, time.Now().Add(-age), time.Now().Add(-age)))
		return path
	}
	old, running, other := at(".changes-1", 25*time.Hour), at(".changes-2", time.Hour), at("changes-3", 25*time.Hour)
	require.NoError(t, os.Symlink(other, filepath.Join(dir, ".changes-4")))
	f := &pileFolder{within: dir}
	_, err := f.create()
	require.NoError(t, err)
	require.NoDirExists(t, old)
	require.DirExists(t, running, "another run may be at work")
	require.DirExists(t, other)
	require.FileExists(t, filepath.Join(other, "1"))
}

func TestChangesThatCannotBeKeptEndTheRun(t *testing.T) {
	path := facesIn(t, map[string][]byte{"larkmoor": larkmoor(t)})
	p, err := LoadPlan(path)
	require.NoError(t, err)
	r, err := Open(t.Context(), p, Options{})
	require.NoError(t, err)
	defer r.Close()
	r.KeepChanges(filepath.Join(t.TempDir(), "not there"))
	sum, err := r.Check(t.Context(), func(*StrikeResult) error { return nil })
	require.ErrorIs(t, err, os.ErrNotExist)
	require.True(t, sum.Partial)
}

// What a change leaves in memory is its place in the order and the shapes that it is known by, a few
// hundred bytes; in results.json it has thousands.
func TestMemoryHardlyGrowsWithWhatChanged(t *testing.T) {
	const fewer, more, most = 400, 1600, 600 // changes, changes, bytes of each
	heap := func(n int) int64 {
		c := newComparison(glyph.Strike{Face: "f", Device: "d", Size: glyph.Pt(12), DPI: glyph.Dots(203)}, 400)
		c.out.pile = &pile{folder: &pileFolder{within: t.TempDir()}}
		c.begin(&golden.Strike{ID: c.id}, func(glyph.Ref) bool { return false })
		for i := range n {
			was, now := squares(i), squares(i+1)
			had := len(c.out.Changes)
			c.glyph(&was, true, &render.Drawn{Cell: now})
			require.NoError(t, c.settle(had, c.approved))
		}
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		runtime.KeepAlive(c)
		require.Equal(t, n, c.out.Changed)
		return int64(m.HeapAlloc)
	}
	heap(fewer) // what is made once
	few, many := heap(fewer), heap(more)
	require.Less(t, (many-few)/(more-fewer), int64(most), "bytes a change")
}

// squares is a drawing of its own for every i.
func squares(i int) glyph.Cell {
	const side = 40
	b := glyph.NewBitmap(0, 0, side, side, 1)
	for x := range side {
		for y := range side {
			if x == 0 || y == 0 || x == side-1 || y == side-1 || x/4%2 == 0 && y/4%2 == 0 && (i>>(x/8+5*(y/20)))&1 == 0 {
				b.Set(x, y, 1)
			}
		}
	}
	return glyph.Cell{Ref: glyph.Ref{Key: glyph.Key(fmt.Sprint("g", i)), Code: glyph.NoCode, Index: i}, Advance: side, Bitmap: b}
}
