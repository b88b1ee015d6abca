package face

import (
	"encoding/binary"

	"smokeproof/harness/glyph"
)

// Limits on what a plain glyph may come to; damaged fonts nest without end.
const (
	plainDepth = 4
	plainBytes = 1 << 14
)

// AppendPlain appends all that a glyph's drawing hangs on where no program moves it, in font units:
// its data, metrics, and those of its components. It is false for a glyph that has a program, or a part that has
// one, and for one that cannot be read, or nests unusually deep.
func (f *TrueType) AppendPlain(b []byte, index int) ([]byte, bool) {
	return f.appendPlain(b, len(b)+plainBytes, index, plainDepth)
}

func (f *TrueType) appendPlain(b []byte, most, index, depth int) ([]byte, bool) {
	data, err := f.glyphBytes(index)
	if err != nil || depth == 0 || len(b)+len(data) > most {
		return b, false
	}
	advance, lsb := f.HMetrics(index)
	for _, v := range [...]glyph.FUnit{advance, lsb, glyph.FUnit(len(data))} {
		b = binary.BigEndian.AppendUint32(b, uint32(v))
	}
	b = append(b, data...)
	if !f.IsComposite(index) {
		return b, !programmed(data)
	}
	g, err := f.Glyph(index)
	if err != nil || len(g.Instructions) > 0 {
		return b, false
	}
	for i := range g.Components {
		var ok bool
		if b, ok = f.appendPlain(b, most, g.Components[i].Index, depth-1); !ok {
			return b, false
		}
	}
	return b, true
}

// programmed says of a simple glyph that it has a program, or is too short to tell.
func programmed(data []byte) bool {
	if len(data) == 0 {
		return false
	}
	if len(data) < 10 {
		return true
	}
	contours := int(binary.BigEndian.Uint16(data))
	at := 10 + 2*contours // of the program's length (OpenType, "glyf", simple glyph table)
	return contours > 0 && (at+2 > len(data) || binary.BigEndian.Uint16(data[at:]) != 0)
}
