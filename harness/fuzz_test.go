package harness

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// resultsSeed is a part of a sharded run of one change.
const resultsSeed = `{"version":1,"tool":"smokeproof","plan":"p.toml","gate":"major","distance_mm":400,"faces":[{"name":"f","file":"f.ttf","index":0,"sha256":"00","upem":1000}],"renderers":null,"shard":{"index":1,"count":1,"run":"r","strikes":[0]},
"changes":[
{"face":"f","device":"d","size":"8","dpi":"203","mode":"bilevel","glyph":"A","code":65,"index":1,"status":"changed","verdict":"","until":"","severity":"minor","score":1,"lost":1,"gained":0,"digest":"","over":"","findings":[{"face":"f","device":"d","size":"8","dpi":"203","glyph":"A","finding":"edge","severity":"minor","score":1,"measure_px":-1,"measure_fu":-44,"place":{"x0":0,"y0":0,"x1":1,"y1":1,"what":"edge"},"text":"lost"}],"golden":{"left":0,"bottom":0,"width":2,"height":1,"depth":1,"advance":3,"rows":"wA=="},"candidate":null}
],
"strikes":[{"face":"f","device":"d","size":"8","dpi":"203","mode":"bilevel","glyphs":1,"equal":0,"changed":1,"new":0,"missing":0,"undrawn":0}],"summary":{"strikes":1,"glyphs":1,"equal":0,"changed":1,"new":0,"missing":0,"undrawn":0,"by_severity":{"minor":1},"by_finding":{"edge":1},"partial":false,"exit":0}}
`

// FuzzResults reads results of another's machine, and gathers them as the parts of a run.
func FuzzResults(f *testing.F) {
	f.Add([]byte(resultsSeed))
	f.Add([]byte(strings.Replace(resultsSeed, `"strikes":[0]`, `"strikes":[-1,9223372036854775807]`, 1)))
	f.Add([]byte(strings.Replace(resultsSeed, `"changed":1`, `"changed":-1`, 1)))
	f.Fuzz(func(t *testing.T, data []byte) {
		dir, again := t.TempDir(), t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, ResultsName), data, 0o666))
		res, err := ReadResults(filepath.Join(dir, ResultsName))
		_, brief := ReadFindings(filepath.Join(dir, ResultsName), takeNone)
		require.Equal(t, err == nil, brief == nil)
		if err == nil {
			require.NoError(t, WriteResults(again, res))
			back, err := ReadResults(filepath.Join(again, ResultsName))
			require.NoError(t, err)
			require.Equal(t, res, back)
		}
		if _, err := Gather([]string{dir}, again); err == nil {
			_, err := openResults(filepath.Join(again, ResultsName))
			require.NoError(t, err, "what was gathered is read again")
		}
	})
}

// FuzzCacheEntries reads what lies in a cache in each way that an entry is read.
func FuzzCacheEntries(f *testing.F) {
	refs := []glyph.Ref{{Key: "A", Name: "A", Code: 'A', Index: 1}, {Key: "#2", Code: glyph.NoCode, Index: 2}}
	f.Add(appendRefs(nil, refs))
	f.Add((&fontEntry{upem: 1000, glyphs: 2, format: "TrueType"}).append(nil))
	f.Add([]byte(`{"parts":"00","record":{"face":"f","glyphs":1},"changes":[{"glyph":"A","golden":{"width":1}}]}`))
	f.Fuzz(func(t *testing.T, body []byte) {
		if refs, err := readRefs(body); err == nil {
			require.LessOrEqual(t, len(refs), len(body), "no more than the entry can hold")
			again, err := readRefs(appendRefs(nil, refs))
			require.NoError(t, err)
			require.Equal(t, refs, again)
		}
		var is fontEntry
		if is.read(body) == nil {
			require.True(t, bytes.Equal(body, is.append(nil)))
		}
		var p face.Parts
		if p.UnmarshalBinary(body) == nil {
			require.True(t, bytes.Equal(body, p.AppendBinary(nil)))
		}
		var e, back entry
		if json.Unmarshal(body, &e) == nil {
			text, err := json.Marshal(&e)
			require.NoError(t, err)
			require.NoError(t, json.Unmarshal(text, &back))
			require.Equal(t, e, back)
		}
	})
}

func FuzzReadGlyphNames(f *testing.F) {
	f.Add("65 A\n0101 B\n0x43 C % a comment\n")
	f.Add("/T1 [ /.notdef /A/B /C ] def")
	f.Fuzz(func(t *testing.T, text string) {
		names, err := ReadGlyphNames(strings.NewReader(text))
		require.True(t, (names == nil) == (err != nil))
		for n, name := range names {
			require.True(t, n >= 0 && n < maxNumber)
			require.NotEmpty(t, strings.Fields(name))
		}
	})
}
