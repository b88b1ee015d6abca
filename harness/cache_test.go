package harness

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// desk is a plan with approved goldens and a warm cache.
type desk struct {
	dir, plan, cache string
	filter           Filter
	opened           func(*Run) // alters a run before it checks
}

const deskFont = "face.ttf"

func larkmoor(t *testing.T) []byte {
	b, err := os.ReadFile("../fixtures/larkmoor-text-a.ttf")
	require.NoError(t, err)
	return b
}

// newDesk lays out a plan over the demo face, approved and checked once.
func newDesk(t *testing.T) *desk {
	d := &desk{dir: t.TempDir(), cache: t.TempDir()}
	d.plan = filepath.Join(d.dir, PlanName)
	first := warmDesk(t)
	require.NoError(t, os.CopyFS(d.dir, os.DirFS(first.dir)))
	require.NoError(t, os.CopyFS(d.cache, os.DirFS(first.cache)))
	return d
}

// warmDesk is what every desk is a copy of.
var warmDesk = func() func(*testing.T) *desk {
	var once sync.Once
	var d *desk
	return func(t *testing.T) *desk {
		once.Do(func() { d = layOut(t) })
		require.NotNil(t, d)
		return d
	}
}()

func layOut(t *testing.T) *desk {
	dir, err := os.MkdirTemp("", "smokeproof-desk-*")
	require.NoError(t, err)
	desks = append(desks, dir)
	d := &desk{dir: filepath.Join(dir, "plan"), cache: filepath.Join(dir, "cache")}
	d.plan = filepath.Join(d.dir, PlanName)
	require.NoError(t, os.MkdirAll(d.dir, 0o777))
	d.write(t, deskFont, larkmoor(t))
	d.write(t, PlanName, []byte(`[gate]
severity = "major"
[reading]
distance_mm = 400
[[face]]
name = "face"
file = "face.ttf"
glyphs = "all"
[[device]]
name = "label"
dpi = 203
mode = "bilevel"
fill = "center"
sizes = [8]
`))
	approveAll(t, d.plan)
	sum, _, drawn := d.check(t, d.cache)
	require.Equal(t, sum.Glyphs, drawn, "a cold run draws all")
	again, _, drawn := d.check(t, d.cache)
	require.Zero(t, drawn, "nothing changed")
	require.Equal(t, sum, again)
	return d
}

// desks are folders to remove at the end.
var desks []string

func TestMain(m *testing.M) {
	code := m.Run()
	for _, d := range desks {
		os.RemoveAll(d)
	}
	os.Exit(code)
}

func (d *desk) write(t *testing.T, name string, data []byte) {
	require.NoError(t, os.WriteFile(filepath.Join(d.dir, name), data, 0o666))
}

func (d *desk) read(t *testing.T, name string) []byte {
	b, err := os.ReadFile(filepath.Join(d.dir, name))
	require.NoError(t, err)
	return b
}

func (d *desk) replace(t *testing.T, name, old, with string) {
	b := d.read(t, name)
	require.Contains(t, string(b), old)
	d.write(t, name, bytes.Replace(b, []byte(old), []byte(with), 1))
}

// check runs the plan; cache "" is --no-cache. The strikes come back as they
// would stand in results.json.
func (d *desk) check(t *testing.T, cache string) (*Summary, string, int) {
	p, err := LoadPlan(d.plan)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{Cache: cache, Filter: d.filter})
	if err != nil {
		return nil, err.Error(), 0
	}
	defer r.Close()
	if d.opened != nil {
		d.opened(r)
	}
	var all []*StrikeResult
	sum, err := r.Check(context.Background(), func(s *StrikeResult) error {
		all = append(all, s)
		return nil
	})
	require.NoError(t, err)
	text, err := json.Marshal(all)
	require.NoError(t, err)
	return sum, string(text), r.Drawn()
}

// holds says that with the cache the run comes to what it comes to without it,
// and how many glyphs were drawn for that.
func (d *desk) holds(t *testing.T) (drawn, glyphs int) {
	wantSum, want, _ := d.check(t, "")
	gotSum, got, drawn := d.check(t, d.cache)
	require.Equal(t, want, got)
	require.Equal(t, wantSum, gotSum)
	if gotSum == nil {
		return drawn, 0
	}
	_, again, after := d.check(t, d.cache)
	require.Equal(t, want, again)
	if gotSum.Undrawn == 0 { // a failure is tried again
		require.Zero(t, after, "what was drawn anew is remembered in turn")
	}
	return drawn, gotSum.Glyphs
}

// Each input in turn changes; each time the run must come to what it comes to
// without a cache, and must have drawn for it.
func TestEveryInputIsSeenByTheCache(t *testing.T) {
	bdf, approvals := "golden/face/203/8.bdf", "golden/face/203/8.approvals"
	for _, c := range []struct {
		name   string
		change func(*testing.T, *desk)
	}{
		{name: "size", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "[8]", "[8.5]") }},
		{name: "resolution", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "203", "204") }},
		{name: "resolution of one axis", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "203", `"203,406"`) }},
		{name: "mode", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "bilevel", "grey") }},
		{name: "sideways placement", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "fill =", "sideways = true\nfill =") }},
		{name: "fill", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "center", "majority") }},
		{name: "reading distance", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "400", "401") }},
		{name: "name of the face", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, `"face"`, `"visage"`) }},
		{name: "name of the device", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, `"label"`, `"ticket"`) }},
		{name: "glyphs of the plan", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, `"all"`, `"U+0041-005A"`) }},
		{name: "glyphs of the filter", change: func(t *testing.T, d *desk) {
			var err error
			d.filter.Glyphs, err = ParseSelection("A,B")
			require.NoError(t, err)
		}},
		{name: "a golden's row", change: func(t *testing.T, d *desk) { d.replace(t, bdf, "BITMAP\n3", "BITMAP\n7") }},
		{name: "a golden's advance", change: func(t *testing.T, d *desk) { d.replace(t, bdf, "DWIDTH 1", "DWIDTH 2") }},
		{name: "no goldens", change: func(t *testing.T, d *desk) { require.NoError(t, os.Remove(filepath.Join(d.dir, bdf))) }},
		{name: "no approvals", change: func(t *testing.T, d *desk) { require.NoError(t, os.Remove(filepath.Join(d.dir, approvals))) }},
		{name: "another decision", change: func(t *testing.T, d *desk) { decideOnce(t, d) }},
		{name: "other goldens", change: func(t *testing.T, d *desk) {
			d.replace(t, PlanName, "[[face]]", "[golden]\nfolder = \"elsewhere\"\n[[face]]")
		}},
		{name: "the program", change: func(_ *testing.T, d *desk) {
			d.opened = func(r *Run) {
				if r.cache != nil {
					r.cache.program = "another build"
				}
			}
		}},
		{name: "version of the renderer", change: func(_ *testing.T, d *desk) {
			d.opened = func(r *Run) { r.devices["label"].id.Version = "next" }
		}},
		{name: "settings of the renderer", change: func(_ *testing.T, d *desk) {
			d.opened = func(r *Run) { r.devices["label"].id.Settings = "interpreter=40" }
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := newDesk(t)
			c.change(t, d)
			drawn, glyphs := d.holds(t)
			require.Equal(t, glyphs, drawn)
		})
	}
}

// decideOnce puts a decision about another bitmap into the approvals.
func decideOnce(t *testing.T, d *desk) {
	s := glyph.Strike{Face: "face", Device: "label", Size: glyph.Pt(8), DPI: glyph.Dots(203)}
	c := glyph.Cell{Ref: glyph.Ref{Key: "A", Name: "A", Code: 'A', Index: 36}, Advance: 99}
	require.NoError(t, golden.Open(filepath.Join(d.dir, "golden")).Record(context.Background(), s,
		[]golden.Decision{{Cell: c, Verdict: golden.Reject, By: "a test", Why: "too wide", When: time.Unix(1e9, 0)}}))
}

func TestTheGateIsWeighedAnewWithoutDrawing(t *testing.T) {
	d := newDesk(t)
	d.write(t, deskFont, withoutFpgm(larkmoor(t)))
	before, _, _ := d.check(t, d.cache)
	require.Equal(t, ExitFindings, before.Exit)
	d.replace(t, PlanName, "severity = \"major\"", "severity = \"critical\"")
	drawn, _ := d.holds(t)
	require.Zero(t, drawn)
}

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

// A font as it was is not read; one changed to the same length behind its time of
// modification is, and drawn.
func TestAFontIsReadOnlyIfItChanged(t *testing.T) {
	defer func(was time.Duration) { settled = was }(settled)
	settled = 50 * time.Millisecond
	d := newDesk(t)
	time.Sleep(3 * settled)
	remembered := false
	d.opened = func(r *Run) { _, remembered = r.faces["face"].(*rememberedFace) }
	for range 2 { // the first notes the stamp of a file that has settled
		_, _, drawn := d.check(t, d.cache)
		require.Zero(t, drawn)
	}
	require.True(t, remembered)
	path := filepath.Join(d.dir, deskFont)
	st, err := os.Stat(path)
	require.NoError(t, err)
	d.write(t, deskFont, withoutFpgm(larkmoor(t)))
	now, err := os.Stat(path)
	require.NoError(t, err)
	require.Equal(t, st.Size(), now.Size())
	require.NoError(t, os.Chtimes(path, st.ModTime(), st.ModTime()))
	_, _, drawn := d.check(t, d.cache)
	require.Positive(t, drawn)
	require.False(t, remembered)
	d.opened = nil
	d.holds(t)
}

// What is saved between the look at a font and the first glyph drawn from it must
// not be taken for what the look saw.
func TestAFontSavedDuringARunEndsIt(t *testing.T) {
	d := newDesk(t)
	d.check(t, d.cache)
	d.replace(t, PlanName, "[8]", "[8, 9]") // 9 pt has to be drawn
	p, err := LoadPlan(d.plan)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{Cache: d.cache})
	require.NoError(t, err)
	defer r.Close()
	require.IsType(t, &rememberedFace{}, r.faces["face"])
	d.write(t, deskFont, withoutFpgm(larkmoor(t)))
	_, err = r.Check(context.Background(), func(*StrikeResult) error { return nil })
	require.ErrorContains(t, err, "saved while the run was under way")
}

func TestARememberedFontComesBackAsItWas(t *testing.T) {
	was := font{common: [32]byte{1}, digest: [32]byte{2}, names: [32]byte{3}, upem: 2048, glyphs: 3, format: "TrueType"}
	b := was.append(nil)
	var is font
	require.NoError(t, is.read(b))
	require.Equal(t, was, is)
	require.Error(t, is.read(b[:100]))
}

func TestNamesComeBackAsTheyWere(t *testing.T) {
	was := []glyph.Ref{
		{Key: "A", Name: "A", Code: 'A', Index: 0}, {Key: "U+0042", Name: "A", Code: 'B', Index: 1}, {Key: "#2", Code: glyph.NoCode, Index: 2},
	}
	b := appendRefs(nil, was)
	is, err := readRefs(b)
	require.NoError(t, err)
	require.Equal(t, was, is)
	for n := range b {
		_, err := readRefs(b[:n])
		require.Error(t, err, "%d bytes", n)
	}
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

func TestProcessRenderersAreNotRemembered(t *testing.T) {
	d := newDesk(t)
	d.opened = func(r *Run) { r.Plan.Devices[0].Renderer = "process" }
	for range 2 {
		sum, _, drawn := d.check(t, d.cache)
		require.Equal(t, sum.Glyphs, drawn)
	}
}

func TestACacheThatCannotBeWrittenIsNoFault(t *testing.T) {
	d := newDesk(t)
	file := filepath.Join(d.dir, "a-file")
	require.NoError(t, os.WriteFile(file, nil, 0o666))
	sum, _, drawn := d.check(t, filepath.Join(file, "below"))
	require.Equal(t, ExitOK, sum.Exit)
	require.Equal(t, sum.Glyphs, drawn)
}
