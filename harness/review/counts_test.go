package review

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
)

func TestAPageSaysWhatItIsOf(t *testing.T) {
	faces := func(files ...string) (list []harness.FaceRecord) {
		for _, f := range files {
			list = append(list, harness.FaceRecord{File: f})
		}
		return list
	}
	for _, c := range []struct {
		reason, want string
		header       harness.Header
	}{
		{"a check", "smokeproof.toml", harness.Header{Plan: "/foundry/fonts/smokeproof.toml", Faces: faces("a.ttf")}},
		{"a check against a revision", "smokeproof.toml against the goldens of v1.2", harness.Header{Plan: "/foundry/smokeproof.toml", Since: "v1.2"}},
		{"a look", "a.ttf, b.ttf", harness.Header{Plan: "smokeproof.toml", Looked: true, Faces: faces("/fonts/a.ttf", "b.ttf")}},
		{"two fonts", "new.ttf against old.ttf", harness.Header{Against: "/released/old.ttf", Faces: faces("new.ttf")}},
		{"two builds of one name", "a.ttf against released/a.ttf", harness.Header{Against: "released/a.ttf", Faces: faces("a.ttf")}},
		{"a name that turns a line round", "a<U+202E>.toml", harness.Header{Plan: "a\u202e.toml"}},
		{"results of no plan", "", harness.Header{}},
	} {
		require.Equal(t, c.want, of(&harness.Results{Header: c.header}), c.reason)
	}
}

func TestGlyphsAreSaidToBeRenamedWhereTheyCanBe(t *testing.T) {
	both := harness.Summary{Counts: harness.Counts{New: 3, Missing: 3}}
	for _, c := range []struct {
		reason string
		said   bool
		res    harness.Results
	}{
		{"of a check", true, harness.Results{Summary: both}},
		{"of goldens of a revision, which cannot be carried over", false, harness.Results{Header: harness.Header{Since: "v1"}, Summary: both}},
		{"of two fonts, of which nothing is approved", false, harness.Results{Header: harness.Header{Against: "a.ttf"}, Summary: both}},
		{"where nothing is missing", false, harness.Results{Summary: harness.Summary{Counts: harness.Counts{New: 3}}}},
		{"where nothing is new", false, harness.Results{Summary: harness.Summary{Counts: harness.Counts{Missing: 3}}}},
	} {
		require.Equal(t, c.said, otherNames(&c.res) != "", c.reason)
	}
}
