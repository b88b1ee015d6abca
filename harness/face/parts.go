package face

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"slices"

	"smokeproof/harness/glyph"
)

// Parts tells what a face's drawings depend on, piece by piece: what two
// revisions of a face have in common draws alike.
type Parts struct {
	Common [32]byte   // of all that every glyph may depend on
	Glyphs [][16]byte // by index: what one glyph depends on beyond that; nil where the format is not taken apart
}

// AppendBinary appends the parts' bytes: Common, then the glyphs' digests.
func (p *Parts) AppendBinary(b []byte) []byte {
	b = append(b, p.Common[:]...)
	for i := range p.Glyphs {
		b = append(b, p.Glyphs[i][:]...)
	}
	return b
}

// UnmarshalBinary reads what AppendBinary wrote.
func (p *Parts) UnmarshalBinary(b []byte) error {
	if len(b) < 32 || len(b)%16 != 0 {
		return fmt.Errorf("parts of a face: %d bytes are no whole digests", len(b))
	}
	p.Common, p.Glyphs = [32]byte(b), nil
	if b = b[32:]; len(b) > 0 {
		p.Glyphs = make([][16]byte, len(b)/16)
	}
	for i := range p.Glyphs {
		p.Glyphs[i] = [16]byte(b[16*i:])
	}
	return nil
}

// PartsOf takes a face apart. A glyph's part covers its outline and program,
// its metrics, and the parts of its components.
func PartsOf(f Face) *Parts {
	switch f := f.(type) {
	case *TrueType:
		return f.parts()
	case PostScript:
		return postScriptParts(f)
	}
	return &Parts{Common: f.Digest()}
}

// postScriptParts takes apart what a PostScript face tells, for that is all
// that fitting and judging see of it: a subroutine that changed touches just the
// glyphs that came out otherwise.
func postScriptParts(f PostScript) *Parts {
	p := &Parts{Common: sha256.Sum256(fmt.Appendf(nil, "%s, %d units", f.Format(), f.UPEM()))}
	h := sha256.New()
	var text []byte
	for _, ref := range f.Refs() {
		h.Reset()
		text = fmt.Appendf(text[:0], "%+v\n", *f.Private(ref.Index))
		text = appendDrawing(text, f, ref.Index)
		h.Write(text)
		p.Glyphs = append(p.Glyphs, [16]byte(h.Sum(nil)))
	}
	return p
}

// appendDrawing appends all that a glyph's charstring comes to, and its advance.
func appendDrawing(text []byte, f PostScript, index int) []byte {
	d, err := f.Drawing(index)
	text = fmt.Appendf(text, "%v %v\n", f.Advance(index), err)
	if d == nil {
		return text
	}
	rest := *d
	rest.Outline = glyph.Outline{}
	text = fmt.Appendf(text, "%+v %d %d\n", rest, d.Outline.Ends, d.Outline.Modes)
	for _, q := range d.Outline.Points {
		text = binary.BigEndian.AppendUint32(text, uint32(q.X))
		text = binary.BigEndian.AppendUint32(text, uint32(q.Y))
		text = append(text, byte(q.Kind))
	}
	return text
}

// unread are tables that no drawing depends on: names for menus, and a
// signature over the whole file.
var unread = []string{"name", "DSIG"}

// byGlyph are tables whose content is told apart by glyph.
var byGlyph = []string{"glyf", "loca", "hmtx", "vmtx"}

func (f *TrueType) parts() *Parts {
	p := &Parts{Glyphs: make([][16]byte, f.NumGlyphs())}
	h := sha256.New()
	for _, tag := range f.tables.tags {
		if slices.Contains(unread, tag) || slices.Contains(byGlyph, tag) {
			continue
		}
		b := f.tables.get(tag)
		if tag == "head" { // every build of a font has its own checksum and date
			b = slices.Clone(b)
			clear(b[8:12])
			clear(b[28:36])
		}
		fmt.Fprintf(h, "%q %d\n", tag, len(b))
		h.Write(b)
	}
	// The zones that judge and fit glyphs are found on the outlines of some.
	f.zonesFound.Do(func() { f.zones = f.findZones() })
	fmt.Fprintf(h, "zones %+v\n", f.zones)
	h.Sum(p.Common[:0])
	d := glyphDigests{face: f, parts: p.Glyphs, state: make([]digestState, len(p.Glyphs))}
	for i := range p.Glyphs {
		d.of(i)
	}
	return p
}

type digestState uint8

const (
	unknown digestState = iota
	underway
	known
)

// glyphDigests computes each glyph's digest once, components first.
type glyphDigests struct {
	face  *TrueType
	parts [][16]byte
	state []digestState
	text  []byte
}

// of gives a glyph's digest; zero for a glyph that is not there and for one
// inside itself, neither of which can be drawn.
func (d *glyphDigests) of(index int) [16]byte {
	if index < 0 || index >= len(d.parts) || d.state[index] == underway {
		return [16]byte{}
	}
	if d.state[index] == known {
		return d.parts[index]
	}
	d.state[index] = underway
	b, err := d.face.glyphBytes(index)
	var below []byte
	if d.face.IsComposite(index) {
		if g, gErr := d.face.Glyph(index); gErr == nil {
			for _, c := range g.Components {
				part := d.of(c.Index)
				below = append(below, part[:]...)
			}
		}
	}
	d.text = binary.BigEndian.AppendUint32(d.text[:0], uint32(len(b)))
	d.text = append(d.text, b...)
	d.text = append(d.text, below...)
	advance, lsb := d.face.HMetrics(index)
	var height, tsb glyph.FUnit
	if d.face.vMetrics > 0 { // else they follow from the glyph and from hhea or OS/2
		height, tsb = d.face.VMetrics(index, 0)
	}
	for _, v := range [...]glyph.FUnit{advance, lsb, height, tsb} {
		d.text = binary.BigEndian.AppendUint32(d.text, uint32(v))
	}
	if err != nil {
		d.text = append(d.text, err.Error()...)
	}
	sum := sha256.Sum256(d.text)
	d.parts[index] = [16]byte(sum[:16])
	d.state[index] = known
	return d.parts[index]
}
