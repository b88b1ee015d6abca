package golden

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// history is a file after three acts: all glyphs, then one anew, then a
// rejection of another's candidate.
func history(t *testing.T) *approvals {
	a := newApprovals()
	require.NoError(t, a.add(decisions(1, "Ada")))
	require.NoError(t, a.add(decisions(2, "Bob")[:1]))
	ds := decisions(3, "Cyd")[1:2]
	ds[0].Verdict = Reject
	require.NoError(t, a.add(ds))
	return a
}

func TestEachDecisionCarriesTheOneBefore(t *testing.T) {
	a, err := readApprovals(history(t).bytes(nil), nil)
	require.NoError(t, err)
	require.Len(t, a.acts, 3)
	require.Len(t, a.glyphs, 6)
	require.Equal(t, tally{}, a.balance())
	require.Len(t, a.heads(), 1)
	for name := a.heads()[0]; ; name = a.acts[name].after[0] {
		if len(a.acts[name].after) == 0 {
			require.Equal(t, "Ada", a.acts[name].by)
			break
		}
		require.Len(t, a.acts[name].after, 1)
	}
}

// Each way to change a file by hand, every digest that a person can make with
// sha256sum put right again.
func TestAFileThatWasChangedByHandIsFound(t *testing.T) {
	text := string(history(t).bytes(nil))
	lines := strings.SplitAfter(strings.TrimSuffix(text, "\n"), "\n")
	acts := slices.IndexFunc(lines, func(l string) bool { return strings.Contains(l, "Ada") })
	other := decisions(9, "")[0].Cell.Digest()
	for _, c := range []struct {
		why    string
		change func([]string) []string
	}{
		{"another bitmap under an old approval", func(l []string) []string {
			i := slices.IndexFunc(l, func(s string) bool { return strings.HasPrefix(s, "A ") })
			f := strings.Fields(l[i])
			f[3] = encodeMark(other[:])
			l[i] = strings.Join(f, " ") + "\n"
			return l
		}},
		{"a glyph line taken out", func(l []string) []string { return l[:len(l)-1] }},
		{"a glyph line added", func(l []string) []string {
			return append(l, strings.Replace(strings.TrimSuffix(l[len(l)-1], "\n"), "with%20space", "z", 1)+"\n")
		}},
		{"a glyph given to another act", func(l []string) []string {
			i := slices.IndexFunc(l, func(s string) bool { return strings.HasPrefix(s, "A ") }) // of one line
			f := strings.Fields(l[i])
			for _, s := range l {
				if name := strings.Fields(s); name[0] == "%=" && name[1] != f[2] {
					f[2] = name[1]
					break
				}
			}
			l[i] = strings.Join(f, " ") + "\n"
			return l
		}},
		{"an act taken out with its glyphs", func(l []string) []string {
			name := strings.Fields(l[acts])[1]
			return slices.DeleteFunc(l, func(s string) bool {
				f := strings.Fields(s)
				return f[0] == "%=" && f[1] == name || f[0] != "%=" && len(f) > 2 && f[2] == name
			})
		}},
		{"another name", func(l []string) []string { l[acts] = strings.Replace(l[acts], "Ada", "Eve", 1); return l }},
		{"another reason, the act named anew", func(l []string) []string {
			f := strings.SplitN(strings.TrimSuffix(l[acts], "\n"), " ", 3)
			x := strings.Replace(f[2], "looked", "glanced", 1)
			sum := sha256Of(x)
			name := base64.RawURLEncoding.EncodeToString(sum)[:nameLength]
			l[acts] = "%= " + name + " " + x + "\n"
			for i := range l {
				if i != acts {
					l[i] = strings.Replace(l[i], " "+f[1]+" ", " "+name+" ", 1)
				}
			}
			return l
		}},
	} {
		changed := strings.Join(c.change(slices.Clone(lines)), "")
		require.NotEqual(t, text, changed, c.why)
		a, err := readApprovals([]byte(changed), nil)
		require.True(t, err != nil || a.balance() != tally{}, c.why)
		if err == nil {
			require.ErrorIs(t, a.add(decisions(5, "Dee")), errTampered, "%s: nothing is recorded on top", c.why)
		}
	}
}

func TestActsOfOneNameGetLongerNames(t *testing.T) {
	a := newApprovals()
	first := &act{verdict: Approve, by: "Ada", when: time.Unix(1, 0).UTC()}
	a.sign(first)
	second := &act{verdict: Approve, by: "Bob", when: time.Unix(1, 0).UTC()}
	a.acts[second.digest()[:nameLength]] = first // as if it met
	a.sign(second)
	require.Equal(t, second.digest()[:nameLength+1], second.name)
	got, err := parseAct(second.name + " " + second.text())
	require.NoError(t, err)
	require.Equal(t, "Bob", got.by)
}

func TestManyDecisionsTakeTimeInProportion(t *testing.T) {
	var ds []Decision
	for i := range 60_000 {
		k := glyph.Key(fmt.Sprintf("cid%05d", i))
		ds = append(ds, Decision{Cell: glyph.Cell{Ref: glyph.Ref{Key: k, Index: i}, Bitmap: glyph.Bitmap{Depth: 1}}, Verdict: Approve, By: "Ada"})
	}
	a := newApprovals()
	require.NoError(t, a.add(ds))
	start := time.Now()
	require.NoError(t, a.add(ds[:1000]))
	require.Less(t, time.Since(start), 20*time.Second, "a CJK strike has 65,535 glyphs")
	require.Len(t, a.glyphs, 60_000)
}

func TestADroppedGlyphStaysDropped(t *testing.T) {
	s := Open(t.TempDir())
	ctx := context.Background()
	require.NoError(t, s.Record(ctx, demo, decisions(1, "Ada")))
	ds := decisions(1, "Bob")[:1]
	ds[0].Verdict, ds[0].Why = Gone, "cut from the set"
	require.NoError(t, s.Record(ctx, demo, ds))
	problems, err := s.Verify(ctx)
	require.NoError(t, err)
	require.Empty(t, problems)
	got, err := s.Load(ctx, demo)
	require.NoError(t, err)
	require.Len(t, got.Cells, 4)
	require.False(t, got.Approved(&ds[0].Cell), "that it was approved once is not enough")
	require.NoError(t, s.Record(ctx, demo, decisions(6, "Cyd")[:1]))
	problems, err = s.Verify(ctx)
	require.NoError(t, err)
	require.Empty(t, problems, "it may come back")
}

func TestGoldensAreReadAsARevisionHadThem(t *testing.T) {
	r := newRepository(t)
	ctx := context.Background()
	r.git("tag", "release-1")
	r.record(decisions(2, "Ada"))
	r.commit()
	for _, dir := range []string{r.dir, filepath.Join(r.dir, "deeper", "golden")} {
		s, err := OpenAt(ctx, dir, "release-1")
		require.NoError(t, err)
		got, err := s.Load(ctx, demo)
		require.NoError(t, err)
		if dir == r.dir {
			require.Len(t, got.Cells, 5)
			for i, d := range decisions(1, "Ada") {
				require.Equal(t, d.Cell.Digest(), got.Cells[i].Digest())
				require.True(t, got.Approved(&got.Cells[i]))
			}
		} else {
			require.Empty(t, got.Cells, "the folder was not there then")
		}
		require.ErrorContains(t, s.Record(ctx, demo, decisions(3, "Ada")), "cannot be changed")
		require.NoError(t, s.Close())
	}
	_, err := OpenAt(ctx, r.dir, "--all")
	require.ErrorContains(t, err, "knows no revision")
	_, err = OpenAt(ctx, t.TempDir(), "HEAD")
	require.ErrorContains(t, err, "not a git repository")
}

func TestChangingTheCompressionLeavesOneFile(t *testing.T) {
	s := Open(t.TempDir())
	ctx := context.Background()
	for i, gz := range []bool{false, true, false} {
		s.Gzip = gz
		require.NoError(t, s.Record(ctx, demo, decisions(int64(i+1), "Ada")))
		found, err := filepath.Glob(filepath.Join(s.dir, place(demo)+".bdf*"))
		require.NoError(t, err)
		require.Len(t, found, 1)
		require.Equal(t, gz, strings.HasSuffix(found[0], ".gz"))
		problems, err := s.Verify(ctx)
		require.NoError(t, err)
		require.Empty(t, problems)
	}
	data, err := os.ReadFile(filepath.Join(s.dir, place(demo)+".bdf"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(s.dir, place(demo)+".bdf.gz"), data, 0o666))
	problems, err := s.Verify(ctx)
	require.NoError(t, err)
	require.Contains(t, problems[0].Text, "both .bdf and .bdf.gz")
}

func TestImportedBitmapsAreNobodysUntilRecorded(t *testing.T) {
	s := Open(t.TempDir())
	ctx := context.Background()
	require.NoError(t, s.Record(ctx, demo, decisions(1, "Ada")))
	ds := decisions(2, "Bob")
	require.NoError(t, s.Import(ctx, demo, []glyph.Cell{ds[2].Cell}))
	got, err := s.Load(ctx, demo)
	require.NoError(t, err)
	require.Equal(t, ds[2].Cell.Digest(), got.Cells[2].Digest())
	require.False(t, got.Approved(&got.Cells[2]))
	require.True(t, got.Approved(&got.Cells[1]))
	problems, err := s.Verify(ctx)
	require.NoError(t, err)
	require.Len(t, problems, 1)
	require.NoError(t, s.Record(ctx, demo, ds[2:3]))
	problems, err = s.Verify(ctx)
	require.NoError(t, err)
	require.Empty(t, problems)
}

// A cell that nobody approved has no index in the approvals; it keeps its place.
func TestImportedBitmapsKeepTheirOrder(t *testing.T) {
	s := Open(t.TempDir())
	ctx := context.Background()
	ds := decisions(1, "Ada")
	for i := range ds {
		ds[i].Cell.Code, ds[i].Cell.Index = rune('a'+i), 10*i+100
	}
	require.NoError(t, s.Record(ctx, demo, []Decision{ds[0], ds[4]}))
	require.NoError(t, s.Import(ctx, demo, []glyph.Cell{ds[2].Cell}))
	require.NoError(t, s.Import(ctx, demo, []glyph.Cell{ds[3].Cell}))
	got, err := s.Load(ctx, demo)
	require.NoError(t, err)
	var keys []glyph.Key
	for _, c := range got.Cells {
		keys = append(keys, c.Key)
	}
	require.Equal(t, []glyph.Key{ds[0].Cell.Key, ds[2].Cell.Key, ds[3].Cell.Key, ds[4].Cell.Key}, keys)
}

func TestNothingIsWrittenWhereNothingCanBe(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root can mount a small file system")
	}
	for _, c := range []struct{ why, options string }{
		{"a disk that fills up", "size=64k"},
		{"a disk that may only be read", "size=1m,ro"},
	} {
		dir := t.TempDir()
		if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", dir).CombinedOutput(); err != nil {
			t.Skipf("tmpfs cannot be mounted here: %s", out)
		}
		t.Cleanup(func() { exec.Command("umount", "-l", dir).Run() })
		s, ctx := Open(dir), context.Background()
		require.NoError(t, s.Record(ctx, demo, decisions(1, "Ada")))
		before := treeOf(t, dir)
		out, err := exec.Command("mount", "-o", "remount,"+c.options, dir).CombinedOutput()
		require.NoError(t, err, "%s", out)
		var many []Decision
		for i := range 4000 {
			d := decisions(int64(i), "Bob")[0]
			d.Cell.Key = glyph.Key(fmt.Sprintf("g%04d", i))
			many = append(many, d)
		}
		require.Error(t, s.Record(ctx, demo, many), c.why)
		require.Error(t, s.Import(ctx, demo, []glyph.Cell{many[0].Cell, {Ref: glyph.Ref{Key: "wide"}, Bitmap: noise(2000)}}), c.why)
		require.Equal(t, before, treeOf(t, dir), "%s: what was there is there, and nothing else", c.why)
		problems, err := s.Verify(ctx)
		require.NoError(t, err, c.why)
		require.Empty(t, problems, c.why)
		_, err = s.Load(ctx, demo)
		require.NoError(t, err, c.why)
	}
}

// noise is a bitmap of so many pixels each way that takes room on a disk.
func noise(side int) glyph.Bitmap {
	b := glyph.NewBitmap(0, 0, side, side, 1)
	for y := range side {
		b.Set(0, y, 1)
		b.Set(side-1, y, 1)
	}
	return b
}

// treeOf is every file of a folder with its content, but for the lock's.
func treeOf(t *testing.T, dir string) map[string]string {
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".lock" {
			return err
		}
		data, err := os.ReadFile(path)
		out[path] = string(data)
		return err
	}))
	return out
}

func sha256Of(s string) []byte {
	sum := sha256.Sum256([]byte(s))
	return sum[:]
}
