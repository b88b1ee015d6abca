package face

import (
	"fmt"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// CFF is a face in the Compact Font Format: bare, or the CFF table of an
// OpenType font, whose cmap and hmtx then apply.
type CFF struct {
	data     []byte
	tables   *tables // nil where the format stands bare
	digest   [32]byte
	upem     int
	strings  index
	global   index
	chars    index
	charset  []uint16
	encoding [256]int // glyphs by code, of a bare CFF that is not CID-keyed
	cid      bool
	sel      fdSelect
	dicts    []fontDict
	refs     []glyph.Ref
	byName   map[string]int // empty where it is CID-keyed
	hMetrics int            // entries of hmtx
	rows     alignment
}

// fontDict is what applies to a glyph by its Font DICT; a font that is not
// CID-keyed has one.
type fontDict struct {
	private       Private
	local         index
	width, offset fix // defaultWidthX, nominalWidthX
	skew          matrix
}

// isCFF tells a bare CFF by its header: major version 1 and a sound offset size.
func isCFF(data []byte) bool {
	return len(data) > 4 && data[0] == 1 && data[1] == 0 && data[2] >= 4 && data[3] >= 1 && data[3] <= 4
}

// newCFF reads a CFF; t is the OpenType font around it, or nil.
func newCFF(data []byte, t *tables) (*CFF, error) {
	if !isCFF(data) {
		return nil, fmt.Errorf("%w: CFF: no header of version 1", ErrInvalid)
	}
	f := &CFF{data: data, tables: t}
	top, err := f.readHead()
	if err != nil {
		return nil, err
	}
	if kind := top.number(dictCharstringType, 2); kind != 2 {
		return nil, fmt.Errorf("%w: CFF with charstrings of type %g; only type 2 can be read", ErrUnsupported, kind)
	}
	if f.chars, _, err = readIndex(data, top.offset(dictCharStrings), "CharStrings"); err != nil {
		return nil, err
	}
	if f.chars.count == 0 {
		return nil, fmt.Errorf("%w: CFF: no glyphs", ErrInvalid)
	}
	_, f.cid = top[dictROS]
	if f.charset, err = readCharset(data, top.offset(dictCharset), f.chars.count, f.cid); err != nil {
		return nil, err
	}
	if t == nil && !f.cid {
		if f.encoding, err = readEncoding(data, top.offset(dictEncoding), f.charset); err != nil {
			return nil, err
		}
	}
	if err := f.readContainer(); err != nil {
		return nil, err
	}
	if err := f.readDicts(top); err != nil {
		return nil, err
	}
	f.readRefs()
	return f, nil
}

// Format is "CFF".
func (f *CFF) Format() string { return "CFF" }

// UPEM is the number of font units per em.
func (f *CFF) UPEM() int { return f.upem }

// Digest is a SHA-256 over the font's tables, or of a bare CFF.
func (f *CFF) Digest() [32]byte { return f.digest }

// Refs lists every glyph in index order.
func (f *CFF) Refs() []glyph.Ref { return f.refs }

// fontDict is the dict that applies to a glyph; nil where FDSelect names none.
func (f *CFF) fontDict(index int) *fontDict {
	i := 0
	if f.cid && index >= 0 && index < f.chars.count {
		i = f.sel.dict(index)
	}
	if i < 0 || i >= len(f.dicts) {
		return nil
	}
	return &f.dicts[i]
}

// Private is the hint dictionary of a glyph's font dict. A glyph that has none
// cannot be drawn; the first dict stands in.
func (f *CFF) Private(index int) *Private {
	if d := f.fontDict(index); d != nil {
		return &d.private
	}
	return &f.dicts[0].private
}

// Advance is the advance width in 26.6 font units: hmtx's, or the charstring's
// of a bare CFF.
func (f *CFF) Advance(index int) fixed.Int26_6 {
	if f.tables != nil {
		advance, _ := longMetrics(f.tables.get("hmtx"), f.hMetrics, index)
		return fixed.Int26_6(advance) << 6
	}
	d, err := f.Drawing(index)
	if err != nil {
		return 0
	}
	return d.Advance
}

// Drawing runs a glyph's charstring. In an OpenType font its advance is hmtx's.
func (f *CFF) Drawing(index int) (*Drawing, error) {
	if index < 0 || index >= f.chars.count {
		return nil, fmt.Errorf("%w: glyph %d: the face has %d glyphs", ErrInvalid, index, f.chars.count)
	}
	code, err := f.chars.get(index)
	if err != nil {
		return nil, fmt.Errorf("%w: glyph %d (%q): %w; the font is damaged", ErrInvalid, index, f.refs[index].Key, err)
	}
	fd := f.fontDict(index)
	if fd == nil {
		return nil, fmt.Errorf("%w: glyph %d (%q): FDSelect gives it no Font DICT; the font is damaged", ErrInvalid, index, f.refs[index].Key)
	}
	m := type2{machine: newMachine(code, true), font: f, dict: fd, seed: uint32(index)}
	m.execute(&m, code, ownCharstring, 0)
	if m.fault != "" {
		return nil, fmt.Errorf("%w: glyph %d (%q): %s; the font is damaged", ErrInvalid, index, f.refs[index].Key, m.fault)
	}
	d := m.finish()
	d.Advance = fd.width.units()
	if m.wide {
		d.Advance = (fd.offset + m.width).units()
	}
	fd.skew.apply(d)
	if f.tables != nil {
		d.Advance = f.Advance(index)
	}
	return d, nil
}

// Design returns the unhinted outline with its declared stems and the face's zones.
func (f *CFF) Design(index int) (*glyph.Design, error) { return designOf(f, &f.rows, index) }
