package face

import (
	"fmt"
	"math"
	"strconv"
)

// dict is a DICT of CFF: operators with their operands (TN5176, section 4). A
// two-byte operator 12 n is 1200 + n.
type dict map[int][]float64

// Operators of the Top, Font and Private DICTs (TN5176, tables 9, 10 and 23).
const (
	dictBlueValues, dictOtherBlues, dictFamilyBlues, dictFamilyOtherBlues = 6, 7, 8, 9
	dictStdHW, dictStdVW, dictCharset, dictEncoding, dictCharStrings      = 10, 11, 15, 16, 17
	dictPrivate, dictSubrs, dictDefaultWidth, dictNominalWidth            = 18, 19, 20, 21
	dictCharstringType, dictFontMatrix, dictBlueScale, dictBlueShift      = 1206, 1207, 1209, 1210
	dictBlueFuzz, dictStemSnapH, dictStemSnapV, dictForceBold             = 1211, 1212, 1213, 1214
	dictLanguageGroup, dictExpansionFactor, dictROS                       = 1217, 1218, 1230
	dictFDArray, dictFDSelect                                             = 1236, 1237
)

func readDict(b []byte, what string) (dict, error) {
	d := dict{}
	var operands []float64
	bad := func(at int, why string) error {
		return fmt.Errorf("%w: CFF: byte %d of the %s DICT: %s; the font is damaged", ErrInvalid, at, what, why)
	}
	for at := 0; at < len(b); {
		start := at
		c := int(b[at])
		if c <= 21 {
			at++
			if c == 12 {
				if at == len(b) {
					return nil, bad(start, "an operator is cut short")
				}
				c = 1200 + int(b[at])
				at++
			}
			d[c] = operands
			operands = nil
			continue
		}
		v, next, ok := dictNumber(b, at)
		switch {
		case !ok:
			return nil, bad(start, "no number")
		case len(operands) >= maxOperands:
			return nil, bad(start, fmt.Sprintf("more than %d operands", maxOperands))
		}
		operands = append(operands, v)
		at = next
	}
	return d, nil
}

// dictNumber reads a number (TN5176, table 3).
func dictNumber(b []byte, at int) (v float64, next int, ok bool) {
	size := map[byte]int{28: 3, 29: 5}[b[at]]
	switch c := int(b[at]); {
	case c == 30:
		return dictReal(b, at+1)
	case c >= 32 && c <= 246:
		return float64(c - 139), at + 1, true
	case c >= 247 && c <= 254:
		size = 2
	case size == 0:
		return 0, at, false
	}
	if at+size > len(b) {
		return 0, at, false
	}
	switch c := int(b[at]); {
	case c == 28:
		v = float64(int16(b[at+1])<<8 | int16(b[at+2]))
	case c == 29:
		v = float64(int32(b[at+1])<<24 | int32(b[at+2])<<16 | int32(b[at+3])<<8 | int32(b[at+4]))
	case c <= 250:
		v = float64((c-247)*256 + int(b[at+1]) + 108)
	default:
		v = float64(-(c-251)*256 - int(b[at+1]) - 108)
	}
	return v, at + size, true
}

// dictReal reads nibbles: digits, a point, signs, and f at the end (TN5176, table 5).
func dictReal(b []byte, at int) (v float64, next int, ok bool) {
	text := []byte{}
	for ; at < len(b) && len(text) < 64; at++ {
		for _, n := range [2]byte{b[at] >> 4, b[at] & 15} {
			switch {
			case n <= 9:
				text = append(text, '0'+n)
			case n == 0xa:
				text = append(text, '.')
			case n == 0xb:
				text = append(text, 'E')
			case n == 0xc:
				text = append(text, 'E', '-')
			case n == 0xe:
				text = append(text, '-')
			case n == 0xf:
				v, err := strconv.ParseFloat(string(text), 64)
				return v, at + 1, err == nil && !math.IsInf(v, 0)
			default:
				return 0, at, false
			}
		}
	}
	return 0, at, false
}

// number is an operator's first operand, or what applies without it.
func (d dict) number(op int, otherwise float64) float64 {
	if v := d[op]; len(v) > 0 {
		return v[0]
	}
	return otherwise
}

// offset is an operand that points into the table, 0 where there is none.
func (d dict) offset(op int) int {
	v := d.number(op, 0)
	if v != math.Trunc(v) || v < 0 || v > math.MaxInt32 {
		return -1
	}
	return int(v)
}

// deltas is an array whose elements are written as steps.
func (d dict) deltas(op int) []float64 {
	var all []float64
	at := 0.0
	for _, step := range d[op] {
		at += step
		all = append(all, at)
	}
	return all
}

// private reads the hints of a Private DICT.
func (d dict) private() Private {
	p := defaultPrivate()
	p.BlueValues, p.OtherBlues = d.deltas(dictBlueValues), d.deltas(dictOtherBlues)
	p.FamilyBlues, p.FamilyOtherBlues = d.deltas(dictFamilyBlues), d.deltas(dictFamilyOtherBlues)
	p.StemSnapH, p.StemSnapV = d.deltas(dictStemSnapH), d.deltas(dictStemSnapV)
	p.StdHW, p.StdVW = d.number(dictStdHW, 0), d.number(dictStdVW, 0)
	p.BlueScale = d.number(dictBlueScale, p.BlueScale)
	p.BlueShift, p.BlueFuzz = d.number(dictBlueShift, p.BlueShift), d.number(dictBlueFuzz, p.BlueFuzz)
	p.ForceBold = d.number(dictForceBold, 0) != 0
	p.LanguageGroup = int(d.number(dictLanguageGroup, 0))
	p.ExpansionFactor = d.number(dictExpansionFactor, p.ExpansionFactor)
	return p
}
