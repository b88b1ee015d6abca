package harness

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/infile"
)

// bitmapFont is what one source holds for one strike.
type bitmapFont struct {
	source   string // as messages name it
	dpi      glyph.Resolution
	points   glyph.Points // 0: the source does not tell its size
	cells    []bitmapCell
	numbered bool // its glyphs have numbers and no names
}

type bitmapCell struct {
	glyph.Cell
	placed bool // the source tells origin and advance
}

func (c *bitmapCell) label() string {
	if c.Code == glyph.NoCode {
		return string(c.Key)
	}
	return fmt.Sprintf("%s (U+%04X)", c.Key, c.Code)
}

func (f *bitmapFont) sized() bool { return f.points > 0 && f.dpi.X > 0 && f.dpi.Y > 0 }

func (f *bitmapFont) ppem() [2]int {
	x, y := glyph.PixelsPerEm(f.points, f.dpi).Nominal()
	return [2]int{x, y}
}

func (f *bitmapFont) size() string {
	if !f.sized() {
		return "no size"
	}
	return fmt.Sprintf("%d × %d pixels per em", f.ppem()[0], f.ppem()[1])
}

func (f *bitmapFont) hint() string {
	if f.numbered {
		return "it knows its glyphs by number; say with --names which number is which glyph"
	}
	return "see that the face is the right one"
}

// maxSource bounds a file of bitmaps in bytes.
const maxSource = 1 << 30

// readBitmaps reads a file of any format that golden knows, or every picture
// that a pattern names. What it is, its first bytes say.
func readBitmaps(path string, names map[int]string) ([]bitmapFont, error) {
	if strings.Contains(path, glyphPlace) {
		f, err := readPictures(path)
		return []bitmapFont{f}, err
	}
	data, err := readSource(path)
	if err != nil {
		return nil, err
	}
	source := filepath.Base(path)
	var fonts []bitmapFont
	one := func(f *golden.Font, err error) error {
		if err == nil {
			fonts = append(fonts, placedFont(source, f))
		}
		return err
	}
	switch {
	case golden.IsFont(data):
		err = one(golden.ParseFont(data))
	case bytes.HasPrefix(data, []byte{247, 89}):
		if err = one(golden.ParsePK(data)); err == nil {
			fonts[0].numbered = true
			fonts[0].rename(names)
		}
	case bytes.HasPrefix(data, []byte{0, 1, 0, 0}), bytes.HasPrefix(data, []byte("OTTO")), bytes.HasPrefix(data, []byte("true")), bytes.HasPrefix(data, []byte("ttcf")):
		fonts, err = readStrikes(source, data)
	case isPicture(data):
		return nil, fmt.Errorf("%s: %w: which glyph a picture shows is in its name; write a pattern, as 'glyphs/{glyph}.png'", path, ErrUsage)
	default:
		var f bitmapFont
		if f, err = readArt(source, data); err != nil {
			err = fmt.Errorf("it is no BDF, PCF, PK or font with strikes, and as text that draw prints: %w", err)
		}
		fonts = []bitmapFont{f}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return fonts, nil
}

func readSource(path string) ([]byte, error) {
	data, err := infile.Read(path, maxSource)
	if err != nil {
		return nil, fmt.Errorf("import: %w: %w; correct its path", ErrUsage, err)
	}
	return bytes.TrimPrefix(data, []byte(byteOrderMark)), nil
}

func placedFont(source string, f *golden.Font) bitmapFont {
	out := bitmapFont{source: source, points: f.Size, dpi: f.DPI}
	for _, c := range f.Cells {
		out.cells = append(out.cells, bitmapCell{c, true})
	}
	return out
}

// rename gives numbered glyphs the names that the caller knows for them.
func (f *bitmapFont) rename(names map[int]string) {
	for i := range f.cells {
		r := &f.cells[i].Ref
		if n, ok := names[r.Index]; ok {
			r.Key, r.Name = glyph.Key(n), n
		}
	}
}

// readStrikes reads the strikes inside a font file, whose own tables name the
// glyphs.
func readStrikes(source string, data []byte) ([]bitmapFont, error) {
	strikes, err := golden.ParseSfntStrikes(data)
	if err != nil {
		return nil, err
	}
	fc, err := face.Parse(data, 0)
	if err != nil {
		return nil, fmt.Errorf("the glyphs' names cannot be read: %w", err)
	}
	refs := fc.Refs()
	var out []bitmapFont
	for _, s := range strikes {
		f := placedFont(source, s)
		for i := range f.cells {
			if c := &f.cells[i]; c.Index < len(refs) {
				c.Ref = refs[c.Index]
			}
		}
		out = append(out, f)
	}
	return out, nil
}

func readArt(source string, data []byte) (bitmapFont, error) {
	cells, err := golden.ReadArt(bytes.NewReader(data))
	if err == nil && len(cells) == 0 {
		err = errors.New("it holds no glyph")
	}
	f := bitmapFont{source: source}
	for _, c := range cells {
		f.cells = append(f.cells, bitmapCell{c, true})
	}
	return f, err
}

func isPicture(data []byte) bool {
	return bytes.HasPrefix(data, []byte("\x89PNG")) || len(data) > 2 && data[0] == 'P' && data[1] >= '1' && data[1] <= '6'
}

// Places in a path that stand for what a file holds.
const (
	glyphPlace  = "{glyph}"
	facePlace   = "{face}"
	devicePlace = "{device}"
	dpiPlace    = "{dpi}"
	sizePlace   = "{size}"
)

// readPictures reads every file that a pattern names: {glyph} stands for a
// glyph's key, written as golden.FileName writes it or plainly. Pictures come
// in the depth of the deepest of them.
func readPictures(pattern string) (bitmapFont, error) {
	f := bitmapFont{source: pattern}
	if strings.Count(pattern, glyphPlace) != 1 || strings.ContainsAny(strings.ReplaceAll(pattern, glyphPlace, ""), "{}*?[") {
		return f, fmt.Errorf("%s: %w: an import's pattern has {glyph} once and no other place", pattern, ErrUsage)
	}
	before, after, _ := strings.Cut(pattern, glyphPlace)
	if strings.ContainsRune(after, '/') {
		return f, fmt.Errorf("%s: %w: {glyph} is part of the file's name, not of a folder's", pattern, ErrUsage)
	}
	entries, err := os.ReadDir(filepath.Dir(before + "x"))
	if err != nil {
		return f, fmt.Errorf("import: %w: %w; correct the pattern", ErrUsage, err)
	}
	_, before = filepath.Split(before)
	name := regexp.MustCompile("^" + regexp.QuoteMeta(before) + "(.+)" + regexp.QuoteMeta(after) + "$")
	for _, e := range entries {
		m := name.FindStringSubmatch(e.Name())
		if m == nil || e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		c, err := readPicture(filepath.Join(filepath.Dir(pattern), e.Name()))
		if err != nil {
			return f, err
		}
		c.Key = glyph.Key(golden.NameOf(m[1]))
		c.Name = string(c.Key)
		if r, n := utf8.DecodeRuneInString(c.Name); n == len(c.Name) {
			c.Code = r
		}
		f.cells = append(f.cells, *c)
	}
	if len(f.cells) == 0 {
		return f, fmt.Errorf("%s: %w: no file has such a name; correct the pattern", pattern, ErrUsage)
	}
	slices.SortFunc(f.cells, func(a, b bitmapCell) int { return strings.Compare(string(a.Key), string(b.Key)) })
	return f, nil
}

// readPicture reads one picture, bilevel where it has black and white alone.
func readPicture(path string) (*bitmapCell, error) {
	data, err := readSource(path)
	if err != nil {
		return nil, err
	}
	p, err := golden.ParsePicture(data, 1)
	if err != nil {
		if p, err = golden.ParsePicture(data, 8); err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
	}
	return &bitmapCell{glyph.Cell{Ref: glyph.Ref{Code: glyph.NoCode}, Advance: p.Advance, Bitmap: p.Bitmap}, p.Placed}, nil
}
