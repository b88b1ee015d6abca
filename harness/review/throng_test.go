package review

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
)

// multitude is a face with so many changes that the page begins with the worst of them, some glyphs at two sizes and on
// two devices, and a face with few. Its outlines say which change each is.
func multitude(n int) *harness.Results {
	res := allOver(n)
	for i := range 300 {
		c := res.Changes[i]
		c.Size, c.Score = "10.5", 100+float64(i)
		if i%2 == 0 {
			c.Device = "laser"
		}
		res.Changes = append(res.Changes, c)
	}
	for i := range 5 {
		c := res.Changes[i]
		c.Face = "other"
		res.Changes = append(res.Changes, c)
	}
	for _, s := range []harness.StrikeRecord{{Face: "text", Device: "label", Size: "10.5"}, {Face: "text", Device: "laser", Size: "10.5"}, {Face: "other", Device: "label", Size: "8"}} {
		for i := range res.Changes {
			if res.Changes[i].StrikeKey() == s.StrikeKey() {
				s.Glyphs++
				s.Changed++
			}
		}
		res.Strikes = append(res.Strikes, s)
	}
	for i := range res.Changes {
		c := &res.Changes[i]
		c.Outline = identity(c.Face, c.Device, c.Size, c.Glyph)
		c.Digest, c.Over = fmt.Sprintf("%064x", i), fmt.Sprintf("%064x", i/2)
		c.Bare = i%3 > 0 // one reason for most of the face
		if i > 999 {     // pictures take the test most of its time
			c.Golden, c.Candidate = nil, nil
		}
	}
	return res
}

func identity(parts ...string) string { return strings.Join(parts, " ") }

// bundleRead is what a page has of a bundle.
type bundleRead struct {
	t    *testing.T
	dir  string
	head struct {
		Faces, Devices, Sizes, Glyphs, Kinds []string
		Rows                                 [][]any
		Causes                               []causeText
	}
	plates map[int][]platesRead
}

// platesRead is an entry of a plates file, the outlines of its changes alone.
type platesRead struct {
	Changes []struct {
		Outline string `json:"o"`
	}
}

func readBundle(t *testing.T, dir string) *bundleRead {
	b := &bundleRead{t: t, dir: dir, plates: map[int][]platesRead{}}
	page, err := os.ReadFile(filepath.Join(dir, "index.html"))
	require.NoError(t, err)
	_, text, _ := strings.Cut(string(page), `id="head">`)
	text, _, _ = strings.Cut(text, "</script>")
	require.NoError(t, json.Unmarshal([]byte(text), &b.head))
	return b
}

func (b *bundleRead) file(kind string, n int, into any) {
	data, err := os.ReadFile(filepath.Join(b.dir, dataName(kind, n)))
	require.NoError(b.t, err)
	text, called := strings.CutPrefix(string(data), fmt.Sprintf("arrived(%q,%d,", kind, n))
	require.True(b.t, called)
	require.NoError(b.t, json.Unmarshal([]byte(strings.TrimSuffix(text, ")\n")), into))
}

// name tells which change a row is of.
func (b *bundleRead) name(row []any) string {
	at := func(i int, names []string) string { return names[int(row[i].(float64))] }
	return identity(at(0, b.head.Faces), at(1, b.head.Devices), at(2, b.head.Sizes), at(4, b.head.Glyphs))
}

// pictured tells which change the pictures are of that a row points at.
func (b *bundleRead) pictured(row []any) string {
	at := func(i int) int { return int(row[i].(float64)) }
	if b.plates[at(16)] == nil {
		var list []platesRead
		b.file("plates", at(16), &list)
		n := 0
		for _, glyph := range list {
			n += len(glyph.Changes)
		}
		require.LessOrEqual(b.t, n, platesFile+2, "a picture comes with few others")
		b.plates[at(16)] = list
	}
	return b.plates[at(16)][at(17)].Changes[at(18)].Outline
}

func TestAThrongIsOnThePageOrReadWithItsRow(t *testing.T) {
	res, from, dir := multitude(harness.MostApart+1), t.TempDir(), t.TempDir()
	require.NoError(t, harness.WriteResults(from, res))
	far, err := harness.OpenResults(filepath.Join(from, harness.ResultsName))
	require.NoError(t, err)
	require.NoError(t, Write(t.Context(), dir, far, Options{}))
	b := readBundle(t, dir)
	changes := map[string]*harness.Change{}
	for i := range res.Changes {
		c := &res.Changes[i]
		changes[c.Outline] = c
	}
	met := map[string]bool{}
	meet := func(row []any) *harness.Change {
		name := b.name(row)
		c := changes[name]
		require.NotNil(t, c, name)
		require.False(t, met[name], "%s twice", name)
		met[name] = true
		require.Equal(t, name, b.pictured(row), "its own pictures")
		require.Equal(t, []any{c.Digest, c.Over}, row[14:16], "what a decision names")
		return c
	}
	whole, rest := 0, 0
	for _, cause := range b.head.Causes {
		var on, off []*harness.Change
		for _, i := range cause.Rows {
			on = append(on, meet(b.head.Rows[i]))
		}
		if on[0].Face == "other" {
			whole += len(on)
			require.Nil(t, cause.Rest, "a face with few changes lies on the page whole")
			continue
		}
		require.True(t, slices.IsSortedFunc(on, func(a, b *harness.Change) int { return harness.Worse(b, a) }), "worst first")
		if cause.Rest == nil {
			continue
		}
		require.Len(t, on, mostHeld)
		for _, n := range cause.Rest.Files {
			var rows [][]any
			b.file("rest", n, &rows)
			for _, row := range rows {
				off = append(off, meet(row))
			}
		}
		require.Len(t, off, cause.Rest.N)
		rest += len(off)
		glyphs, sizes := map[string]bool{}, map[string]bool{}
		for _, c := range append(on, off...) {
			glyphs[c.Glyph], sizes[c.Size] = true, true
			require.Equal(t, foundKind(on[0]), foundKind(c), "one kind, one cause")
		}
		for _, c := range off {
			require.LessOrEqual(t, harness.Worse(c, on[mostHeld-1]), 0, "what is not on the page is no worse")
		}
		require.Equal(t, len(glyphs), cause.Rest.Glyphs)
		require.Len(t, cause.Rest.Sizes, len(sizes))
		for _, n := range cause.Rest.Sizes {
			require.True(t, sizes[b.head.Sizes[n]])
		}
	}
	require.Len(t, met, len(res.Changes), "each change can be decided")
	require.Equal(t, 5, whole)
	require.Greater(t, rest, len(res.Changes)*9/10)
	require.Less(t, len(b.head.Rows), 1000)

	require.NoError(t, Write(t.Context(), dir, results(one("l")), Options{}))
	left, err := filepath.Glob(filepath.Join(dir, "data/rest-*"))
	require.NoError(t, err)
	require.Empty(t, left, "a bundle of few changes leaves none of those before")
	require.NoError(t, Write(t.Context(), dir, far, Options{}))

	near := t.TempDir()
	require.NoError(t, Write(t.Context(), near, res, Options{}))
	for _, pattern := range []string{"*", "data/*"} {
		files, err := filepath.Glob(filepath.Join(near, pattern))
		require.NoError(t, err)
		for _, file := range files {
			name, _ := filepath.Rel(near, file)
			want, err := os.ReadFile(file)
			if err != nil || name == harness.ResultsName {
				continue
			}
			got, err := os.ReadFile(filepath.Join(dir, name))
			require.NoError(t, err)
			require.True(t, string(want) == string(got), "%s of results in memory and in their file", name)
		}
	}
}

// The causes of a throng stand among the others by the weight of all that is of them.
func TestCausesOfAThrongStandByTheirWeight(t *testing.T) {
	res := multitude(harness.MostApart + 1)
	s := laidOut(res, nil)
	var order []int
	first := map[int]bool{}
	for _, c := range s.head.Causes {
		worst := s.head.Rows[c.Rows[0]]
		order = append(order, (worst.severity+len(severities)+1)%(len(severities)+1)) // none is last
		first[worst.face] = true
		if len(order) == 1 {
			require.NotNil(t, c.Rest, "thousands weigh more than a few of one class")
		}
	}
	require.Len(t, first, 2, "both faces have causes")
	require.Equal(t, slices.Sorted(slices.Values(order)), order)
}

// Of a change of a throng a sheet keeps where it stands, some hundred bytes; its row would take thousands.
func TestMemoryOfASheetHardlyGrowsWithAThrong(t *testing.T) {
	const fewer, more, most = harness.MostApart + 1, 5 * harness.MostApart / 4, 220 // changes, changes, bytes of each with its glyph's name
	heap := func(n int) int64 {
		dir := t.TempDir()
		require.NoError(t, harness.WriteResults(dir, allOver(n)))
		res, err := harness.OpenResults(filepath.Join(dir, harness.ResultsName))
		require.NoError(t, err)
		g, err := gistOf(res)
		require.NoError(t, err)
		s, err := layOut(g, res, nil)
		require.NoError(t, err)
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		runtime.KeepAlive(s)
		return int64(m.HeapAlloc)
	}
	few, many := heap(fewer), heap(more)
	require.Less(t, (many-few)/(more-fewer), int64(most), "bytes a change")
}
