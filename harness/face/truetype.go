package face

import (
	"encoding/binary"
	"fmt"
	"sync"

	"smokeproof/harness/glyph"
)

// TrueType is a face with quadratic outlines and instructions.
type TrueType struct {
	tables     *tables
	upem       int
	flags      uint16
	glyf, loca []byte
	hmtx, vmtx []byte
	longLoca   bool
	maxp       Maxp
	cvt        []int16
	refs       []glyph.Ref
	hMetrics   int // entries of hmtx
	vMetrics   int // entries of vmtx; 0 where there is none
	ascender   int // for vertical metrics derived from hhea or OS/2
	descender  int
	zones      []glyph.Zone
	zonesFound sync.Once
	derived    any
	derive     sync.Once
}

// Maxp is the maxp table: what the maker says a program needs at most.
type Maxp struct {
	NumGlyphs, MaxPoints, MaxContours, MaxCompositePoints, MaxCompositeContours      int
	MaxZones, MaxTwilightPoints, MaxStorage, MaxFunctionDefs, MaxInstructionDefs     int
	MaxStackElements, MaxSizeOfInstructions, MaxComponentElements, MaxComponentDepth int
}

func newTrueType(t *tables) (*TrueType, error) {
	f := &TrueType{tables: t}
	for _, read := range []func() error{f.readHead, f.readMaxp, f.readMetrics, f.readCVT, f.readRefs} {
		if err := read(); err != nil {
			return nil, err
		}
	}
	return f, nil
}

func (f *TrueType) readHead() error {
	head, err := f.tables.need("head", 54)
	if err != nil {
		return err
	}
	f.flags = binary.BigEndian.Uint16(head[16:])
	f.upem = int(binary.BigEndian.Uint16(head[18:]))
	f.longLoca = binary.BigEndian.Uint16(head[50:]) != 0
	if f.upem < 16 || f.upem > 16384 {
		return fmt.Errorf("%w: %d units per em (head), must be 16 to 16384", ErrInvalid, f.upem)
	}
	return nil
}

func (f *TrueType) readMaxp() error {
	b, err := f.tables.need("maxp", 6)
	if err != nil {
		return err
	}
	m := &f.maxp
	m.NumGlyphs = int(binary.BigEndian.Uint16(b[4:]))
	for i, p := range []*int{&m.MaxPoints, &m.MaxContours, &m.MaxCompositePoints, &m.MaxCompositeContours,
		&m.MaxZones, &m.MaxTwilightPoints, &m.MaxStorage, &m.MaxFunctionDefs, &m.MaxInstructionDefs,
		&m.MaxStackElements, &m.MaxSizeOfInstructions, &m.MaxComponentElements, &m.MaxComponentDepth} {
		if at := 6 + 2*i; at+2 <= len(b) {
			*p = int(binary.BigEndian.Uint16(b[at:]))
		}
	}
	f.glyf, f.loca = f.tables.get("glyf"), f.tables.get("loca")
	size := 2
	if f.longLoca {
		size = 4
	}
	if have := len(f.loca) / size; have < m.NumGlyphs {
		return fmt.Errorf("%w: loca places %d glyphs, maxp says %d; the file is damaged", ErrInvalid, have, m.NumGlyphs)
	}
	return nil
}

func (f *TrueType) readCVT() error {
	b := f.tables.get("cvt ")
	f.cvt = make([]int16, len(b)/2)
	for i := range f.cvt {
		f.cvt[i] = int16(binary.BigEndian.Uint16(b[2*i:]))
	}
	return nil
}

func (f *TrueType) readRefs() error {
	names := readPost(f.tables.get("post"), f.maxp.NumGlyphs)
	codes := readCmap(f.tables.get("cmap"), f.maxp.NumGlyphs)
	f.refs = make([]glyph.Ref, f.maxp.NumGlyphs)
	for i := range f.refs {
		f.refs[i] = glyph.Ref{Code: codes[i], Index: i}
		if names != nil {
			f.refs[i].Name = names[i]
		}
	}
	glyph.SetKeys(f.refs)
	return nil
}

// Format is "TrueType".
func (f *TrueType) Format() string { return "TrueType" }

// UPEM is the number of font units per em.
func (f *TrueType) UPEM() int { return f.upem }

// Digest is a SHA-256 over the face's tables, by tag.
func (f *TrueType) Digest() [32]byte { return f.tables.digest }

// Refs lists every glyph in index order.
func (f *TrueType) Refs() []glyph.Ref { return f.refs }

// Table returns a table's bytes, nil where there is none.
func (f *TrueType) Table(tag string) []byte { return f.tables.get(tag) }

// Fpgm is the font program, run once per face.
func (f *TrueType) Fpgm() []byte { return f.tables.get("fpgm") }

// Prep is the control value program, run once per size.
func (f *TrueType) Prep() []byte { return f.tables.get("prep") }

// CVT holds the control values in font units.
func (f *TrueType) CVT() []int16 { return f.cvt }

// Maxp is what the maker says a program needs at most.
func (f *TrueType) Maxp() Maxp { return f.maxp }

// HeadFlags are the flags of head; bit 3 asks for a whole ppem.
func (f *TrueType) HeadFlags() uint16 { return f.flags }

// NumGlyphs counts the glyphs.
func (f *TrueType) NumGlyphs() int { return f.maxp.NumGlyphs }

// Derived is what derive makes of the face at the first call, kept with the face:
// what its font program defines is worked out once, however many sizes are drawn.
func (f *TrueType) Derived(derive func() any) any {
	f.derive.Do(func() { f.derived = derive() })
	return f.derived
}
