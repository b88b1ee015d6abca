package golden

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

func TestALineIsFoundWhereverItsGlyphStandsNow(t *testing.T) {
	by := func(v Verdict, day int) *act { return &act{verdict: v, when: time.Unix(int64(day)*86400, 0)} }
	line := func(key string, index int, a *act, digest string) glyphLine {
		return glyphLine{key: glyph.Key(key), index: index, act: a, digest: digest}
	}
	a := &approvals{glyphs: []glyphLine{
		line("A", 3, by(Approve, 1), "a"),
		line("A", 3, by(Reject, 2), "other"),
		line("B", 4, by(Approve, 1), "early"), line("B", 4, by(Approve, 2), "late"),
		line("C", 5, by(Gone, 1), "c"),
		line("D", 1<<40, by(Approve, 1), "d"), line("E", -1, by(Approve, 1), "e"),
	}}
	s := a.approved()
	for _, c := range []struct {
		key   string
		index int
		want  string
		why   string
	}{
		{"A", 3, "a", "where it stood; a rejection settles nothing"},
		{"A", 4, "a", "where another stands now"},
		{"A", 900, "a", "behind the end of the font it was approved in"},
		{"B", 4, "late", "of two branches the later"},
		{"C", 5, "", "it was dropped"},
		{"D", 6, "d", "an index that no font has"},
		{"E", -1, "e", "an index that no font has"},
		{"F", 3, "", "nobody decided"},
	} {
		l := s.of(glyph.Ref{Key: glyph.Key(c.key), Index: c.index})
		if c.want == "" {
			require.Nil(t, l, c.why)
			continue
		}
		require.NotNil(t, l, c.why)
		require.Equal(t, c.want, l.digest, c.why)
	}
}
