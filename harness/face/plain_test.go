package face

import (
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/require"
)

// dot is a simple glyph of one contour of a point, with a program of n bytes.
func dot(n int) []byte {
	b := make([]byte, 10, 20)
	b[1] = 1
	b = append(b, 0, 0, 0, byte(n)) // its only contour ends at point 0
	b = append(b, make([]byte, n)...)
	return append(b, flagOn|flagXSame|flagYSame)
}

// madeOf is a composite of one component, with a program of n bytes.
func madeOf(index, n int) []byte {
	b := make([]byte, 10, 30)
	b[0], b[1] = 0xFF, 0xFF
	flags := ArgsAreXY
	if n > 0 {
		flags |= HaveInstructions
	}
	b = binary.BigEndian.AppendUint16(b, flags)
	b = append(b, 0, byte(index), 7, 7)
	if n > 0 {
		b = append(b, 0, byte(n))
	}
	return append(b, make([]byte, n)...)
}

func TestAPlainGlyphHasNoProgramAnywhere(t *testing.T) {
	for _, c := range []struct {
		reason string
		glyphs [][]byte // of which the first is looked at
		plain  bool
	}{
		{"blank", [][]byte{nil}, true},
		{"points alone", [][]byte{dot(0)}, true},
		{"a program", [][]byte{dot(1)}, false},
		{"made of one without", [][]byte{madeOf(1, 0), dot(0)}, true},
		{"made of one with a program", [][]byte{madeOf(1, 0), dot(1)}, false},
		{"a program over the whole", [][]byte{madeOf(1, 3), dot(0)}, false},
		{"made of itself", [][]byte{madeOf(0, 0)}, false},
		{"made of a glyph that is not there", [][]byte{madeOf(9, 0)}, false},
		{"nested too deep to follow", [][]byte{madeOf(1, 0), madeOf(2, 0), madeOf(3, 0), madeOf(4, 0), dot(0)}, false},
		{"cut short before its program", [][]byte{dot(0)[:12]}, false},
		{"cut short in its box", [][]byte{{0, 1, 0}}, false},
	} {
		f := goRegular(t)
		f.glyf, f.loca, f.longLoca = nil, make([]byte, 4), true
		for _, g := range c.glyphs {
			f.glyf = append(f.glyf, g...)
			f.loca = binary.BigEndian.AppendUint32(f.loca, uint32(len(f.glyf)))
		}
		f.maxp.NumGlyphs = len(c.glyphs)
		_, plain := f.AppendPlain(nil, 0)
		require.Equal(t, c.plain, plain, c.reason)
	}
}

// What its drawing hangs on tells a glyph from one that is drawn otherwise.
func TestPlainGlyphsDifferByAllTheirParts(t *testing.T) {
	base := func() *TrueType {
		f := goRegular(t)
		f.glyf = append(madeOf(1, 0), dot(0)...)
		f.loca, f.longLoca = make([]byte, 12), true
		binary.BigEndian.PutUint32(f.loca[4:], uint32(len(madeOf(1, 0))))
		binary.BigEndian.PutUint32(f.loca[8:], uint32(len(f.glyf)))
		f.hmtx = append([]byte(nil), f.hmtx...)
		f.maxp.NumGlyphs = 2
		return f
	}
	was, plain := base().AppendPlain(nil, 0)
	require.True(t, plain)
	again, _ := base().AppendPlain(nil, 0)
	require.Equal(t, was, again)
	for reason, change := range map[string]func(f *TrueType){
		"advance":                func(f *TrueType) { f.hmtx[1]++ },
		"side bearing":           func(f *TrueType) { f.hmtx[3]++ },
		"advance of a component": func(f *TrueType) { f.hmtx[5]++ },
		"where a component is":   func(f *TrueType) { f.glyf[14]++ },
		"outline of a component": func(f *TrueType) { f.glyf[len(f.glyf)-1] &^= flagOn },
	} {
		f := base()
		change(f)
		now, plain := f.AppendPlain(nil, 0)
		require.True(t, plain, reason)
		require.NotEqual(t, was, now, reason)
	}
}
