package face

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"

	"smokeproof/harness/glyph"
)

// readHead reads the header, the four INDEXes behind it and the first Top DICT.
func (f *CFF) readHead() (dict, error) {
	at := int(f.data[2])
	var tops index
	var names index
	for _, part := range []struct {
		what string
		x    *index
	}{{"Name", &names}, {"Top DICT", &tops}, {"String", &f.strings}, {"Global Subr", &f.global}} {
		var err error
		if *part.x, at, err = readIndex(f.data, at, part.what); err != nil {
			return nil, err
		}
	}
	if tops.count > 1 {
		return nil, fmt.Errorf("%w: CFF with %d fonts; only one at a time can be read", ErrUnsupported, tops.count)
	}
	b, err := tops.get(0)
	if err != nil {
		return nil, fmt.Errorf("%w: CFF: the Top DICT: %w", ErrInvalid, err)
	}
	return readDict(b, "Top")
}

// readContainer takes what the OpenType font around the table says.
func (f *CFF) readContainer() error {
	if f.tables == nil {
		f.digest = sha256.Sum256(f.data)
		return nil
	}
	f.digest = f.tables.digest
	head, err := f.tables.need("head", 54)
	if err != nil {
		return err
	}
	f.upem = int(binary.BigEndian.Uint16(head[18:]))
	if f.upem < 16 || f.upem > 16384 {
		return fmt.Errorf("%w: %d units per em (head), must be 16 to 16384", ErrInvalid, f.upem)
	}
	hhea, err := f.tables.need("hhea", 36)
	if err != nil {
		return err
	}
	f.hMetrics = min(int(binary.BigEndian.Uint16(hhea[34:])), len(f.tables.get("hmtx"))/4)
	return nil
}

// readDicts reads the Private DICTs: the font's own, or those of its FDArray.
func (f *CFF) readDicts(top dict) error {
	if !f.cid {
		return f.addDict(top, nil)
	}
	list, _, err := readIndex(f.data, top.offset(dictFDArray), "FDArray")
	if err != nil {
		return err
	}
	if f.sel, err = readFDSelect(f.data, top.offset(dictFDSelect), f.chars.count); err != nil {
		return err
	}
	for i := range list.count {
		b, err := list.get(i)
		if err != nil {
			return fmt.Errorf("%w: CFF: Font DICT %d: %w", ErrInvalid, i, err)
		}
		d, err := readDict(b, fmt.Sprintf("Font %d", i))
		if err != nil {
			return err
		}
		if err := f.addDict(d, top[dictFontMatrix]); err != nil {
			return err
		}
	}
	if len(f.dicts) == 0 {
		return fmt.Errorf("%w: CFF: a CID-keyed font without Font DICTs", ErrInvalid)
	}
	return nil
}

// addDict reads the Private DICT that a Top or Font DICT names; above is the
// matrix of the Top DICT, which applies as well.
func (f *CFF) addDict(d dict, above []float64) error {
	what := fmt.Sprintf("Private (%d)", len(f.dicts))
	var fd fontDict
	place := d[dictPrivate]
	if len(place) == 2 {
		size, at := place[0], place[1]
		if size < 0 || at < 0 || at+size > float64(len(f.data)) {
			return fmt.Errorf("%w: CFF: the %s DICT at byte %g, %g long, reaches past the end of the table", ErrInvalid, what, at, size)
		}
		p, err := readDict(f.data[int(at):int(at)+int(size)], what)
		if err != nil {
			return err
		}
		fd.private = p.private()
		if !fd.private.sound() {
			return fmt.Errorf("%w: CFF: a number in the %s DICT is out of range", ErrInvalid, what)
		}
		fd.width, fd.offset = toFix(p.number(dictDefaultWidth, 0)), toFix(p.number(dictNominalWidth, 0))
		if subrs := p.offset(dictSubrs); subrs != 0 {
			if fd.local, _, err = readIndex(f.data, int(at)+subrs, "Local Subr"); err != nil {
				return err
			}
		}
	} else {
		fd.private = defaultPrivate()
	}
	if err := f.setMatrix(&fd, concat(d[dictFontMatrix], above)); err != nil {
		return err
	}
	fd.private.stretch(fd.skew)
	f.dicts = append(f.dicts, fd)
	return nil
}

// setMatrix finds what FontMatrix leaves to do in units of the em: head's, or
// for a bare CFF those that its first matrix makes.
func (f *CFF) setMatrix(fd *fontDict, m []float64) (err error) {
	if m == nil {
		if f.upem == 0 {
			f.upem = 1000
		}
		return nil
	}
	if f.upem == 0 {
		f.upem, fd.skew, err = normalise(m)
		return err
	}
	if len(m) != 6 {
		return fmt.Errorf("%w: CFF: FontMatrix %v", ErrInvalid, m)
	}
	fd.skew, err = scaleMatrix(m, float64(f.upem))
	return err
}

// concat applies a, then b; one that is missing changes nothing.
func concat(a, b []float64) []float64 {
	if len(a) != 6 {
		return b
	}
	if len(b) != 6 {
		return a
	}
	return []float64{
		a[0]*b[0] + a[1]*b[2], a[0]*b[1] + a[1]*b[3],
		a[2]*b[0] + a[3]*b[2], a[2]*b[1] + a[3]*b[3],
		a[4]*b[0] + a[5]*b[2] + b[4], a[4]*b[1] + a[5]*b[3] + b[5],
	}
}

// toFix brings a DICT's number into the range of a charstring's.
func toFix(v float64) fix { return fix(min(max(v, -32768), 32767) * float64(fixOne)) }

// readRefs names glyphs by the charset, CIDs by number. Code points come from
// cmap; a bare CFF has none and tells them by names, or by its Encoding.
func (f *CFF) readRefs() {
	f.refs = make([]glyph.Ref, f.chars.count)
	f.byName = map[string]int{}
	for i := range f.refs {
		f.refs[i] = glyph.Ref{Name: f.glyphName(i), Code: glyph.NoCode, Index: i}
		if !f.cid {
			f.byName[f.refs[i].Name] = i
		}
	}
	if f.tables == nil {
		encodedCodes(f.refs, nameCodes(f.refs), func(code int) int { return f.encoding[code] })
	} else {
		for i, c := range readCmap(f.tables.get("cmap"), f.chars.count) {
			f.refs[i].Code = c
		}
	}
	glyph.SetKeys(f.refs)
}

func (f *CFF) glyphName(i int) string {
	id := int(f.charset[i])
	switch {
	case f.cid:
		return fmt.Sprintf("cid%05d", id)
	case id < len(cffStrings):
		return cffStrings[id]
	}
	b, _ := f.strings.get(id - len(cffStrings))
	return string(b)
}
