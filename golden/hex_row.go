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
		left := min(n, 8)
		if cap(line) < left+(n-left+7)&^7 || cap(line) < 8 {
			return false
		}
		w, wrong := hexDigits8(binary.BigEndian.Uint64(line[:8]), left)
		bad |= wrong
		w <<= 64 - 4*left
		if n > 8 {
			low, wrong := hexDigits8(binary.BigEndian.Uint64(line[8:16]), n-8)
			bad |= wrong
			w |= low << (64 - 4*n)
		}
		row[i], line = w, line[n:]
	}
	return bad == 0
}

// hexDigits8 is the value of the first n of eight digits, n at least 1, the
// first in the topmost byte; bad is not 0 where one of them is no hex digit.
func hexDigits8(x uint64, n int) (value, bad uint64) {
	x = x>>(64-8*n) | zeros<<(8*n-1)<<1
	letter := x >> 6 & eachByte
	x |= letter << 5 // lower case
	bad = x & topBits
	x = (x | topBits) - zeros - letter*('a'-'0')
	bad |= ^x & topBits // it came before '0' or 'a'
	x &^= topBits
	bad |= (x + (0x7F-9)*eachByte + letter*(9-5)) & topBits // after '9' or 'f'
	x += letter * 10
	x = (x | x>>4) & 0x00FF00FF00FF00FF
	x = (x | x>>8) & 0x0000FFFF0000FFFF
	return (x | x>>16) & 0xFFFFFFFF, bad
}
