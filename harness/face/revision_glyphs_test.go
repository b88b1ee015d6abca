package face

import (
	"encoding/binary"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/fixtures/psfont"
	"smokeproof/harness/glyph"
)

// drawnGlyph is one of a small TrueType font: points or components.
type drawnGlyph struct {
	name         string
	x, y         []glyph.FUnit
	off          []int // points off the curve
	ends         []int
	parts        []Component
	program      []byte
	advance, lsb glyph.FUnit
}

// box is a rectangle, its points from the lower left upward.
func box(name string, x0, y0, x1, y1 glyph.FUnit) drawnGlyph {
	return drawnGlyph{name: name, x: []glyph.FUnit{x0, x0, x1, x1}, y: []glyph.FUnit{y0, y1, y1, y0}, ends: []int{3}, program: []byte{1}, advance: x1 + 40, lsb: x0}
}

func (g *drawnGlyph) bytes() []byte {
	words := func(b []byte, vs ...int) []byte {
		for _, v := range vs {
			b = binary.BigEndian.AppendUint16(b, uint16(v))
		}
		return b
	}
	program := append(words(nil, len(g.program)), g.program...)
	if len(g.parts) > 0 {
		b := words(nil, -1, 0, 0, 0, 0)
		for i, c := range g.parts {
			flags := c.Flags | ArgsAreWords
			switch last := i == len(g.parts)-1; {
			case !last:
				flags |= MoreComponents
			case len(g.program) > 0:
				flags |= HaveInstructions
			}
			b = words(b, int(flags), c.Index, c.Arg1, c.Arg2)
		}
		if len(g.program) > 0 {
			b = append(b, program...)
		}
		return b
	}
	b := words(nil, len(g.ends), int(slices.Min(g.x)), int(slices.Min(g.y)), int(slices.Max(g.x)), int(slices.Max(g.y)))
	b = append(words(b, g.ends...), program...)
	for i := range g.x {
		if slices.Contains(g.off, i) {
			b = append(b, 0)
		} else {
			b = append(b, flagOn)
		}
	}
	for _, list := range [][]glyph.FUnit{g.x, g.y} {
		at := glyph.FUnit(0)
		for _, v := range list {
			b = words(b, int(v-at))
			at = v
		}
	}
	return b
}

// fontOf is a font of glyphs; .notdef, which is blank, comes first.
func fontOf(t *testing.T, glyphs ...drawnGlyph) *TrueType {
	f := goRegular(t)
	f.glyf, f.hmtx, f.refs = nil, make([]byte, 4), []glyph.Ref{{Key: ".notdef", Name: ".notdef", Code: glyph.NoCode}}
	f.loca, f.longLoca, f.cvt = make([]byte, 8), true, []int16{100, 200}
	for i, g := range glyphs {
		f.glyf = append(f.glyf, g.bytes()...)
		f.loca = binary.BigEndian.AppendUint32(f.loca, uint32(len(f.glyf)))
		f.hmtx = binary.BigEndian.AppendUint16(f.hmtx, uint16(g.advance))
		f.hmtx = binary.BigEndian.AppendUint16(f.hmtx, uint16(g.lsb))
		ref := glyph.Ref{Key: glyph.Key(g.name), Name: g.name, Code: glyph.NoCode, Index: i + 1}
		if g.name == "" {
			ref.Key = glyph.Key("#" + string(rune('1'+i)))
		}
		f.refs = append(f.refs, ref)
	}
	f.maxp.NumGlyphs, f.hMetrics = len(f.refs), len(f.refs)
	return f
}

// letters are n, an acute, and n with it.
func lettersOf(alter func(n, acute, nacute *drawnGlyph)) []drawnGlyph {
	n, acute := box("n", 10, 0, 50, 100), box("acute", 20, 120, 40, 150)
	nacute := drawnGlyph{name: "nacute", advance: 90, program: []byte{2}, parts: []Component{
		{Index: 1, Flags: ArgsAreXY | RoundXYToGrid | UseMyMetrics}, {Index: 2, Flags: ArgsAreXY | RoundXYToGrid, Arg1: 3, Arg2: 4},
	}}
	alter(&n, &acute, &nacute)
	return []drawnGlyph{n, acute, nacute}
}

func TestWhatOfAGlyphIsAnotherIsToldInAFewWords(t *testing.T) {
	for _, c := range []struct {
		reason    string
		alter     func(n, acute, nacute *drawnGlyph)
		n, nacute string // why they are drawn otherwise
		all       string // what differs in the font
	}{
		{"nothing", func(_, _, _ *drawnGlyph) {}, "", "", "nothing that is drawn"},
		{"all of it moved", func(n, _, _ *drawnGlyph) {
			for i := range n.y {
				n.y[i] -= 7
			}
		}, "the outline is moved 7 units down", "the outline is moved 7 units down", "outlines of 1 glyph (n)"},
		{"moved aside, with its bearing", func(n, _, _ *drawnGlyph) {
			for i := range n.x {
				n.x[i]++
			}
			n.lsb++
		}, "the outline is moved 1 unit right", "the outline is moved 1 unit right", "outlines of 1 glyph (n)"},
		{"its bearing alone", func(n, _, _ *drawnGlyph) { n.lsb -= 2 }, "the left side bearing is 2 units less", "the left side bearing is 2 units less", "left side bearings of 1 glyph (n)"},
		{"a point", func(n, _, _ *drawnGlyph) { n.x[2] += 5; n.y[2]-- }, "point 2 of n is moved 5 units right and 1 down", "point 2 of n is moved 5 units right and 1 down", "outlines of 1 glyph (n)"},
		{"an edge", func(n, _, _ *drawnGlyph) { n.x[2] -= 5; n.x[3] -= 5 }, "points 2 and 3 of n are moved 5 units left", "points 2 and 3 of n are moved 5 units left", "outlines of 1 glyph (n)"},
		{"points that went different ways", func(n, _, _ *drawnGlyph) { n.x[2] -= 5; n.x[3] -= 6 }, "", "", "outlines of 1 glyph (n)"},
		{"an edge and the advance with it", func(n, _, _ *drawnGlyph) { n.x[2] += 5; n.x[3] += 5; n.advance += 5 },
			"points 2 and 3 of n are moved 5 units right, and the advance is 5 units wider", "points 2 and 3 of n are moved 5 units right, and the advance is 5 units wider", "outlines of 1 glyph (n); advances of 1 glyph (n)"},
		{"a point more", func(n, _, _ *drawnGlyph) {
			n.x, n.y, n.ends = append(n.x, 30), append(n.y, -9), []int{4}
		}, "", "", "outlines of 1 glyph (n)"},
		{"points that moved alike, one of them off the curve now", func(n, _, _ *drawnGlyph) { n.x[2] += 5; n.x[3] += 5; n.off = []int{3} }, "", "", "outlines of 1 glyph (n)"},
		{"a point off the curve", func(n, _, _ *drawnGlyph) { n.off = []int{1} }, "", "", "outlines of 1 glyph (n)"},
		{"drawn anew without a program, as where contours were merged", func(n, _, _ *drawnGlyph) { n.x[2] -= 5; n.x[3] -= 6; n.program = nil },
			"the outline is another, and the program is gone", "the outline is another, and the program is gone", "outlines of 1 glyph (n); hints of 1 glyph (n)"},
		{"drawn anew with another program", func(n, _, _ *drawnGlyph) { n.x[2] -= 5; n.x[3] -= 6; n.program = []byte{9} }, "", "", "outlines of 1 glyph (n); hints of 1 glyph (n)"},
		{"its contour begins elsewhere", func(n, _, _ *drawnGlyph) { n.x, n.y = []glyph.FUnit{10, 50, 50, 10}, []glyph.FUnit{100, 100, 0, 0} },
			"the points are numbered otherwise, and programs go by numbers", "the points are numbered otherwise, and programs go by numbers", "point numbers of 1 glyph (n)"},
		{"a point more on a straight line", func(n, _, _ *drawnGlyph) {
			n.x, n.y, n.ends = []glyph.FUnit{10, 10, 10, 50, 50}, []glyph.FUnit{0, 60, 100, 100, 0}, []int{4}
		}, "the points are numbered otherwise, and programs go by numbers", "the points are numbered otherwise, and programs go by numbers", "point numbers of 1 glyph (n)"},
		{"a component moved", func(_, _, nacute *drawnGlyph) { nacute.parts[1].Arg2 += 60 }, "", "component acute is moved 60 units up", "components of 1 glyph (nacute)"},
		{"both of them", func(_, _, nacute *drawnGlyph) { nacute.parts[0].Arg2++; nacute.parts[1].Arg2++ }, "", "", "components of 1 glyph (nacute)"},
		{"not on whole pixels any more", func(_, _, nacute *drawnGlyph) { nacute.parts[1].Flags = ArgsAreXY }, "", "component acute is placed on whole pixels no more (ROUND_XY_TO_GRID)", "components of 1 glyph (nacute)"},
		{"by points and not by an offset", func(_, _, nacute *drawnGlyph) { nacute.parts[1].Flags = RoundXYToGrid }, "", "", "components of 1 glyph (nacute)"},
		{"a component less", func(_, _, nacute *drawnGlyph) { nacute.parts = nacute.parts[:1] }, "", "", "components of 1 glyph (nacute)"},
		{"another component", func(_, _, nacute *drawnGlyph) { nacute.parts[1].Index = 1 }, "", "", "components of 1 glyph (nacute)"},
		{"its own program gone", func(_, _, nacute *drawnGlyph) { nacute.program = nil }, "", "the program is gone", "hints of 1 glyph (nacute)"},
		{"made of components no more", func(n, _, nacute *drawnGlyph) {
			nacute.parts, nacute.x, nacute.y, nacute.ends = nil, []glyph.FUnit{10, 10, 50, 50, 23, 23, 43, 43}, []glyph.FUnit{0, 100, 100, 0, 124, 154, 154, 124}, []int{3, 7}
			nacute.lsb = 10
		}, "", "the components are one outline now", "point numbers of 1 glyph (nacute)"},
	} {
		as := func(_, _, _ *drawnGlyph) {}
		r := NewRevision(fontOf(t, lettersOf(as)...), fontOf(t, lettersOf(c.alter)...))
		require.Equal(t, c.n, r.Reason(refOf(t, r.now, "n")), c.reason)
		require.Equal(t, c.nacute, r.Reason(refOf(t, r.now, "nacute")), c.reason)
		require.Empty(t, r.Reason(refOf(t, r.now, "acute")), c.reason)
		require.Equal(t, c.all, r.Differences(), c.reason)
	}
}

func TestAShapeIsOneHoweverItsPointsAreSet(t *testing.T) {
	type points [][3]int // x, y, and 1 on the curve
	outline := func(contours ...points) *glyph.Outline {
		o := &glyph.Outline{}
		for _, c := range contours {
			for _, p := range c {
				o.Points = append(o.Points, glyph.Point{X: fixed.I(p[0]), Y: fixed.I(p[1]), Kind: glyph.Kind(1 - p[2])})
			}
			o.Ends = append(o.Ends, len(o.Points)-1)
		}
		return o
	}
	square := points{{0, 0, 1}, {0, 40, 1}, {40, 40, 1}, {40, 0, 1}}
	round := points{{60, 0, 0}, {60, 40, 0}, {100, 40, 0}, {100, 0, 0}}
	for _, c := range []struct {
		reason string
		other  *glyph.Outline
		is     bool
	}{
		{"itself", outline(square, round), true},
		{"contours in another order", outline(round, square), true},
		{"a contour begun elsewhere", outline(points{{40, 40, 1}, {40, 0, 1}, {0, 0, 1}, {0, 40, 1}}, round), true},
		{"the other way round", outline(points{{40, 0, 1}, {40, 40, 1}, {0, 40, 1}, {0, 0, 1}}, round), false},
		{"a point on a straight line", outline(points{{0, 0, 1}, {0, 10, 1}, {0, 40, 1}, {40, 40, 1}, {40, 0, 1}}, round), true},
		{"a point beside it", outline(points{{0, 0, 1}, {1, 10, 1}, {0, 40, 1}, {40, 40, 1}, {40, 0, 1}}, round), false},
		{"a point beyond its end, and back", outline(points{{0, 0, 1}, {0, 60, 1}, {0, 40, 1}, {40, 40, 1}, {40, 0, 1}}, round), false},
		{"a point twice", outline(points{{0, 0, 1}, {0, 0, 1}, {0, 40, 1}, {40, 40, 1}, {40, 0, 1}}, round), true},
		{"a point that two control points imply", outline(square, points{{60, 0, 0}, {60, 20, 1}, {60, 40, 0}, {100, 40, 0}, {100, 0, 0}}), true},
		{"a point that they do not", outline(square, points{{60, 0, 0}, {60, 21, 1}, {60, 40, 0}, {100, 40, 0}, {100, 0, 0}}), false},
		{"a contour less", outline(square), false},
	} {
		require.Equal(t, c.is, sameShape(outline(square, round), c.other), c.reason)
	}
	var falling points // a hundred points, each lower than the one before
	for i := range 100 {
		falling = append(falling, [3]int{100 - i, i * i, 1})
	}
	require.True(t, sameShape(outline(falling), outline(append(falling[50:], falling[:50]...))), "the least of many points is found")
	eight := points{{0, 0, 1}, {10, 10, 1}, {0, 20, 1}, {0, 0, 1}, {-0, -10, 1}, {10, -20, 1}}
	require.True(t, sameShape(outline(eight), outline(append(eight[3:], eight[:3]...))), "a point that it has twice")
}

func TestGlyphsWithoutNamesAreKnownAsComponentsByTheirOutlines(t *testing.T) {
	as := func(_, acute, _ *drawnGlyph) { acute.name = "" }
	glyphs := lettersOf(as)
	for _, c := range []struct {
		reason string
		tail   glyph.FUnit // of the acute
		want   string
	}{
		{"the same one under another index", 150, "nothing that is drawn"},
		{"another one", 160, "components of 1 glyph (nacute)"},
	} {
		n, acute, nacute := glyphs[0], box("", 20, 120, 40, c.tail), glyphs[2]
		nacute.parts = slices.Clone(nacute.parts)
		nacute.parts[0].Index, nacute.parts[1].Index = 2, 3
		r := NewRevision(fontOf(t, glyphs...), fontOf(t, box("first", 0, 0, 9, 9), n, acute, nacute))
		require.Equal(t, c.want, r.Differences(), c.reason)
	}
	nested := func(aside int) *TrueType { // a glyph made of one without a name that is made of the acute
		mark := drawnGlyph{parts: []Component{{Index: 1, Flags: ArgsAreXY, Arg1: aside}}}
		return fontOf(t, box("acute", 20, 120, 40, 150), mark, drawnGlyph{name: "tonos", parts: []Component{{Index: 2, Flags: ArgsAreXY}}})
	}
	behind := func(aside int) *TrueType {
		mark := drawnGlyph{parts: []Component{{Index: 2, Flags: ArgsAreXY, Arg1: aside}}}
		return fontOf(t, box("first", 0, 0, 9, 9), box("acute", 20, 120, 40, 150), mark, drawnGlyph{name: "tonos", parts: []Component{{Index: 3, Flags: ArgsAreXY}}})
	}
	require.Equal(t, "nothing that is drawn", NewRevision(nested(5), behind(5)).Differences())
	require.Equal(t, "components of 1 glyph (tonos)", NewRevision(nested(5), behind(6)).Differences())
}

func TestAnEmThatIsScaledIsOneDifference(t *testing.T) {
	scaled := func(alter func(g []drawnGlyph)) *TrueType {
		glyphs := lettersOf(func(_, _, _ *drawnGlyph) {})
		for i := range glyphs {
			g := &glyphs[i]
			for j := range g.x {
				g.x[j], g.y[j] = (g.x[j]+1)/2, (g.y[j]+1)/2
			}
			g.advance, g.lsb = g.advance/2, g.lsb/2
			for j := range g.parts {
				g.parts[j].Arg1, g.parts[j].Arg2 = g.parts[j].Arg1/2, g.parts[j].Arg2/2
			}
		}
		alter(glyphs)
		f := fontOf(t, glyphs...)
		f.upem /= 2
		return f
	}
	was := fontOf(t, lettersOf(func(_, _, _ *drawnGlyph) {})...)
	for _, c := range []struct {
		reason string
		cvt    []int16
		alter  func(g []drawnGlyph)
		why    string // of n
		all    string
	}{
		{"with all that goes by it", []int16{50, 100}, func([]drawnGlyph) {}, "unitsPerEm is 1024, was 2048", "unitsPerEm is 1024, was 2048"},
		{"control values as they were", []int16{100, 200}, func([]drawnGlyph) {},
			"unitsPerEm is 1024, was 2048; control values were not scaled with it", "unitsPerEm is 1024, was 2048; control values were not scaled with it"},
		{"one of them off", []int16{50, 120}, func([]drawnGlyph) {}, "unitsPerEm is 1024, was 2048; control value 1 is 120, was 200", "unitsPerEm is 1024, was 2048; control value 1 is 120, was 200"},
		{"a glyph off by more than rounding", []int16{50, 100}, func(g []drawnGlyph) { g[0].y[1] += 3 }, "unitsPerEm is 1024, was 2048", "unitsPerEm is 1024, was 2048; outlines of 1 glyph (n)"},
	} {
		now := scaled(c.alter)
		now.cvt = c.cvt
		r := NewRevision(was, now)
		require.Equal(t, c.why, r.Reason(refOf(t, now, "n")), c.reason)
		require.Equal(t, c.all, r.Differences(), c.reason)
	}
}

func TestAHintDictionaryIsScaledWithTheEm(t *testing.T) {
	font := func(matrix string, stem, blueScale float64, program string) Face {
		return parseCFF(t, &psfont.Font{Name: "T", Matrix: matrix,
			Private: []psfont.Entry{{Key: "BlueScale", Values: []float64{blueScale}}, {Key: "StdHW", Values: []float64{stem}}},
			Glyphs:  []psfont.Glyph{{Name: ".notdef", Program: "endchar"}, {Name: "l", Program: program}}})
	}
	was := font("0.001 0 0 0.001 0 0", 84, 0.03, "100 80 vstem 100 0 rmoveto 80 hlineto 700 vlineto -80 hlineto endchar")
	for _, c := range []struct {
		reason          string
		stem, blueScale float64
		want            string
	}{
		{"as all lengths are", 168, 0.03, "unitsPerEm is 2000, was 1000"},
		{"but for one of them", 84, 0.03, "unitsPerEm is 2000, was 1000; StdHW was not scaled with it"},
		{"to another one", 90, 0.03, "unitsPerEm is 2000, was 1000; StdHW is 90, was 84"},
		{"what is no length stays", 168, 0.06, "unitsPerEm is 2000, was 1000; BlueScale is 0.06, was 0.03"},
	} {
		now := font("0.0005 0 0 0.0005 0 0", c.stem, c.blueScale, "200 160 vstem 200 0 rmoveto 160 hlineto 1400 vlineto -160 hlineto endchar")
		require.Equal(t, c.want, NewRevision(was, now).Differences(), c.reason)
	}
}

func TestAFontWhoseHintsAreNearlyAllOthersWasHintedAnew(t *testing.T) {
	many := func(program func(i int) []byte) []drawnGlyph {
		var list []drawnGlyph
		for i := range 8 {
			g := box(string(rune('a'+i)), 10, 0, 50, 100)
			g.program = program(i)
			list = append(list, g)
		}
		return list
	}
	as := func(int) []byte { return []byte{1} }
	for _, c := range []struct {
		reason  string
		program func(i int) []byte
		a, h    string // why they are drawn otherwise
	}{
		{"no program", as, "control value 0 is 90, was 100", "control value 0 is 90, was 100"},
		{"each", func(int) []byte { return []byte{7, 7} }, "hinted anew: control value 0 is 90, was 100", "hinted anew: control value 0 is 90, was 100"},
		{"six of eight", func(i int) []byte { return []byte{byte(1 + min(i/2, 1))} }, "control value 0 is 90, was 100", "hinted anew: control value 0 is 90, was 100"},
		{"five of eight, and another thing befell them than the others", func(i int) []byte { return []byte{byte(1 + min(i/3, 1))} }, "control value 0 is 90, was 100", ""},
		{"none is left", func(int) []byte { return nil }, "hints are gone: control value 0 is 90, was 100", "hints are gone: control value 0 is 90, was 100"},
	} {
		now := fontOf(t, many(c.program)...)
		now.cvt = []int16{90, 200}
		r := NewRevision(fontOf(t, many(as)...), now)
		require.Equal(t, c.h, r.Reason(refOf(t, now, "h")), c.reason)
		require.Equal(t, c.a, r.Reason(refOf(t, now, "a")), c.reason)
	}
	turned := many(func(int) []byte { return []byte{7} })
	turned[7].x, turned[7].y = []glyph.FUnit{10, 50, 50, 10}, []glyph.FUnit{100, 100, 0, 0}
	now := fontOf(t, turned...)
	now.cvt = []int16{90, 200}
	was := fontOf(t, many(as)...)
	require.Equal(t, "hinted anew: control value 0 is 90, was 100", NewRevision(was, now).Reason(refOf(t, now, "h")), "its points have other numbers too")
	moved := many(func(int) []byte { return []byte{7} })
	moved[7].y[1]++
	now = fontOf(t, moved...)
	now.cvt = []int16{90, 200}
	require.Empty(t, NewRevision(was, now).Reason(refOf(t, now, "h")), "its outline is another as well")
}
