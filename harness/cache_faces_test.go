package harness

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Every table of the font in turn, its last byte changed.
func TestEveryTableIsSeenByTheCache(t *testing.T) {
	font := larkmoor(t)
	for tag, at := range tablesOf(font) {
		t.Run(strings.TrimSpace(tag), func(t *testing.T) {
			d := newDesk(t)
			changed := bytes.Clone(font)
			last := at[1] - 1
			if tag == "loca" {
				last = at[0] + 11 // where glyph 5 begins; the end of the last glyph may point anywhere
			}
			changed[last] ^= 1
			d.write(t, deskFont, changed)
			drawn, glyphs := d.holds(t)
			switch tag {
			case "name", "DSIG":
				require.Zero(t, drawn, "no drawing depends on it")
			case "glyf", "loca", "hmtx":
				require.Positive(t, drawn)
				require.Less(t, drawn, 20, "one glyph and what is made of it")
			default:
				require.Equal(t, glyphs, drawn)
			}
		})
	}
}

func TestANewBuildOfTheSameFaceIsNoChange(t *testing.T) {
	d := newDesk(t)
	changed := bytes.Clone(larkmoor(t))
	head := tablesOf(changed)["head"][0]
	binary.BigEndian.PutUint32(changed[head+8:], 12345)  // checkSumAdjustment
	binary.BigEndian.PutUint64(changed[head+28:], 98765) // modified
	d.write(t, deskFont, changed)
	drawn, _ := d.holds(t)
	require.Zero(t, drawn)
}

// tablesOf gives each table's first byte and the one after its last.
func tablesOf(font []byte) map[string][2]int {
	out := map[string][2]int{}
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		e := font[12+16*i:]
		from, size := int(binary.BigEndian.Uint32(e[8:])), int(binary.BigEndian.Uint32(e[12:]))
		out[string(e[:4])] = [2]int{from, from + size}
	}
	return out
}

func TestOneGlyphRedrawsItselfAndItsComposites(t *testing.T) {
	font := larkmoor(t)
	f, err := face.Parse(font, 0)
	require.NoError(t, err)
	tt := f.(*face.TrueType)
	uses := map[int][]int{} // component → composites, at any depth
	var walk func(top, g int)
	walk = func(top, g int) {
		data, err := tt.Glyph(g)
		require.NoError(t, err)
		for _, c := range data.Components {
			uses[c.Index] = append(uses[c.Index], top)
			walk(top, c.Index)
		}
	}
	base, most := -1, 0
	for g := range tt.NumGlyphs() {
		walk(g, g)
	}
	for g, by := range uses {
		if len(by) > most {
			base, most = g, len(by)
		}
	}
	require.Positive(t, most, "the face has composites")

	d := newDesk(t)
	changed := bytes.Clone(font)
	loca, glyf := tablesOf(font)["loca"][0], tablesOf(font)["glyf"][0]
	at := 2 * int(binary.BigEndian.Uint16(font[loca+2*base:]))
	if tt.Table("head")[51] != 0 {
		at = int(binary.BigEndian.Uint32(font[loca+4*base:]))
	}
	changed[glyf+at+3] ^= 2 // the low byte of xMin, which moves the glyph in its cell
	d.write(t, deskFont, changed)
	now, err := face.Parse(changed, 0)
	require.NoError(t, err)
	was, is := face.PartsOf(f), face.PartsOf(now)
	require.Equal(t, was.Common, is.Common)
	var touched []int
	for g := range is.Glyphs {
		if was.Glyphs[g] != is.Glyphs[g] {
			touched = append(touched, g)
		}
	}
	require.ElementsMatch(t, append([]int{base}, uses[base]...), touched)
	drawn, glyphs := d.holds(t)
	require.Len(t, touched, drawn)
	require.Greater(t, glyphs, 3*drawn)
}

// move writes the desk's font with another advance of one glyph.
func (d *desk) move(t *testing.T, font []byte, name string) (back func()) {
	f, err := face.Parse(font, 0)
	require.NoError(t, err)
	i := slices.IndexFunc(f.Refs(), func(r glyph.Ref) bool { return r.Name == name })
	tables := tablesOf(font)
	at := tables["hmtx"][0] + 4*i + 1 // the low byte of the advance
	require.Less(t, at, tables["hmtx"][1])
	font[at] ^= 128
	d.write(t, deskFont, font)
	return func() { font[at] ^= 128; d.write(t, deskFont, font) }
}

func TestNewGlyphsThatAreDrawnAgainCountOnce(t *testing.T) {
	d := newDesk(t)
	p, err := LoadPlan(d.plan)
	require.NoError(t, err)
	store := golden.Open(p.Goldens)
	id := glyph.Strike{Face: "face", Device: "label", Size: glyph.Pt(8), DPI: glyph.Dots(203)}
	have, err := store.Load(t.Context(), id)
	require.NoError(t, err)
	for _, c := range have.Cells {
		switch c.Key {
		case "H":
			require.NoError(t, store.Record(t.Context(), id, []golden.Decision{{Verdict: golden.Gone, Cell: c, By: "Ada", Why: "a test"}}))
		case "E":
			c.Advance += 2
			require.NoError(t, store.Import(t.Context(), id, []glyph.Cell{c}))
		}
	}
	counts := func() (isNew, byHand int) {
		sum, _, _ := d.check(t, d.cache)
		return sum.New, sum.ByHand
	}
	d.holds(t)
	isNew, byHand := counts()
	require.Equal(t, []int{2, 1}, []int{isNew, byHand}, "H has no golden, E another one than was approved")
	font := larkmoor(t)
	for _, name := range []string{"H", "E"} {
		d.move(t, font, name)
		drawn, _ := d.holds(t)
		require.Equal(t, 1, drawn, name)
		isNew, byHand = counts()
		require.Equal(t, []int{2, 1}, []int{isNew, byHand}, name)
	}
}

// In revision B the counter of e is closed at 6 pt, and so it stays wherever the letter stands.
func TestFaultsOfNewGlyphsAreRemembered(t *testing.T) {
	d := newDesk(t)
	d.replace(t, PlanName, "sizes = [8]", "sizes = [6]")
	font, err := os.ReadFile("../fixtures/larkmoor-text-b.ttf")
	require.NoError(t, err)
	d.write(t, deskFont, font)
	all, _, _ := d.check(t, d.cache)
	require.Equal(t, all.Glyphs, all.New, "nothing is approved at this size")
	faults := func() int {
		sum, _, _ := d.check(t, d.cache)
		return sum.AtFault
	}
	d.holds(t)
	was := faults()
	require.Positive(t, was)
	require.Less(t, was, all.New/2)
	d.move(t, font, "e")
	drawn, _ := d.holds(t)
	require.Positive(t, drawn)
	require.Less(t, drawn, all.Glyphs)
	require.Equal(t, was, faults(), "e is at fault as it was")
}

func TestWithoutTheFaceThatAnEntryIsOfAllIsDrawnAgain(t *testing.T) {
	d := newDesk(t)
	require.NoError(t, os.RemoveAll(filepath.Join(d.cache, facesDir)))
	font := larkmoor(t)
	d.move(t, font, "H")
	drawn, glyphs := d.holds(t)
	require.Equal(t, glyphs, drawn, "what H was then is not known, nor that it alone is another")
	d.move(t, font, "E")
	drawn, _ = d.holds(t)
	require.Equal(t, 1, drawn)
}

// What is pending stands while another glyph is worked on.
func TestOldChangesStandWhereTheirGlyphIsAsItWas(t *testing.T) {
	d := newDesk(t)
	font := larkmoor(t)
	move := func(name string) (back func()) { return d.move(t, font, name) }
	worst := func() (names []string) {
		_, text, _ := d.check(t, d.cache)
		var all []StrikeResult
		require.NoError(t, json.Unmarshal([]byte(text), &all))
		for _, c := range all[0].Changes {
			names = append(names, c.Glyph)
		}
		return names
	}
	first := move("H")
	drawn, _ := d.holds(t)
	require.Equal(t, 1, drawn)
	second := move("E")
	drawn, _ = d.holds(t)
	require.Equal(t, 1, drawn, "the change of H is not judged anew")
	require.ElementsMatch(t, []string{"H", "E"}, worst())
	first()
	drawn, _ = d.holds(t)
	require.Equal(t, 1, drawn)
	require.Equal(t, []string{"E"}, worst())
	second()
	d.holds(t)
	require.Empty(t, worst())
}
