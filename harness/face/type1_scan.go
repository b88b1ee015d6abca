package face

import (
	"bytes"
	"strconv"
	"strings"
)

// scanner reads the words of a PostScript program: names, numbers and the marks
// that bracket arrays and procedures. Strings and comments are passed over.
type scanner struct {
	b  []byte
	at int
}

func isSpace(c byte) bool {
	return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' || c == 0
}

func isMark(c byte) bool { return bytes.IndexByte([]byte("()<>[]{}/%"), c) >= 0 }

// next is the next word, "" at the end. A name to be defined keeps its slash.
func (s *scanner) next() string {
	for s.at < len(s.b) {
		switch c := s.b[s.at]; {
		case isSpace(c):
			s.at++
		case c == '%':
			s.comment()
		case c == '(':
			s.text()
		case c == '<' || c == '>' || c == ')':
			s.at++
		case isMark(c) && c != '/':
			s.at++
			return string(c)
		default:
			return s.word()
		}
	}
	return ""
}

func (s *scanner) word() string {
	from := s.at
	s.at++
	for s.at < len(s.b) && !isSpace(s.b[s.at]) && !isMark(s.b[s.at]) {
		s.at++
	}
	return string(s.b[from:s.at])
}

func (s *scanner) comment() {
	for s.at < len(s.b) && s.b[s.at] != '\n' && s.b[s.at] != '\r' {
		s.at++
	}
}

// text passes over a string, in which brackets balance or stand behind a backslash.
func (s *scanner) text() {
	depth := 0
	for ; s.at < len(s.b); s.at++ {
		switch s.b[s.at] {
		case '\\':
			s.at++
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				s.at++
				return
			}
		}
	}
	s.at = len(s.b)
}

// integer is the next word as a whole number, with a radix or without.
func (s *scanner) integer() (int, bool) {
	v, err := strconv.Atoi(s.peek())
	if radix, digits, ok := strings.Cut(s.peek(), "#"); ok {
		base, bad := strconv.Atoi(radix)
		if bad != nil || base < 2 || base > 36 {
			return 0, false
		}
		var wide int64
		wide, err = strconv.ParseInt(digits, base, 32)
		v = int(wide)
	}
	if err != nil {
		return 0, false
	}
	s.next()
	return v, true
}

// peek is the next word, which is read again.
func (s *scanner) peek() string {
	at := s.at
	w := s.next()
	s.at = at
	return w
}

// numbers reads an array, in brackets or braces.
func (s *scanner) numbers() []float64 {
	if open := s.next(); open != "[" && open != "{" {
		return nil
	}
	var all []float64
	for {
		v, err := strconv.ParseFloat(s.next(), 64)
		if err != nil || len(all) >= maxOperands {
			return all
		}
		all = append(all, v)
	}
}

// number reads one number, or the first of an array.
func (s *scanner) number() (float64, bool) {
	if w := s.peek(); w == "[" || w == "{" {
		if all := s.numbers(); len(all) > 0 {
			return all[0], true
		}
		return 0, false
	}
	v, err := strconv.ParseFloat(s.peek(), 64)
	if err != nil {
		return 0, false
	}
	s.next()
	return v, true
}

// binary reads what a charstring is stored as: its length, the word RD or
// another, one space, the bytes.
func (s *scanner) binary() ([]byte, bool) {
	n, ok := s.integer()
	if !ok || n < 0 || s.next() == "" || n >= len(s.b)-s.at {
		return nil, false
	}
	s.at += 1 + n
	return s.b[s.at-n : s.at : s.at], true
}
