package golden

import (
	"encoding/binary"
	"sync"
)

// hexPairs values two hex digits at once, the first in the low byte of the
// index; noPair where one of them is no digit.
var hexPairs = sync.OnceValue(func() *[1 << 16]uint16 {
	var t [1 << 16]uint16
	for i := range t {
		high, low := hexValue[i&0xFF], hexValue[i>>8]
		if t[i] = noPair; high < 16 && low < 16 {
			t[i] = uint16(high)<<4 | uint16(low)
		}
	}
	return &t
})

const noPair = 0x100

// hexRow fills a row from exactly as many digits as it has, leftmost first;
// false where one is no digit. pairs are hexPairs.
func hexRow(pairs *[1 << 16]uint16, row []uint64, line []byte) bool {
	bad := uint64(0)
	for i := range row {
		w, left := uint64(0), 64
		for ; left > 0 && len(line) >= 8; line = line[8:] {
			x := binary.LittleEndian.Uint64(line)
			a, b := uint64(pairs[x&0xFFFF]), uint64(pairs[x>>16&0xFFFF])
			c, d := uint64(pairs[x>>32&0xFFFF]), uint64(pairs[x>>48])
			bad |= a | b | c | d
			w = w<<32 | a<<24 | b<<16 | c<<8 | d
			left -= 32
		}
		for ; left > 0 && len(line) >= 2; line = line[2:] {
			v := uint64(pairs[binary.LittleEndian.Uint16(line)])
			bad |= v
			w = w<<8 | v
			left -= 8
		}
		row[i] = w << left
	}
	return bad < noPair
}
