package golden

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// Two branches name their acts without knowing each other's: these two reasons make digests
// that begin alike (found by trying 562,828).
func TestTwoActsOfOneNameAreNotTakenForEachOther(t *testing.T) {
	var text strings.Builder
	text.WriteString(approvalsHead + "\n")
	for _, why := range []string{"101137", "562828"} {
		x := newAct(&Decision{Verdict: Approve, By: "Ada", Why: why, When: time.Unix(1_800_000_000, 0)}, nil)
		require.Equal(t, "-yMoGC", x.digest()[:nameLength])
		text.WriteString(actPrefix + "-yMoGC " + x.text() + "\n")
	}
	_, err := readApprovals([]byte(text.String()), nil)
	require.ErrorContains(t, err, "act -yMoGC stands for two decisions")
}

func TestLinesThatAreNoneOfOursAreRefusedWithTheirNumber(t *testing.T) {
	text := string(history(t).bytes(nil))
	n := strings.Count(text, "\n") + 1
	for _, c := range []struct{ why, line, says string }{
		{"too few words", "A 1 act", "no glyph line of 4 or 5 words"},
		{"too many", "A 1 act digest replaced more", "no glyph line of 4 or 5 words"},
		{"an index that is none", "A one act digest", `"one" is no glyph index`},
		{"it replaced what has no weight", "A 1 act digest short", `"short" is no digest`},
		{"so is one of two", "A 1 act digest AAAAAAAAAAAAAAAA+short", `"short" is no digest`},
		{"git's mark", "<<<<<<< HEAD", "git left a conflict"},
	} {
		_, err := readApprovals([]byte(text+c.line+"\n"), nil)
		require.ErrorContains(t, err, c.says, c.why)
		require.ErrorContains(t, err, fmt.Sprintf("line %d: ", n), c.why)
	}
}

func TestAnyWordIsSignedAndReadBack(t *testing.T) {
	for _, by := range []string{"Ada Marsh", "-", "", "a+b", "%2D", "line\nbreak", "Ødegård"} {
		x := newAct(&Decision{Verdict: Reject, By: by, Why: by, When: time.Unix(1_800_000_000, 0)}, nil)
		got, err := parseAct(x.digest()[:nameLength] + " " + x.text())
		require.NoError(t, err, by)
		require.Equal(t, []string{by, by}, []string{got.by, got.why})
	}
}

func TestAnActThatSaysTheSameInOtherWordsIsNotOurs(t *testing.T) {
	x := newAct(&Decision{Verdict: Approve, By: "Ada", Why: "seen", When: time.Unix(1_800_000_000, 0)}, nil)
	line := x.digest()[:nameLength] + " " + x.text()
	_, err := parseAct(line)
	require.NoError(t, err)
	for _, c := range []struct{ why, from, to string }{
		{"a letter written as its code", "Ada", "%41da"},
		{"the hour of another zone", "08:00:00Z", "09:00:00+01:00"},
	} {
		require.Contains(t, line, c.from, c.why)
		_, err := parseAct(strings.Replace(line, c.from, c.to, 1))
		require.ErrorContains(t, err, "does not say what it said", c.why)
	}
}

func TestAnActThatIsMissingIsNamed(t *testing.T) {
	for _, c := range []struct{ gone, says string }{
		{"Ada", "was decided by act"},
		{"Bob", "was decided by act"},
		{"Cyd", "was decided by act"},
		{"Bob and his line", "follows act"},
	} {
		by, line, _ := strings.Cut(c.gone, " ")
		text, name := "", ""
		for l := range strings.Lines(string(history(t).bytes(nil))) {
			f := strings.Fields(l)
			switch {
			case f[0] == "%=" && strings.Contains(l, by):
				name = f[1]
			case line != "" && f[0] != "%=" && f[2] == name:
			default:
				text += l
			}
		}
		_, err := readApprovals([]byte(text), nil)
		require.ErrorContains(t, err, c.says, c.gone)
		require.ErrorContains(t, err, name, c.gone)
		require.ErrorContains(t, err, astray, c.gone)
	}
}

func TestAKeyThatLooksLikeAnActIsAGlyph(t *testing.T) {
	a := newApprovals()
	for _, k := range []glyph.Key{"=", "%=", "<<<<<<<", "%= x", "%# x"} {
		require.NoError(t, a.add([]Decision{{Cell: glyph.Cell{Ref: glyph.Ref{Key: k}}, Verdict: Approve, By: "Ada"}}))
	}
	got, err := readApprovals(a.bytes(nil), nil)
	require.NoError(t, err)
	require.Len(t, got.glyphs, 5)
	require.Equal(t, tally{}, got.balance())
}

func FuzzReadApprovals(f *testing.F) {
	a := newApprovals()
	_ = a.add(decisions(1, "Ada"))
	f.Add(a.bytes(nil))
	_ = a.add(decisions(2, "Bob")[:2])
	f.Add(a.bytes(nil))
	f.Fuzz(func(t *testing.T, data []byte) {
		first, err := readApprovals(data, nil)
		if err != nil {
			return
		}
		again, err := readApprovals(first.bytes(nil), nil)
		require.NoError(t, err)
		require.True(t, bytes.Equal(first.bytes(nil), again.bytes(nil)))
	})
}
