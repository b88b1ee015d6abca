package render

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// largest is a pixel at 6 pt and 203 dpi, in thousandths of the em: none measured is wider.
const largest = 59.1

// clearest puts the place at which a straight stem is measured where there is white
// beside it as far as a pixel may reach along it: in the middle if that is as good as
// any, where more than clearOfEnds is no better. It says whether there is such a place.
func (s *stemFeature) clearest(contours [][]point) bool {
	if !s.straight {
		return s.cut(contours)
	}
	off := max(0, min(s.reach/2, s.reach-largest*clearOfEnds))
	within := min(s.reach/3, largest/2)
	best, most := *s, -1.0
	for _, aside := range []float64{0, -off, off} {
		here := *s
		here.across, here.reach = s.across+aside, s.reach-math.Abs(aside)
		if !here.cut(contours) {
			continue
		}
		white := min(here.clear, largest*clearOfEnds)
		for _, along := range []float64{-within, within} {
			near := here
			near.across += along
			if !near.cut(contours) {
				near.clear = 0
			}
			white = min(white, near.clear)
		}
		if white > most {
			best, most = here, white
		}
	}
	*s = best
	return most >= 0
}

// stub says that a stem is less than half as long as it is wide: a serif with the stem
// it is at, or the height of a stroke declared as that of a bar.
func (s *stemFeature) stub() bool { return s.straight && 4*s.reach < s.hi-s.lo }

// beset says that other ink comes as near to a straight stem as fitting may bring it, all along
// the row or column of pixels in which it is measured: at the middle of that there may be more
// white beside it than on either side, as where a bowl begins.
func (s *stemFeature) beset(flat [][]point, scale float64) bool {
	if !s.straight {
		return false
	}
	line := math.Floor(s.across * scale)
	beside := func(edge, away float64) bool {
		x0, x1 := edge+away, edge+away*clearOfEnds/scale
		a := areaOf(x0, x1, line/scale, (line+1)/scale)
		if s.axis == glyph.AxisY {
			a = area{a.y0, a.x0, a.y1, a.x1}
		}
		return a.inked(flat)
	}
	return beside(s.lo, -1) || beside(s.hi, 1)
}

// cut says whether the outline's ink, where the stem is measured, reaches from
// one of its edges to the other and no further, and how much white there is
// beside it.
func (s *stemFeature) cut(contours [][]point) bool {
	type crossing struct {
		x    float64
		wind int
	}
	var all []crossing
	at := s.across + 1.0/128 // beside any point of the outline
	for _, c := range contours {
		flat := flattened(c)
		for i := range flat {
			p, q := turned(flat[i], s.axis), turned(flat[(i+1)%len(flat)], s.axis)
			if (p.y < at) != (q.y < at) {
				wind := 1
				if q.y < p.y {
					wind = -1
				}
				all = append(all, crossing{p.x + (q.x-p.x)*(at-p.y)/(q.y-p.y), wind})
			}
		}
	}
	slices.SortFunc(all, func(a, b crossing) int { return cmp.Compare(a.x, b.x) })
	wind, from, last := 0, 0.0, math.Inf(-1)
	found := false
	s.clear = math.Inf(1)
	for _, c := range all {
		before := wind
		wind += c.wind
		switch {
		case before == 0:
			from = c.x
			if found {
				s.clear = min(s.clear, from-last)
				return true
			}
		case wind == 0:
			if found = math.Abs(from-s.lo) <= 1 && math.Abs(c.x-s.hi) <= 1; found {
				s.clear = from - last
			}
			last = c.x
		}
	}
	return found
}

// flattened makes a contour's curves chords.
func flattened(c []point) (out []point) {
	n := len(c)
	for i, p := range c {
		if !p.on {
			continue
		}
		out = append(out, p)
		q, r, s := c[(i+1)%n], c[(i+2)%n], c[(i+3)%n]
		if q.on {
			continue
		}
		for k := 1; k < 16; k++ {
			t := float64(k) / 16
			u := 1 - t
			a, b, d, e := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
			out = append(out, point{a*p.x + b*q.x + d*r.x + e*s.x, a*p.y + b*q.y + d*r.y + e*s.y, true})
		}
	}
	return out
}

// A stem 100 units wide and 700 long, and other ink 30 units from it.
func TestAStemIsMeasuredWhereOtherInkIsFarthest(t *testing.T) {
	for _, c := range []struct {
		why           string
		other         [4]int
		across, clear float64
	}{
		{"none is near", [4]int{900, 0, 950, 700}, 350, 800},
		{"beside the middle: above or under it", [4]int{130, 300, 200, 400}, 175, math.Inf(1)},
		{"half a pixel above the middle, which a row of pixels may take in", [4]int{130, 365, 200, 500}, 175, math.Inf(1)},
		{"beside all of it: in the middle", [4]int{130, 0, 200, 700}, 350, 30},
	} {
		d := drawn([]face.Hint{stem(glyph.AxisX, 0, 100)}, [4]int{0, 0, 100, 700}, c.other)
		f := featuresOf(d, nil, 0)
		require.Len(t, f.stems, 1, c.why)
		require.InDelta(t, c.across, f.stems[0].across, 1, c.why)
		require.Equal(t, c.clear, f.stems[0].clear, c.why)
	}
}

// A stem of 100 units and a wedge of white to its right, 60 units wide in the middle of the
// stem: half a row of pixels further along it is too narrow to tell the stem from what follows.
func TestAStemIsMeasuredWhereItIsClearAllAlongARowOfPixels(t *testing.T) {
	d := drawn([]face.Hint{stem(glyph.AxisX, 0, 100)}, [4]int{0, 0, 100, 700})
	for _, p := range [][2]int{{100, 0}, {400, 0}, {400, 700}, {100, 700}, {160, 350}} {
		d.Outline.Points = append(d.Outline.Points, glyph.Point{X: fixed.I(p[0]), Y: fixed.I(p[1])})
	}
	d.Outline.Ends = append(d.Outline.Ends, 8)
	f := featuresOf(d, nil, 0)
	require.Len(t, f.stems, 1)
	for _, c := range []struct {
		why   string
		scale float64
		want  bool
	}{
		{"a row from 350 to 385: 54 of white at its end, where 52.5 are asked", 1.0 / 35, false},
		{"from 341 to 379: 55 where 57 are asked, though the middle has 60", 1.0 / 37.9, true},
		{"of 50 units: less than 75 all along", 1.0 / 50, true},
	} {
		require.Equal(t, c.want, f.stems[0].beset(f.flat, c.scale), c.why)
	}
}

// The stem of a j with its serif, 235 units wide: 80 units of it are no stem.
func TestAStubIsNotMeasuredAsAStem(t *testing.T) {
	for length, measured := range map[int]int{80: 0, 116: 0, 118: 1, 300: 1} {
		f := featuresOf(drawn([]face.Hint{stem(glyph.AxisX, 40, 275)}, [4]int{40, 400, 275, 400 + length}), nil, 0)
		m := &measuring{score: &score{}, s: &subject{}, scale: 0.2, widths: map[widthKey]map[string]int{}}
		m.stems(f, &face.Private{}, &glyph.Cell{Bitmap: glyph.NewBitmap(0, 0, 1, 1, 1)}, "j")
		require.Equal(t, measured, m.all[nothingVanishes], "%d units long", length)
	}
}
