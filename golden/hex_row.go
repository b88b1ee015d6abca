package golden

import "encoding/binary"

// A hex digit is told from other bytes, and valued, in eight bytes at once.
const (
	eachByte = 0x0101010101010101
	topBits  = 0x80 * eachByte
	zeros    = '0' * eachByte
)

// hexRow fills a row from exactly as many digits as it has, leftmost first;
// false where one is no digit. It reads up to seven bytes past the line and
// does not use them, so it wants a line that has as many behind it.
func hexRow(row []uint64, line []byte) bool {
	bad := uint64(0)
	for i := range row {
		n := min(len(line), 16)
		if cap(line) < (n+7)&^7 {
			return false
		}
		x := leading(binary.BigEndian.Uint64(line[:8]), min(n, 8))
		bad |= noHex(x)
		w := hexWord(x) << (64 - 4*min(n, 8))
		if n > 8 {
			x := leading(binary.BigEndian.Uint64(line[8:16]), n-8)
			bad |= noHex(x)
			w |= hexWord(x) << (64 - 4*n)
		}
		row[i], line = w, line[n:]
	}
	return bad == 0
}

// leading keeps the first n of eight digits, at least one, behind zeros.
func leading(x uint64, n int) uint64 { return x>>(64-8*n) | zeros<<(8*n-1)<<1 }

// noHex is 0 where all eight bytes are hex digits.
func noHex(x uint64) uint64 {
	letter := x >> 6 & eachByte
	y := (x | letter<<5 | topBits) - zeros - letter*('a'-'0')
	late := y&^topBits + (0x7F-9)*eachByte + letter*(9-5) // from ':' or 'g' on
	return (x | ^y | late) & topBits
}

// hexWord is the value of eight digits, the first in the topmost byte.
func hexWord(x uint64) uint64 {
	x = x&(0x0F*eachByte) + x>>6&eachByte*9
	x = (x | x>>4) & 0x00FF00FF00FF00FF
	x = (x | x>>8) & 0x0000FFFF0000FFFF
	return (x | x>>16) & 0xFFFFFFFF
}
