package bytecode

import "math/bits"

// F26Dot6 is a length in 64ths of a pixel.
type F26Dot6 = int32

// Vec is a point, a distance or, in 2.14, a direction. Y grows up.
type Vec struct{ X, Y F26Dot6 }

func sub(a, b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y} }

// MulFix is a × b / 65536, rounded half away from zero: b is 16.16.
func MulFix(a, b int32) int32 {
	p := int64(a) * int64(b)
	return int32((p + 0x8000 + p>>63) >> 16)
}

// DivFix is a × 65536 / b, rounded half away from zero; the largest value where b is 0.
func DivFix(a, b int32) int32 { return mulDiv(a, 0x10000, b) }

// mulDiv is a × b / c, rounded half away from zero.
func mulDiv(a, b, c int32) int32 {
	n, d, neg := int64(a)*int64(b), int64(c), false
	if n < 0 {
		n, neg = -n, !neg
	}
	if d < 0 {
		d, neg = -d, !neg
	}
	q := int64(0x7FFFFFFF)
	if d > 0 {
		q = (n + d/2) / d
	}
	if neg {
		q = -q
	}
	return int32(q)
}

// mulDivDown is the same without rounding.
func mulDivDown(a, b, c int32) int32 {
	if c == 0 {
		return 0x7FFFFFFF
	}
	return int32(int64(a) * int64(b) / int64(c))
}

// mulFix14 is a × b / 16384, rounded half away from zero: b is 2.14.
func mulFix14(a, b int32) int32 {
	p := int64(a) * int64(b)
	return int32((p + 0x2000 + p>>63) >> 14)
}

// dot14 is the length of (x, y) along the 2.14 vector v.
func dot14(x, y int32, v Vec) int32 {
	p := int64(x)*int64(v.X) + int64(y)*int64(v.Y)
	return int32((p + 0x2000 + p>>63) >> 14)
}

func abs(v int32) int32 {
	if v < 0 {
		return -v
	}
	return v
}

// unit is the 2.14 vector of length one in the direction (x, y); false where
// there is none. The reciprocal length is found by Newton steps in 16.16, as
// FreeType's FT_Vector_NormLen finds it, so that the last bit agrees.
func unit(x, y int32) (Vec, bool) {
	if x == 0 && y == 0 {
		return Vec{}, false
	}
	if x == 0 || y == 0 {
		return Vec{sign(x) * 0x4000, sign(y) * 0x4000}, true
	}
	ux, uy := uint32(abs(x)), uint32(abs(y))
	about := func() uint32 { return max(ux, uy) + min(ux, uy)>>1 }
	l := about()
	shift := bits.LeadingZeros32(l)
	less := 15
	if l >= 0xAAAAAAAA>>shift {
		less++
	}
	if shift -= less; shift > 0 {
		ux, uy = ux<<shift, uy<<shift
		l = about()
	} else {
		ux, uy, l = ux>>-shift, uy>>-shift, l>>-shift
	}
	b := int32(0x10000) - int32(l)
	sx, sy := int32(ux), int32(uy)
	for {
		u := sx + int32(int64(sx)*int64(b)>>16)
		v := sy + int32(int64(sy)*int64(b)>>16)
		z := -int32(uint32(u)*uint32(u)+uint32(v)*uint32(v)) / 0x200
		z = z * ((0x10000 + b) >> 8) / 0x10000
		b += z
		if z <= 0 {
			return Vec{sign(x) * u / 4, sign(y) * v / 4}, true
		}
	}
}

func sign(v int32) int32 {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

// Hypot is the length of (x, y), in their unit. It turns the vector onto the X
// axis by ever smaller steps (CORDIC), each rounded as in FreeType's FT_Hypot
// (fttrigon.c), whose last bit shows in glyphs; a square root would not do.
func Hypot(x, y int32) int32 {
	switch {
	case x == 0:
		return abs(y)
	case y == 0:
		return abs(x)
	}
	const safeBit = 29 // the turns make the vector 1.65 times as long
	a, b := int64(abs(x)), int64(abs(y))
	shift := safeBit - (31 - bits.LeadingZeros32(uint32(a|b)))
	if shift > 0 {
		a, b = a<<shift, b<<shift
	} else {
		a, b = a>>-shift, b>>-shift
	}
	a, b = towardsX(a, b, x, y)
	for i, half := 1, int64(1); i < 23; i, half = i+1, half<<1 {
		if b > 0 {
			a, b = a+(b+half)>>i, b-(a+half)>>i
		} else {
			a, b = a-(b+half)>>i, b+(a+half)>>i
		}
	}
	const shrink = 0xDBD95B16 // what undoes the lengthening, 0.32
	a = (a*shrink + 0x40000000) >> 32
	if shift > 0 {
		return int32((a + 1<<(shift-1)) >> shift)
	}
	return int32(a << -shift)
}

// towardsX turns (a, b), the absolute values of (x, y), by quarters of a circle
// until it lies within 45 degrees of the X axis.
func towardsX(a, b int64, x, y int32) (int64, int64) {
	if x < 0 {
		a = -a
	}
	if y < 0 {
		b = -b
	}
	switch {
	case b > a && b > -a:
		return b, -a
	case b > a:
		return -a, -b
	case b < -a:
		return -b, a
	}
	return a, b
}
