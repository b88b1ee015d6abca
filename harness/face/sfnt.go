package face

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"slices"

	"smokeproof/harness/infile"
)

// maxFile is the largest font file read: the largest CJK collections are under
// 200 MiB.
const maxFile = 512 << 20

// maxOverlap bounds how often the bytes of a file count: tables may share some,
// but sixty thousand that are the whole file take hours to go through.
const maxOverlap = 4

// Open reads the font at path; index chooses a face of a collection.
func Open(path string, index int) (Face, error) {
	f, err := ReadFile(path)
	if err != nil {
		return nil, err
	}
	return f.Face(index)
}

// File is a font file read once, for as many of its faces as are wanted. Its data is not to be changed.
type File struct {
	path string
	data []byte
}

// ReadFile reads the font file at path.
func ReadFile(path string) (*File, error) {
	data, err := infile.Read(path, maxFile)
	if err != nil {
		return nil, fmt.Errorf("font: %w; correct its path", err)
	}
	return &File{path, data}, nil
}

// Face gives a face of a collection, or the only one, whose index is 0.
func (f *File) Face(index int) (Face, error) {
	is, err := Parse(f.data, index)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", f.path, err)
	}
	if t, ok := is.(*Type1); ok {
		if err := t.readAFMBeside(f.path); err != nil {
			return nil, err
		}
	}
	return is, nil
}

// Parse reads a font from memory, which it keeps and does not change.
func Parse(data []byte, index int) (Face, error) {
	switch single := isType1(data) || isCFF(data); {
	case single && index != 0:
		return nil, fmt.Errorf("%w: the file holds one face, there is no face %d", ErrInvalid, index)
	case isType1(data):
		return newType1(data)
	case isCFF(data):
		return newCFF(data, nil)
	}
	t, err := readTables(data, index)
	if err != nil {
		return nil, err
	}
	switch {
	case t.get("glyf") != nil:
		return newTrueType(t)
	case t.get("CFF ") != nil:
		return newCFF(t.get("CFF "), t)
	}
	return nil, fmt.Errorf("%w: neither glyf nor CFF; no outlines that can be read", ErrUnsupported)
}

// tables is the directory of an sfnt (OpenType, "Font file").
type tables struct {
	tags   []string // sorted
	byTag  map[string][]byte
	digest [32]byte
}

func (t *tables) get(tag string) []byte { return t.byTag[tag] }

// need returns a table of at least n bytes.
func (t *tables) need(tag string, n int) ([]byte, error) {
	b := t.byTag[tag]
	if len(b) < n {
		return nil, fmt.Errorf("%w: table %q has %d bytes, needs %d; the file is damaged", ErrInvalid, tag, len(b), n)
	}
	return b, nil
}

// noOutlines says what a file that begins so is, and what to do.
func noOutlines(begins string) string {
	switch {
	case begins == "wOFF" || begins == "wOF2": // W3C, WOFF File Format
		return "a font packed for the web; unpack it to TTF or OTF"
	case begins == "STAR" || begins == "\x01fcp": // TN5005; pcf.h
		return "a bitmap font, which has no outlines; import and compare read it"
	case begins[:2] == "\x1f\x8b": // RFC 1952
		return "a file packed by gzip; unpack it, or if it is a bitmap font, import and compare read it"
	case begins == "vers": // Git LFS specification; from memory
		return "as the pointers do that Git LFS leaves in the place of files; fetch the font with git lfs pull"
	}
	return "which is no font that can be read: TrueType, OpenType, CFF or Type 1"
}

func readTables(data []byte, index int) (*tables, error) {
	at := 0
	switch {
	case len(data) < 12:
		return nil, fmt.Errorf("%w: %d bytes are no font", ErrInvalid, len(data))
	case string(data[:4]) == "ttcf":
		n := int(binary.BigEndian.Uint32(data[8:]))
		if index < 0 || index >= n || len(data) < 16+4*index {
			return nil, fmt.Errorf("%w: the collection has %d faces, there is no face %d", ErrInvalid, n, index)
		}
		at = int(binary.BigEndian.Uint32(data[12+4*index:]))
		if at > len(data)-12 {
			return nil, fmt.Errorf("%w: face %d starts at byte %d, past the end; the file is damaged", ErrInvalid, index, at)
		}
	case index != 0:
		return nil, fmt.Errorf("%w: the file holds one face, there is no face %d", ErrInvalid, index)
	}
	switch v := string(data[at : at+4]); v {
	case "\x00\x01\x00\x00", "true", "OTTO":
	default:
		return nil, fmt.Errorf("%w: begins with %q, %s", ErrUnsupported, v, noOutlines(v))
	}
	return readDirectory(data, at)
}

func readDirectory(data []byte, at int) (*tables, error) {
	n := int(binary.BigEndian.Uint16(data[at+4:]))
	if len(data) < at+12+16*n {
		return nil, fmt.Errorf("%w: the table directory is cut short; the file is damaged", ErrInvalid)
	}
	t := &tables{byTag: make(map[string][]byte, n)}
	total := 0
	for i := range n {
		e := data[at+12+16*i:]
		tag := string(e[:4])
		off, size := int(binary.BigEndian.Uint32(e[8:])), int(binary.BigEndian.Uint32(e[12:]))
		if off > len(data) || size > len(data)-off {
			return nil, fmt.Errorf("%w: table %q at byte %d, %d long, reaches past the end of the file; the file is cut short", ErrInvalid, tag, off, size)
		}
		if total += size; total > maxOverlap*len(data) {
			return nil, fmt.Errorf("%w: the tables have %d times the bytes of the file, the limit is %d; the directory is damaged", ErrInvalid, total/len(data), maxOverlap)
		}
		if t.byTag[tag] == nil {
			t.tags = append(t.tags, tag)
			t.byTag[tag] = data[off : off+size : off+size]
		}
	}
	slices.Sort(t.tags)
	h := sha256.New()
	for _, tag := range t.tags {
		fmt.Fprintf(h, "%q %d\n", tag, len(t.byTag[tag]))
		h.Write(t.byTag[tag])
	}
	h.Sum(t.digest[:0])
	return t, nil
}
