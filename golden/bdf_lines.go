package golden

import (
	"bytes"
	"encoding/binary"
	"fmt"

	"smokeproof/harness/glyph"
)

// bdfLines walks the lines of a document without copying them.
type bdfLines struct {
	text   []byte
	at     int // where the next line begins: a number, since to move a slice along costs the collector's attention
	number int // of the line that was read last, from 1
}

// left is how many bytes were not read yet.
func (l *bdfLines) left() int { return len(l.text) - l.at }

// next returns the next line's keyword and the rest of it; empty lines are skipped.
func (l *bdfLines) next() (word, args []byte, ok bool) {
	for l.at < len(l.text) {
		from, end := l.at, l.at
		for end < len(l.text) && l.text[end] != '\n' && !blank(l.text[end]) {
			end++
		}
		word, args = l.text[from:end], l.restOfLine(end)
		l.number++
		if len(word) > 0 || len(args) > 0 {
			return word, args, true
		}
	}
	return nil, nil, false
}

// restOfLine reads on to the line's end and cuts blanks off both sides.
func (l *bdfLines) restOfLine(from int) []byte {
	end := from
	for end < len(l.text) && l.text[end] != '\n' {
		end++
	}
	l.at = min(end+1, len(l.text))
	for end > from && blank(l.text[end-1]) {
		end--
	}
	return skipBlank(l.text[from:end])
}

func blank(b byte) bool { return b == ' ' || b == '\t' || b == '\r' }

func skipBlank(p []byte) []byte {
	for len(p) > 0 && blank(p[0]) {
		p = p[1:]
	}
	return p
}

// rows reads hex rows until there are enough or another line comes, and says which is none as it
// should be.
func (l *bdfLines) rows(b *glyph.Bitmap) (amiss string) {
	digits := rowDigits(b)
	if digits == 0 {
		return ""
	}
	pairs := hexPairs()
	inside := ^uint64(0) << (-b.Width * b.Depth & 63) // of a row's last word
	for y := range b.Height {
		row, from, end := b.Row(y), l.at, l.at+digits
		if end < len(l.text) && l.text[end] == '\n' && hexRow(pairs, row, l.text[l.at:end]) {
			l.at = end + 1
			l.number++
		} else {
			n, whole := l.oddRow(row, digits)
			if !whole && amiss == "" {
				line, _, _ := bytes.Cut(l.text[from:], []byte("\n"))
				amiss = fmt.Sprintf("row %d of %d is %.40q; a row of %d pixels is %d hexadecimal digits", y+1, b.Height, bytes.TrimSpace(line), b.Width, digits)
			}
			if n == 0 {
				return amiss
			}
		}
		if last := &row[len(row)-1]; *last&^inside != 0 {
			*last &= inside
			if amiss == "" {
				amiss = fmt.Sprintf("row %d of %d has ink right of its %d pixels: BBX is too narrow, the rest of the last byte is not zero, or the leftmost pixel is not the highest bit", y+1, b.Height, b.Width)
			}
		}
	}
	return amiss
}

// oddRow takes a row that is too short, too long or followed by anything, and says how many digits
// it has, 0 where the line is not a row, and whether they are all that there have to be: a row may be
// padded with zeros.
func (l *bdfLines) oddRow(row []uint64, digits int) (n int, whole bool) {
	rest := l.text[l.at:]
	for n < len(rest) && hexValue[rest[n]] < 16 {
		n++
	}
	if n == 0 || bytes.HasPrefix(rest, []byte("ENDCHAR")) {
		return 0, false
	}
	clear(row)
	var word [8]byte
	for j, d := range rest[:min(n, digits)] {
		word[j/2%8] |= hexValue[d] << (4 - 4*(j%2))
		if j%16 == 15 || j == min(n, digits)-1 {
			row[j/16] = binary.BigEndian.Uint64(word[:])
			word = [8]byte{}
		}
	}
	l.restOfLine(l.at + n)
	l.number++
	return n, n >= digits && len(bytes.Trim(rest[digits:n], "0")) == 0
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
		return 0, fmt.Errorf("%.20q is no whole number within %d", args, 1<<20)
	}
	return n, nil
}
