package face

import (
	"crypto/sha256"
	"fmt"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// Type1 is a face in the Type 1 format, whole in one file: PFB, PFA or .t1.
type Type1 struct {
	digest   [32]byte
	upem     int
	matrix   []float64
	skew     matrix
	encoding [256]string
	private  Private
	subrs    [][]byte
	chars    []type1Char
	byName   map[string]int
	refs     []glyph.Ref
	rows     alignment
	afm      map[string]fixed.Int26_6 // advances of the AFM file beside the font
}

// type1Char is a glyph's name and charstring.
type type1Char struct {
	name string
	code []byte
}

// blankNotdef stands in where a font has no .notdef: 0 500 hsbw endchar.
var blankNotdef = []byte{0x8b, 0xf8, 0x88, 0x0d, 0x0e}

func newType1(data []byte) (*Type1, error) {
	clear, private, err := splitType1(data)
	if err != nil {
		return nil, err
	}
	f := &Type1{digest: sha256.Sum256(data), byName: map[string]int{}}
	if err := f.readClear(clear); err != nil {
		return nil, err
	}
	if err := f.readPrivate(private); err != nil {
		return nil, err
	}
	if len(f.chars) == 0 {
		return nil, fmt.Errorf("%w: no CharStrings behind eexec; the file is damaged", ErrInvalid)
	}
	if f.upem, f.skew, err = normalise(f.matrix); err != nil {
		return nil, err
	}
	f.private.stretch(f.skew)
	f.putNotdefFirst()
	f.readRefs()
	return f, nil
}

// putNotdefFirst gives .notdef the index 0 by changing places, as engines do.
func (f *Type1) putNotdefFirst() {
	for i, c := range f.chars {
		if c.name == ".notdef" {
			f.chars[0], f.chars[i] = f.chars[i], f.chars[0]
			return
		}
	}
	f.chars = append(f.chars, f.chars[0])
	f.chars[0] = type1Char{".notdef", blankNotdef}
}

// readRefs finds code points by glyph names; a glyph whose name tells none has
// the code at which the font's own Encoding puts it, if no other glyph has it.
func (f *Type1) readRefs() {
	f.refs = make([]glyph.Ref, len(f.chars))
	for i, c := range f.chars {
		f.refs[i] = glyph.Ref{Name: c.name, Code: glyph.NoCode, Index: i}
		f.byName[c.name] = i
	}
	encodedCodes(f.refs, nameCodes(f.refs), func(code int) int { return f.byName[f.encoding[code]] })
	glyph.SetKeys(f.refs)
}

// Format is "Type 1".
func (f *Type1) Format() string { return "Type 1" }

// UPEM is the number of font units per em, 1000 unless FontMatrix says otherwise.
func (f *Type1) UPEM() int { return f.upem }

// Digest is a SHA-256 of the file.
func (f *Type1) Digest() [32]byte { return f.digest }

// Refs lists .notdef, then the glyphs in the order of the file.
func (f *Type1) Refs() []glyph.Ref { return f.refs }

// Private is the hint dictionary of the whole face.
func (f *Type1) Private(int) *Private { return &f.private }

// Advance is the width that the glyph's charstring sets, in 26.6 font units.
func (f *Type1) Advance(index int) fixed.Int26_6 {
	d, err := f.run(index, true)
	if err != nil {
		return 0
	}
	return d.Advance
}

// Drawing runs a glyph's charstring.
func (f *Type1) Drawing(index int) (*Drawing, error) { return f.run(index, false) }

func (f *Type1) run(index int, widthOnly bool) (*Drawing, error) {
	if index < 0 || index >= len(f.chars) {
		return nil, fmt.Errorf("%w: glyph %d: the face has %d glyphs", ErrInvalid, index, len(f.chars))
	}
	code := f.chars[index].code
	m := type1{machine: newMachine(code, false), font: f, widthOnly: widthOnly}
	m.execute(&m, code, ownCharstring, 0)
	if m.fault == "" && !m.sized {
		m.fail("the charstring sets no width")
	}
	if m.fault != "" {
		return nil, fmt.Errorf("%w: glyph %d (%q): %s; the font is damaged", ErrInvalid, index, f.refs[index].Key, m.fault)
	}
	d := m.finish()
	f.skew.apply(d)
	return d, nil
}

// Design returns the unhinted outline with its declared stems and the face's zones.
func (f *Type1) Design(index int) (*glyph.Design, error) { return designOf(f, &f.rows, index) }
