package golden

import (
	"bytes"
	"context"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

var demo = glyph.Strike{Face: "Larkmoor Text", Size: glyph.Pt(8), DPI: glyph.Dots(300)}

func decisions(seed int64, by string) []Decision {
	var ds []Decision
	for _, c := range randomFont(rand.New(rand.NewSource(seed)), 1).Cells {
		ds = append(ds, Decision{Cell: c, Verdict: Approve, By: by, Why: "looked at it", When: time.Unix(1_800_000_000, 0)})
	}
	return ds
}

func TestApprovedGoldensVerifyAndAChangedOneIsNamed(t *testing.T) {
	for _, gz := range []bool{false, true} {
		s := Open(t.TempDir())
		s.Gzip = gz
		ds := decisions(1, "Ada")
		require.NoError(t, s.Record(context.Background(), demo, ds))
		problems, err := s.Verify(context.Background())
		require.NoError(t, err)
		require.Empty(t, problems)
		got, err := s.Load(context.Background(), demo)
		require.NoError(t, err)
		require.Len(t, got.Cells, len(ds))
		for i := range ds {
			require.Equal(t, ds[i].Cell.Digest(), got.Cells[i].Digest())
		}
	}
	s := Open(t.TempDir())
	require.NoError(t, s.Record(context.Background(), demo, decisions(1, "Ada")))
	path := filepath.Join(s.dir, place(demo)+".bdf")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	at := bytes.Index(data, []byte("DWIDTH ")) + 7
	data[at] = '1' + (data[at]-'0')%9
	require.NoError(t, os.WriteFile(path, data, 0o666))
	problems, err := s.Verify(context.Background())
	require.NoError(t, err)
	require.Len(t, problems, 1)
	require.Equal(t, glyph.Key("A"), problems[0].Glyph)
}

func TestAnActThatWasChangedByHandIsFound(t *testing.T) {
	s := Open(t.TempDir())
	require.NoError(t, s.Record(context.Background(), demo, decisions(1, "Ada")))
	path := filepath.Join(s.dir, place(demo)+".approvals")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, bytes.Replace(data, []byte("Ada"), []byte("Bob"), 1), 0o666))
	problems, err := s.Verify(context.Background())
	require.NoError(t, err)
	require.Len(t, problems, 1)
}

func TestFaceNamesNeitherLeaveTheFolderNorMeet(t *testing.T) {
	for _, name := range []string{"..", "a/b", ".", `a\b`, ""} {
		require.True(t, filepath.IsLocal(fileName(name)) || name == "", name)
		require.NotContains(t, fileName(name), "/")
	}
	require.NotEqual(t, fileName("Text"), fileName("text"))
}

func TestWriterKilledAtAnyMomentLosesNothing(t *testing.T) {
	if dir := os.Getenv("SMOKEPROOF_KILLED_STORE"); dir != "" {
		for seed := int64(1); ; seed++ {
			require.NoError(t, Open(dir).Record(context.Background(), demo, decisions(seed, "Ada")))
		}
	}
	rounds := 40
	if os.Getenv("SMOKEPROOF_ARCHIVE") == "1" {
		rounds = 1000
	}
	dir := t.TempDir()
	require.NoError(t, Open(dir).Record(context.Background(), demo, decisions(1, "Ada")))
	rnd := rand.New(rand.NewSource(1))
	for range rounds {
		c := exec.Command(os.Args[0], "-test.run=^TestWriterKilledAtAnyMomentLosesNothing$")
		c.Env = append(os.Environ(), "SMOKEPROOF_KILLED_STORE="+dir)
		require.NoError(t, c.Start())
		time.Sleep(time.Duration(10+rnd.Intn(60)) * time.Millisecond)
		require.NoError(t, c.Process.Kill())
		c.Wait()
		problems, err := Open(dir).Verify(context.Background())
		require.NoError(t, err)
		require.Empty(t, problems)
		got, err := Open(dir).Load(context.Background(), demo)
		require.NoError(t, err)
		require.Len(t, got.Cells, 5)
	}
}
