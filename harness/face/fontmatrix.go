package face

import (
	"fmt"
	"math"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// matrix takes charstring units to font units: x' = xx·x + xy·y + dx and
// y' = yx·x + yy·y + dy, all 16.16. The zero matrix changes nothing.
type matrix struct{ xx, yx, xy, yy, dx, dy fix }

// normalise splits a FontMatrix, which takes charstring units to the em, into
// units per em and what is left: nothing for upright faces, a slant for oblique
// ones made by matrix. No matrix is the usual 0.001.
func normalise(m []float64) (upem int, rest matrix, err error) {
	if m == nil {
		return 1000, matrix{}, nil
	}
	if len(m) != 6 || m[3] == 0 {
		return 0, rest, fmt.Errorf("%w: FontMatrix %v", ErrInvalid, m)
	}
	per := math.Round(1 / math.Abs(m[3]))
	if !(per >= 16 && per <= 16384) {
		return 0, rest, fmt.Errorf("%w: FontMatrix %v makes %g units per em, must be 16 to 16384", ErrInvalid, m, per)
	}
	rest, err = scaleMatrix(m, per)
	return int(per), rest, err
}

// scaleMatrix multiplies a FontMatrix by the units per em. Font files round
// their numbers, so a change of less than one unit in an em is none.
func scaleMatrix(m []float64, upem float64) (matrix, error) {
	var v [6]fix
	plain := true
	for i, one := range [6]float64{1, 0, 0, 1, 0, 0} {
		s := m[i] * upem
		if !(math.Abs(s) < 1<<14) {
			return matrix{}, fmt.Errorf("%w: FontMatrix %v", ErrInvalid, m)
		}
		plain = plain && math.Abs(s-one) < 1e-4
		v[i] = fix(math.Round(s * float64(fixOne)))
	}
	if plain {
		return matrix{}, nil
	}
	return matrix{v[0], v[1], v[2], v[3], v[4], v[5]}, nil
}

func (m matrix) apply(d *Drawing) {
	if m == (matrix{}) {
		return
	}
	for i := range d.Outline.Points {
		p := &d.Outline.Points[i]
		x, y := fix(p.X), fix(p.Y)
		p.X = fixed.Int26_6((m.xx*x+m.xy*y+fixOne/2)>>16) + m.dx.units()
		p.Y = fixed.Int26_6((m.yx*x+m.yy*y+fixOne/2)>>16) + m.dy.units()
	}
	d.Advance = m.xx.of(d.Advance)
	for i := range d.Hints {
		h := &d.Hints[i]
		if h.Axis == glyph.AxisX {
			h.Lo, h.Hi = m.xx.of(h.Lo)+m.dx.units(), m.xx.of(h.Hi)+m.dx.units()
		} else {
			h.Lo, h.Hi = m.yy.of(h.Lo)+m.dy.units(), m.yy.of(h.Hi)+m.dy.units()
		}
		if h.Lo > h.Hi {
			h.Lo, h.Hi = h.Hi, h.Lo
		}
	}
	d.drop(func(h Hint) bool { return h.Axis == glyph.AxisX && m.xy != 0 || h.Axis == glyph.AxisY && m.yx != 0 })
}

// of scales a length, rounding half up.
func (v fix) of(u fixed.Int26_6) fixed.Int26_6 {
	return fixed.Int26_6((v*fix(u) + fixOne/2) >> 16)
}

// drop takes hints out of force that a slant left without an edge to stand on.
func (d *Drawing) drop(gone func(Hint) bool) {
	keep := func(all []int) []int {
		var kept []int
		for _, i := range all {
			if !gone(d.Hints[i]) {
				kept = append(kept, i)
			}
		}
		return kept
	}
	for i := range d.Spans {
		d.Spans[i].Hints = keep(d.Spans[i].Hints)
	}
	var counters [][]int
	for _, c := range d.Counters {
		if k := keep(c); len(k) == len(c) {
			counters = append(counters, k)
		}
	}
	d.Counters = counters
}

// stretch brings the lengths of a hint dictionary into font units.
func (p *Private) stretch(m matrix) {
	if m == (matrix{}) {
		return
	}
	x, y := math.Abs(float64(m.xx))/float64(fixOne), math.Abs(float64(m.yy))/float64(fixOne)
	for _, rows := range [][]float64{p.BlueValues, p.OtherBlues, p.FamilyBlues, p.FamilyOtherBlues, p.StemSnapH} {
		for i := range rows {
			rows[i] *= y
		}
	}
	for i := range p.StemSnapV {
		p.StemSnapV[i] *= x
	}
	p.StdHW, p.StdVW, p.BlueShift, p.BlueFuzz = p.StdHW*y, p.StdVW*x, p.BlueShift*y, p.BlueFuzz*y
	if y > 0 {
		p.BlueScale /= y
	}
}
