package golden

import (
	"bytes"
	"encoding/binary"
	"fmt"

	"smokeproof/harness/glyph"
)

// bdfLines walks the lines of a document without copying them.
type bdfLines struct {
	rest   []byte
	number int // of the line that was read last, from 1
}

// next returns the next line's keyword and the rest of it; empty lines are skipped.
func (l *bdfLines) next() (word, args []byte, ok bool) {
	for len(l.rest) > 0 {
		line := l.rest
		if i := bytes.IndexByte(line, '\n'); i >= 0 {
			line, l.rest = line[:i], line[i+1:]
		} else {
			l.rest = nil
		}
		l.number++
		for len(line) > 0 && blank(line[len(line)-1]) {
			line = line[:len(line)-1]
		}
		if len(line) == 0 {
			continue
		}
		for i, b := range line {
			if blank(b) {
				return line[:i], skipBlank(line[i:]), true
			}
		}
		return line, nil, true
	}
	return nil, nil, false
}

func blank(b byte) bool { return b == ' ' || b == '\t' || b == '\r' }

func skipBlank(p []byte) []byte {
	for len(p) > 0 && blank(p[0]) {
		p = p[1:]
	}
	return p
}

// rows reads hex rows until there are enough or another line comes.
func (l *bdfLines) rows(b *glyph.Bitmap) {
	digits := (b.Width*b.Depth + 7) / 8 * 2
	for y := range b.Height {
		row := b.Row(y)
		if len(l.rest) > digits && digits > 0 && l.rest[digits] == '\n' && hexRow(row, l.rest[:digits]) {
			l.rest = l.rest[digits+1:]
			l.number++
		} else if !l.oddRow(row, digits) {
			return
		}
		if used := b.Width * b.Depth % 64; used != 0 {
			row[b.Stride-1] &= ^uint64(0) << (64 - used)
		}
	}
}

// hexRow fills a row from exactly as many digits as it has; false where one is no digit.
func hexRow(row []uint64, line []byte) bool {
	bad := byte(0)
	i := 0
	for ; len(line) >= 16; i++ {
		w := uint64(0)
		for _, d := range line[:16] {
			v := hexValue[d]
			bad |= v
			w = w<<4 | uint64(v&15)
		}
		row[i], line = w, line[16:]
	}
	if len(line) > 0 {
		w := uint64(0)
		for _, d := range line {
			v := hexValue[d]
			bad |= v
			w = w<<4 | uint64(v&15)
		}
		row[i] = w << (64 - 4*len(line))
	}
	return bad < 16
}

// oddRow takes a row that is too short, too long or followed by anything; false
// where the line is not a row.
func (l *bdfLines) oddRow(row []uint64, digits int) bool {
	i := 0
	for i < len(l.rest) && hexValue[l.rest[i]] < 16 {
		i++
	}
	if i == 0 || bytes.HasPrefix(l.rest, []byte("ENDCHAR")) {
		return false
	}
	clear(row)
	var word [8]byte
	for j, d := range l.rest[:min(i, digits)] {
		word[j/2%8] |= hexValue[d] << (4 - 4*(j%2))
		if j%16 == 15 || j == min(i, digits)-1 {
			row[j/16] = binary.BigEndian.Uint64(word[:])
			word = [8]byte{}
		}
	}
	if end := bytes.IndexByte(l.rest[i:], '\n'); end >= 0 {
		l.rest = l.rest[i+end+1:]
	} else {
		l.rest = nil
	}
	l.number++
	return true
}

// leadingInt reads a decimal number and what follows it.
func leadingInt(p []byte) (n int, rest []byte, ok bool) {
	p = skipBlank(p)
	negative := len(p) > 0 && p[0] == '-'
	if negative || len(p) > 0 && p[0] == '+' {
		p = p[1:]
	}
	i := 0
	for i < len(p) && p[i]-'0' < 10 {
		if i > 9 {
			return 0, p, false
		}
		n = n*10 + int(p[i]-'0')
		i++
	}
	if i == 0 || i < len(p) && !blank(p[i]) {
		return 0, p, false
	}
	if negative {
		n = -n
	}
	return n, p[i:], true
}

func firstInt(args []byte) (int, error) {
	n, _, ok := leadingInt(args)
	if !ok || n < -1<<20 || n > 1<<20 {
		return 0, fmt.Errorf("%.20q is out of range", args)
	}
	return n, nil
}
