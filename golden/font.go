package golden

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"

	"smokeproof/harness/glyph"
)

const hexDigits = "0123456789ABCDEF"

var (
	// ErrInvalid is in the chain of every error about a file that breaks its format.
	ErrInvalid = errors.New("invalid bitmap font")
	// ErrUnsupported is in the chain of every error about a valid file that this package cannot read.
	ErrUnsupported = errors.New("unsupported bitmap font")
)

// Font is a bitmap font: the cells of one strike.
type Font struct {
	Name  string
	Size  glyph.Points
	DPI   glyph.Resolution
	Depth int // bits per pixel of every cell: 1, 2, 4 or 8
	Cells []glyph.Cell
	// Ragged says what is wrong with the first glyph of a BDF whose rows do not fit its BBX:
	// too few or too many, too short or too long, or no hexadecimal digits; or that has no
	// advance. "" where all is there and fits.
	Ragged string
}

// Magics of bitmap fonts; those of PCF are the letters fcp behind a byte.
const (
	gzipMagic = "\x1f\x8b"
	bdfMagic  = "STARTFONT"
	pcfMagic  = "\x01fcp"
)

// IsFont says that data begins as ParseFont needs it to.
func IsFont(data []byte) bool {
	return slices.ContainsFunc([]string{gzipMagic, bdfMagic, pcfMagic}, func(m string) bool { return bytes.HasPrefix(data, []byte(m)) })
}

// ReadFont reads a BDF or PCF font, packed by gzip or not; see ParseBDF and ParsePCF.
func ReadFont(r io.Reader) (*Font, error) {
	data, err := readBounded(r, maxBDF)
	if err != nil {
		return nil, err
	}
	return ParseFont(data)
}

// ParseFont is ReadFont of a font in memory.
func ParseFont(data []byte) (*Font, error) {
	if bytes.HasPrefix(data, []byte(gzipMagic)) {
		var err error
		if data, err = gunzip(data, maxUnpacked); err != nil {
			return nil, err
		}
	}
	if bytes.HasPrefix(data, []byte(pcfMagic)) {
		return ParsePCF(data)
	}
	return ParseBDF(data)
}

// EscapeKey writes a key so that it is one printable ASCII word: every other
// byte, and the percent sign, becomes %XX.
func EscapeKey(k glyph.Key) string { return string(appendKey(nil, k)) }

func appendKey(p []byte, k glyph.Key) []byte {
	for i := range len(k) {
		if b := k[i]; b > ' ' && b < 0x7F && b != '%' {
			p = append(p, b)
		} else {
			p = append(p, '%', hexDigits[b>>4], hexDigits[b&15])
		}
	}
	return p
}

var errEmptyKey = errors.New("empty glyph name")

// UnescapeKey undoes EscapeKey. A percent sign with no two hex digits behind
// it stands for itself, as other programs' fonts may have it.
func UnescapeKey(s string) (glyph.Key, error) {
	if s == "" {
		return "", errEmptyKey
	}
	if !strings.Contains(s, "%") {
		return glyph.Key(s), nil
	}
	return glyph.Key(appendUnescaped(nil, []byte(s))), nil
}

func appendUnescaped(out, s []byte) []byte {
	for i := 0; i < len(s); i++ {
		if s[i] == '%' && i+2 < len(s) && hexValue[s[i+1]] < 16 && hexValue[s[i+2]] < 16 {
			out = append(out, hexValue[s[i+1]]<<4|hexValue[s[i+2]])
			i += 2
		} else {
			out = append(out, s[i])
		}
	}
	return out
}

// hexValue is the value of a hex digit; 255 for every other byte.
var hexValue = func() (t [256]byte) {
	for i := range t {
		t[i] = 255
	}
	for i := range byte(10) {
		t['0'+i] = i
	}
	for i := range byte(6) {
		t['a'+i], t['A'+i] = 10+i, 10+i
	}
	return t
}()

// indexKey is the key of a glyph that is known by its number alone.
func indexKey(i int) glyph.Key { return glyph.Key("#" + strconv.Itoa(i)) }
