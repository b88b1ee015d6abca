package gridfit

import (
	"encoding/binary"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/fixtures/gofaces"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Hinted points, advance and dropout mode of every glyph against FreeType's
// interpreter (testdata/points.c), point for point in 64ths of a pixel. The
// ordinary run takes one face at three sizes; SMOKEPROOF_FIDELITY=1 takes all.
func TestHintedPointsAreThoseOfFreeType(t *testing.T) {
	second := buildPoints(t)
	cases := ordinaryPoints
	if os.Getenv("SMOKEPROOF_FIDELITY") == "1" {
		cases = everyPoint
	}
	all := pointTally{}
	for _, c := range cases {
		for _, font := range c.files(t) {
			one := pointTally{}
			for _, p := range c.ppems {
				second.compare(t, font, p, c.every, &one)
			}
			t.Logf("%s: %s", filepath.Base(font), &one)
			all.add(&one)
		}
	}
	t.Logf("all: %s", &all)
	require.NotZero(t, all.glyphs)
	require.Zero(t, all.differ, "glyphs whose hinted points differ, logged above")
}

// pointCase is some faces at some sizes.
type pointCase struct {
	reason string
	glob   string // below /usr/share/fonts, or "go" for the faces of golang.org/x/image
	ppems  []glyph.PPEM
	every  int // compares every n-th glyph; 0 all
}

// ppemsOf are points at a resolution, which may differ across and along.
func ppemsOf(dpiX, dpiY int, points ...int) []glyph.PPEM {
	var all []glyph.PPEM
	for _, pt := range points {
		s := glyph.Strike{Size: glyph.Pt(pt), DPI: glyph.Resolution{X: glyph.Dots(dpiX).X, Y: glyph.Dots(dpiY).X}}
		all = append(all, s.PPEM())
	}
	return all
}

func join(lists ...[]glyph.PPEM) (all []glyph.PPEM) {
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

var (
	ordinaryPoints = []pointCase{
		{"hand-made hints, a fraction of a ppem", "truetype/dejavu/DejaVuSans.ttf", ppemsOf(203, 203, 8), 0},
		{"another resolution along than across", "truetype/dejavu/DejaVuSerif.ttf", ppemsOf(203, 406, 8), 4},
		{"another maker's hints", "truetype/liberation2/LiberationMono-Regular.ttf", ppemsOf(300, 300, 12), 0},
		{"machine-made hints", "go", ppemsOf(300, 300, 9), 4},
	}
	textSizes  = join(ppemsOf(203, 203, 6, 8, 9, 12), ppemsOf(300, 300, 8, 10, 14), ppemsOf(600, 600, 10, 18), ppemsOf(203, 406, 8, 11), ppemsOf(600, 300, 9))
	everyPoint = []pointCase{
		{"hand-made hints", "truetype/dejavu/*.ttf", textSizes, 0},
		{"the hints of DejaVu's parent", "truetype/ttf-bitstream-vera/*.ttf", textSizes, 0},
		{"another maker's hints", "truetype/liberation2/*.ttf", textSizes, 0},
		{"machine-made hints", "go", textSizes, 0},
		{"strikes beside outlines", "truetype/anonymous-pro/*.ttf", textSizes, 0},
		{"every glyph needs a lenient interpreter", "truetype/lato/*.ttf", textSizes[:4], 0},
		{"prep switches glyph programs off at such a size", "truetype/lato/Lato-Regular.ttf", ppemsOf(203, 203, 96), 0},
		{"24 instruction definitions", "truetype/nanum/NanumMyeongjo*.ttf", textSizes[:2], 0},
		{"12,723 instructed glyphs", "opentype/ipafont-gothic/*.ttf", textSizes[1:2], 0},
		{"13,435 instructed glyphs", "truetype/arphic-bsmi00lp/*.ttf", textSizes[1:2], 0},
	}
)

// files are the faces of a case; in CI a missing one is a failure.
func (c *pointCase) files(t *testing.T) []string {
	if c.glob == "go" {
		return goFaces(t)
	}
	found, err := filepath.Glob(filepath.Join("/usr/share/fonts", c.glob))
	require.NoError(t, err)
	if len(found) == 0 {
		missing(t, "fonts "+c.glob+" are not installed")
	}
	return found
}

func goFaces(t *testing.T) []string {
	paths, err := gofaces.Write(t.TempDir())
	require.NoError(t, err)
	return paths
}

// missing fails in CI, where everything must be installed, and skips elsewhere.
func missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}

type pointTally struct {
	glyphs, points, differ int
}

func (p *pointTally) add(q *pointTally) {
	p.glyphs += q.glyphs
	p.points += q.points
	p.differ += q.differ
}

func (p *pointTally) String() string {
	return fmt.Sprintf("%d glyphs, %d points, %d glyphs differ", p.glyphs, p.points, p.differ)
}

// secondOpinion is the program built from testdata/points.c.
type secondOpinion string

func buildPoints(t *testing.T) secondOpinion {
	flags, err := exec.Command("pkg-config", "--cflags", "--libs", "freetype2").Output()
	if err != nil {
		missing(t, "the headers of FreeType (freetype2) are not installed")
	}
	bin := filepath.Join(t.TempDir(), "points")
	out, err := exec.Command("cc", append([]string{"-O1", "-o", bin, "testdata/points.c"}, strings.Fields(string(flags))...)...).CombinedOutput()
	require.NoError(t, err, string(out))
	return secondOpinion(bin)
}

func (s secondOpinion) args(font string, p glyph.PPEM) []string {
	return []string{font, "0", fmt.Sprint(int(p.X)), fmt.Sprint(int(p.Y))}
}

// compare draws every glyph both ways and logs the first differences.
func (s secondOpinion) compare(t *testing.T, font string, p glyph.PPEM, every int, tally *pointTally, options ...string) {
	t.Helper()
	f, err := face.Open(font, 0)
	require.NoError(t, err)
	fit := NewTrueType(f.(*face.TrueType), p)
	dump, err := exec.Command(string(s), append(s.args(font, p), options...)...).Output()
	require.NoError(t, err, "%s at %d,%d/64 ppem", font, p.X, p.Y)
	in := numbers{rest: dump, t: t}
	require.Equal(t, 0x534D4F4B, in.next())
	n := in.next()
	require.Equal(t, len(f.Refs()), n)
	var want outlined
	for g := range n {
		in.glyph(&want)
		if every > 1 && g%every != 0 {
			continue
		}
		tally.glyphs++
		tally.points += len(want.points)
		got, err := fit.Fit(g)
		what := ""
		switch {
		case (err != nil) != (want.err != 0):
			what = fmt.Sprintf("error %v, FreeType 0x%X", err, want.err)
		case err == nil:
			what = want.against(got)
		}
		if what == "" {
			continue
		}
		if tally.differ++; tally.differ <= 5 {
			t.Logf("%s at %d,%d/64 ppem, glyph %d (%s): %s", filepath.Base(font), p.X, p.Y, g, f.Refs()[g].Key, what)
		}
	}
}

// outlined is one glyph as the second opinion has it.
type outlined struct {
	err, advance int
	dropout      glyph.Dropout
	points       [][3]int
	ends         []int
}

// against says in what a fitted glyph differs, "" where in nothing.
func (o *outlined) against(f *Fitted) string {
	if len(f.Outline.Points) != len(o.points) || len(f.Outline.Ends) != len(o.ends) {
		return fmt.Sprintf("%d points in %d contours, FreeType %d in %d", len(f.Outline.Points), len(f.Outline.Ends), len(o.points), len(o.ends))
	}
	for i, p := range f.Outline.Points {
		on := 0
		if p.Kind == glyph.OnCurve {
			on = 1
		}
		if got := [3]int{int(p.X), int(p.Y), on}; got != o.points[i] {
			return fmt.Sprintf("point %d is %v, FreeType %v", i, got, o.points[i])
		}
	}
	for i, e := range f.Outline.Ends {
		if e != o.ends[i] {
			return fmt.Sprintf("contour %d ends at %d, FreeType %d", i, e, o.ends[i])
		}
	}
	if got := (f.Advance + 32) &^ 63; got != fixed.Int26_6(o.advance) {
		return fmt.Sprintf("advance %d/64, FreeType %d/64", f.Advance, o.advance)
	}
	got := f.Dropout
	switch got {
	case 2, 3, 6, 7:
		got = glyph.DropoutOff // OpenType, "SCANTYPE[]"
	}
	if got != o.dropout && len(o.points) > 0 {
		return fmt.Sprintf("dropout mode %d, FreeType %d", got, o.dropout)
	}
	return ""
}

// numbers reads the 32-bit integers of the second opinion.
type numbers struct {
	rest []byte
	t    *testing.T
}

func (n *numbers) next() int {
	if len(n.rest) < 4 {
		n.t.Fatal("the answer of testdata/points.c is cut short")
	}
	v := int32(binary.LittleEndian.Uint32(n.rest))
	n.rest = n.rest[4:]
	return int(v)
}

// Outline flags (FreeType, ftimage.h): what TT_Load_Glyph makes of SCANTYPE.
const (
	flagIgnoreDropouts = 0x8
	flagSmartDropouts  = 0x10
	flagIncludeStubs   = 0x20
)

// glyph reads the next glyph into the memory of the last.
func (n *numbers) glyph(o *outlined) {
	o.err, o.advance = n.next(), n.next()
	o.points, o.ends = o.points[:0], o.ends[:0]
	switch flags := n.next(); {
	case flags&flagIgnoreDropouts != 0:
		o.dropout = glyph.DropoutOff
	default:
		o.dropout = 1
		if flags&flagSmartDropouts != 0 {
			o.dropout = 5
		}
		if flags&flagIncludeStubs != 0 {
			o.dropout--
		}
	}
	points, contours := n.next(), n.next()
	for range points {
		o.points = append(o.points, [3]int{n.next(), n.next(), n.next()})
	}
	for range contours {
		o.ends = append(o.ends, n.next())
	}
}
