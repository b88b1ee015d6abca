package glyph

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"golang.org/x/image/math/fixed"
)

// FUnit is a length in font design units, as integers in the font file.
type FUnit int32

// Points is a type size in thousandths of a typographic point (1/72 inch),
// so that 7.2 pt is exact.
type Points int32

// DPI is a resolution in thousandths of a dot per inch. A head of 8 dots/mm
// is 203.2 dpi, which thousandths hold exactly and a float does not.
type DPI int32

// Resolution is the resolution of a device across (X) and along (Y).
type Resolution struct{ X, Y DPI }

// PPEM is a size in pixels per em, 26.6, across and along. It is not rounded:
// 8 pt at 203 dpi is 22.556.
type PPEM struct{ X, Y fixed.Int26_6 }

// Pt is the size of a whole number of points.
func Pt(n int) Points { return Points(n * 1000) }

// Dots is a whole number of dots per inch in both directions.
func Dots(n int) Resolution { return Resolution{DPI(n * 1000), DPI(n * 1000)} }

// PerMM is the resolution of a device of so many dots per millimetre, given in
// thousandths; it fails where thousandths of a dpi cannot hold it.
func PerMM(thousandths int) (DPI, error) {
	t := int64(thousandths) * 254
	if t%10 != 0 {
		return 0, fmt.Errorf("%s dots/mm is not a whole number of thousandths of a dpi; give dpi instead", thousandth(int64(thousandths)))
	}
	if t/10 > maxThousandths {
		return 0, fmt.Errorf("%s dots/mm is out of range; the limit is 100000 dpi", thousandth(int64(thousandths)))
	}
	return DPI(t / 10), nil
}

// PixelsPerEm is pt × dpi / 72 in 26.6, rounded half up. For whole dpi and
// sizes in 64ths of a point it is the value that FreeType's FT_Set_Char_Size
// computes. What 26.6 cannot hold is its largest value.
func PixelsPerEm(size Points, r Resolution) PPEM {
	return PPEM{pixelsPerEm(size, r.X), pixelsPerEm(size, r.Y)}
}

func pixelsPerEm(size Points, d DPI) fixed.Int26_6 {
	const unit = 72 * 1000 * 1000
	return fixed.Int26_6(min((int64(size)*int64(d)*64+unit/2)/unit, math.MaxInt32))
}

// Nominal is the ppem as instructions see it: a whole number, rounded half up.
func (p PPEM) Nominal() (x, y int) { return (int(p.X) + 32) >> 6, (int(p.Y) + 32) >> 6 }

// Float is the size without rounding, for judgement: no bitmap is made by it.
func (p PPEM) Float() (x, y float64) { return float64(p.X) / 64, float64(p.Y) / 64 }

// ParsePoints reads a size such as "8" or "7.5".
func ParsePoints(s string) (Points, error) {
	v, err := parseThousandths(s, "size in points")
	return Points(v), err
}

// ParseDPI reads one resolution such as "300" or "203.2".
func ParseDPI(s string) (DPI, error) {
	v, err := parseThousandths(s, "resolution in dpi")
	return DPI(v), err
}

// ParseResolution reads "300" or "203,406".
func ParseResolution(s string) (Resolution, error) {
	xs, ys, two := strings.Cut(s, ",")
	x, err := ParseDPI(xs)
	if err != nil || !two {
		return Resolution{x, x}, err
	}
	y, err := ParseDPI(ys)
	return Resolution{x, y}, err
}

// maxThousandths bounds sizes and resolutions: a hundred thousand of either.
const maxThousandths = 100_000_000

func parseThousandths(s, what string) (int64, error) {
	s = strings.TrimSpace(s) // of "203, 406"
	whole, fraction, _ := strings.Cut(s, ".")
	digits := whole + fraction
	if digits == "" || len(s) > 12 || strings.Trim(digits, "0123456789") != "" {
		return 0, fmt.Errorf("%s %.40q is not a decimal number", what, s)
	}
	if fraction = strings.TrimRight(fraction, "0"); len(fraction) > 3 {
		return 0, fmt.Errorf("%s %q has more than three decimals", what, s)
	}
	v, err := strconv.ParseInt(whole+fraction+"000"[len(fraction):], 10, 64)
	if err != nil || v == 0 || v > maxThousandths {
		return 0, fmt.Errorf("%s %q is out of range (0 to 100000)", what, s)
	}
	return v, nil
}

func (p Points) String() string { return thousandth(int64(p)) }
func (d DPI) String() string    { return thousandth(int64(d)) }

// String is "300", or "203x406" where the two differ: fit for a file name.
func (r Resolution) String() string {
	if r.X == r.Y {
		return r.X.String()
	}
	return r.X.String() + "x" + r.Y.String()
}

// Float is the value in dpi, for figures that a person reads.
func (d DPI) Float() float64 { return float64(d) / 1000 }

func thousandth(v int64) string {
	return strconv.FormatFloat(float64(v)/1000, 'f', -1, 64)
}
