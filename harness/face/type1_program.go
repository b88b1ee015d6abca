package face

import (
	"fmt"
	"math"
	"strings"
)

// readClear reads the half in the clear: encoding and matrix.
func (f *Type1) readClear(program []byte) error {
	s := scanner{b: program}
	for w := s.next(); w != ""; w = s.next() {
		switch w {
		case "/FontMatrix":
			if f.matrix == nil {
				f.matrix = s.numbers()
			}
		case "/Encoding":
			f.readEncoding(&s)
		case "/WeightVector", "/BlendDesignPositions":
			return fmt.Errorf("%w: a multiple master font; use an instance of it", ErrUnsupported)
		}
	}
	return nil
}

// readEncoding takes StandardEncoding, an array of names, or pairs of code and
// name put into one (Type 1 book 2.2).
func (f *Type1) readEncoding(s *scanner) {
	switch s.peek() {
	case "StandardEncoding":
		s.next()
		f.encoding = standardEncoding
		return
	case "[":
		s.next()
		for i := range f.encoding {
			w := s.peek()
			if !strings.HasPrefix(w, "/") {
				return
			}
			f.encoding[i] = s.next()[1:]
		}
		return
	}
	if _, ok := s.integer(); !ok || s.next() != "array" {
		return
	}
	for w := s.next(); w != "" && w != "def" && w != "readonly"; w = s.next() {
		if w != "dup" {
			continue
		}
		if code, ok := s.integer(); ok && code >= 0 && code < len(f.encoding) && strings.HasPrefix(s.peek(), "/") {
			f.encoding[code] = s.next()[1:]
		}
	}
}

// readPrivate reads the half behind eexec. In a font that holds a second set of
// subroutines or charstrings, for another kind of device, the first one counts.
func (f *Type1) readPrivate(program []byte) error {
	s := scanner{b: program}
	p := &f.private
	*p = defaultPrivate()
	numbers := map[string]*[]float64{
		"/BlueValues": &p.BlueValues, "/OtherBlues": &p.OtherBlues,
		"/FamilyBlues": &p.FamilyBlues, "/FamilyOtherBlues": &p.FamilyOtherBlues,
		"/StemSnapH": &p.StemSnapH, "/StemSnapV": &p.StemSnapV,
	}
	number := map[string]*float64{
		"/BlueScale": &p.BlueScale, "/BlueShift": &p.BlueShift, "/BlueFuzz": &p.BlueFuzz,
		"/StdHW": &p.StdHW, "/StdVW": &p.StdVW, "/ExpansionFactor": &p.ExpansionFactor,
	}
	lead := eexecLead
	for w := s.next(); w != ""; w = s.next() {
		switch w {
		case "/lenIV":
			lead, _ = s.integer()
		case "/ForceBold":
			p.ForceBold = s.peek() == "true"
		case "/LanguageGroup":
			p.LanguageGroup, _ = s.integer()
		case "/Subrs":
			if err := f.readSubrs(&s); err != nil {
				return err
			}
		case "/CharStrings":
			if err := f.readChars(&s); err != nil {
				return err
			}
		default:
			if all := numbers[w]; all != nil && *all == nil {
				*all = s.numbers()
			}
			if one := number[w]; one != nil {
				if v, ok := s.number(); ok {
					*one = v
				}
			}
		}
	}
	if !p.sound() {
		return fmt.Errorf("%w: a number in the Private dictionary is out of range", ErrInvalid)
	}
	for i := range f.subrs {
		f.subrs[i] = plainCharstring(f.subrs[i], lead)
	}
	for i := range f.chars {
		f.chars[i].code = plainCharstring(f.chars[i].code, lead)
	}
	return nil
}

// plainCharstring decrypts a charstring and drops the lead bytes; a negative
// lead marks one that was never encrypted (Type 1 book 7.3; lenIV -1 as
// engines read it). One shorter than its lead is empty.
func plainCharstring(b []byte, lead int) []byte {
	if b == nil || lead < 0 {
		return b
	}
	return decrypt(b, charstringKey)[min(lead, len(b)):]
}

// maxSubrs is as many subroutines as CFF can have; shipped fonts have hundreds.
const maxSubrs = 1 << 16

func (f *Type1) readSubrs(s *scanner) error {
	if _, ok := s.integer(); !ok || f.subrs != nil {
		return nil
	}
	for {
		at := s.at
		switch w := s.next(); w {
		case "array", "NP", "|", "put", "noaccess", "readonly":
		case "dup":
			i, ok := s.integer()
			if !ok || i < 0 || i >= maxSubrs {
				return fmt.Errorf("%w: Subrs: no number at byte %d of the private part", ErrInvalid, at)
			}
			code, ok := s.binary()
			if !ok {
				return fmt.Errorf("%w: subroutine %d at byte %d of the private part is cut short", ErrInvalid, i, at)
			}
			for len(f.subrs) <= i {
				f.subrs = append(f.subrs, nil)
			}
			f.subrs[i] = code
		default:
			s.at = at
			return nil
		}
	}
}

// maxChars is as many glyphs as an index can tell apart in the other formats.
const maxChars = 1 << 16

func (f *Type1) readChars(s *scanner) error {
	if _, ok := s.integer(); !ok || f.chars != nil {
		return nil
	}
	for {
		at := s.at
		w := s.next()
		switch {
		case w == "" || w == "end":
			return nil
		case w[0] != '/':
			continue
		}
		code, ok := s.binary()
		if !ok {
			return fmt.Errorf("%w: the charstring of %q at byte %d of the private part is cut short", ErrInvalid, w[1:], at)
		}
		if len(f.chars) >= maxChars {
			return fmt.Errorf("%w: more than %d glyphs", ErrUnsupported, maxChars)
		}
		f.chars = append(f.chars, type1Char{w[1:], code})
	}
}

// defaultPrivate holds what applies where a font says nothing (Type 1 book,
// chapter 5; TN5176, table 23).
func defaultPrivate() Private {
	return Private{BlueScale: 0.039625, BlueShift: 7, BlueFuzz: 1, ExpansionFactor: 0.06}
}

// sound is false where a number could not be a length in any em.
func (p *Private) sound() bool {
	all := []float64{p.BlueScale, p.BlueShift, p.BlueFuzz, p.StdHW, p.StdVW, p.ExpansionFactor}
	for _, v := range [][]float64{p.BlueValues, p.OtherBlues, p.FamilyBlues, p.FamilyOtherBlues, p.StemSnapH, p.StemSnapV} {
		all = append(all, v...)
	}
	for _, v := range all {
		if math.IsNaN(v) || math.Abs(v) > 1<<20 {
			return false
		}
	}
	return true
}
