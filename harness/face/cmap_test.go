package face

import (
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// words puts 16-bit fields together, longs 32-bit ones (OpenType, "Data types").
func words(v ...int) (b []byte) {
	for _, w := range v {
		b = binary.BigEndian.AppendUint16(b, uint16(w))
	}
	return b
}

func longs(v ...int) (b []byte) {
	for _, w := range v {
		b = binary.BigEndian.AppendUint32(b, uint32(w))
	}
	return b
}

func cat(parts ...[]byte) (b []byte) {
	for _, p := range parts {
		b = append(b, p...)
	}
	return b
}

// cmapOf is a cmap of one subtable.
func cmapOf(platform, encoding int, sub []byte) []byte {
	return cat(words(0, 1, platform, encoding), longs(12), sub)
}

// format4 has two segments, A to C by difference and a to b by list, and the last
// one that the format asks for.
func format4() []byte {
	return words(4, 46, 0, 6, 0, 0, 0, // three segments
		'C', 'b', 0xFFFF, // ends
		0,
		'A', 'a', 0xFFFF, // starts
		-0x41+5, 0, 1, // differences: A is glyph 5
		0, 4, 0, // the list stands two words on
		9, 8) // a is glyph 9, b glyph 8
}

// Layouts are those of OpenType, "cmap".
func TestCodesAreReadFromEveryCmapFormat(t *testing.T) {
	format0 := make([]byte, 6+256)
	copy(format0, words(0, 262, 0))
	format0[6+'A'], format0[6+'B'] = 5, 6
	for _, c := range []struct {
		reason string
		table  []byte
		want   map[int]rune
	}{
		{"0: a byte a glyph", cmapOf(3, 1, format0), map[int]rune{5: 'A', 6: 'B'}},
		{"4: segments by difference and by list", cmapOf(3, 1, format4()), map[int]rune{5: 'A', 6: 'B', 7: 'C', 9: 'a', 8: 'b'}},
		{"6: a trimmed list of words", cmapOf(0, 3, words(6, 16, 0, 'A', 3, 5, 0, 7)), map[int]rune{5: 'A', 7: 'C'}},
		{"10: a trimmed list beyond the BMP", cmapOf(3, 10, cat(words(10, 0), longs(24, 0, 0x1F600, 2), words(3, 4))), map[int]rune{3: 0x1F600, 4: 0x1F601}},
		{"12: groups with glyphs in a row", cmapOf(3, 10, cat(words(12, 0), longs(40, 0, 2, 'A', 'B', 5, 0x10000, 0x10000, 9))), map[int]rune{5: 'A', 6: 'B', 9: 0x10000}},
		{"13: groups with one glyph; the lowest code names it", cmapOf(0, 6, cat(words(13, 0), longs(28, 0, 1, 'A', 'Z', 5))), map[int]rune{5: 'A'}},
		{"symbols stand at F000 and are told without it", cmapOf(3, 0, words(6, 14, 0, 0xF041, 2, 5, 6)), map[int]rune{5: 'A', 6: 'B'}},
		{"two codes for one glyph: the lower one", cmapOf(3, 1, words(6, 14, 0, 'A', 2, 5, 5)), map[int]rune{5: 'A'}},
		{"glyph 0 has no code", cmapOf(3, 1, words(6, 12, 0, 'A', 1, 0)), map[int]rune{}},
		{"a glyph that the face does not have", cmapOf(3, 1, words(6, 12, 0, 'A', 1, 50)), map[int]rune{}},
		{"an encoding that is not Unicode", cmapOf(1, 0, words(6, 12, 0, 'A', 1, 5)), map[int]rune{}},
		{"a format that nobody knows", cmapOf(3, 1, words(99, 12, 0, 'A', 1, 5)), map[int]rune{}},
	} {
		require.Equal(t, c.want, mapped(readCmap(c.table, 20)), c.reason)
	}
}

// mapped leaves out the glyphs that no code point maps to.
func mapped(codes []rune) map[int]rune {
	out := map[int]rune{}
	for gid, code := range codes {
		if code != glyph.NoCode {
			out[gid] = code
		}
	}
	return out
}

// Groups of one code point each, in the order in which a font may have them.
func TestAGlyphIsKnownByTheLowestCodeThatTextIsWrittenWith(t *testing.T) {
	for _, c := range []struct {
		reason string
		codes  []int // of glyph 5, rising
		want   rune
	}{
		{"the lowest of two", []int{0x41, 0x0391}, 'A'},
		{"the ideograph of a Kangxi radical", []int{0x2F9E, 0x8ECA}, '車'},
		{"the ideograph of a radical and its compatibility form", []int{0x2FD3, 0x9F8D, 0xF9C4}, '龍'},
		{"a radical that no ideograph shares", []int{0x2E80, 0x2F00}, 0x2E80},
		{"a letter before radicals", []int{0x42, 0x2F00}, 'B'},
	} {
		table := cat(words(12, 0), longs(16+12*len(c.codes), 0, len(c.codes)))
		for _, code := range c.codes {
			table = cat(table, longs(code, code, 5))
		}
		require.Equal(t, c.want, readCmap(cmapOf(3, 10, table), 6)[5], c.reason)
	}
}

func TestTheFullestCmapCounts(t *testing.T) {
	bmp, full := words(6, 12, 0, 'A', 1, 5), cat(words(12, 0), longs(28, 0, 1, 'B', 'B', 5))
	table := cat(words(0, 2, 3, 1), longs(20), words(3, 10), longs(20+len(bmp)), bmp, full)
	require.Equal(t, map[int]rune{5: 'B'}, mapped(readCmap(table, 20)))
}

// Damage costs the mappings behind it, never the face.
func TestDamagedCmapsLoseTheirTail(t *testing.T) {
	for _, c := range []struct {
		reason string
		table  []byte
		want   map[int]rune
	}{
		{"no table", nil, map[int]rune{}},
		{"a directory cut short", words(0, 9, 3), map[int]rune{}},
		{"a subtable past the end", cat(words(0, 1, 3, 1), longs(1<<30)), map[int]rune{}},
		{"format 4 with more segments than bytes", cmapOf(3, 1, words(4, 32, 0, 2000, 0, 0, 0, 1)), map[int]rune{}},
		{"format 4 with a list past the end", cmapOf(3, 1, format4()[:len(format4())-2]), map[int]rune{5: 'A', 6: 'B', 7: 'C', 9: 'a'}},
		{"format 6 that promises too much", cmapOf(3, 1, words(6, 14, 0, 'A', 900, 5)), map[int]rune{5: 'A'}},
		{"format 12 with a group upside down", cmapOf(3, 10, cat(words(12, 0), longs(40, 0, 2, 'B', 'A', 5, 'C', 'C', 9))), map[int]rune{9: 'C'}},
		{"format 12 beyond Unicode", cmapOf(3, 10, cat(words(12, 0), longs(28, 0, 1, 0x10FFFF, 0x110000, 5))), map[int]rune{}},
	} {
		require.Equal(t, c.want, mapped(readCmap(c.table, 20)), c.reason)
	}
}

func FuzzCmap(f *testing.F) {
	f.Add(cmapOf(3, 1, format4()))
	f.Add(cmapOf(3, 10, cat(words(12, 0), longs(28, 0, 1, 'A', 'Z', 5))))
	f.Add(cmapOf(3, 0, words(6, 14, 0, 0xF041, 2, 5, 6)))
	f.Fuzz(func(t *testing.T, table []byte) {
		for gid, code := range mapped(readCmap(table, 100)) {
			require.True(t, gid > 0 && gid < 100 && code >= 0 && code <= 0x10FFFF)
		}
	})
}
