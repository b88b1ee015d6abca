package review

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"strings"
	"unicode"

	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"

	"smokeproof/golden"
	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// proofSheet is one sheet of a proof in device pixels, one bit each. Y grows up
// from its lower left corner.
type proofSheet struct {
	glyph.Bitmap
	dpi glyph.Resolution
	pen int // the next row of type begins below it
}

// pixels is a length of tenths of a millimetre, rounded down to whole pixels.
func pixels(mm10 int, d glyph.DPI) int { return int(int64(mm10) * int64(d) / 254000) }

func newProofSheet(p Paper, dpi glyph.Resolution) *proofSheet {
	w, h := pixels(p.Width*10, dpi.X), pixels(p.Height*10, dpi.Y)
	return &proofSheet{Bitmap: glyph.NewBitmap(0, 0, w, h, 1), dpi: dpi, pen: h}
}

func (s *proofSheet) x(mm10 int) int { return pixels(mm10, s.dpi.X) }
func (s *proofSheet) y(mm10 int) int { return pixels(mm10, s.dpi.Y) }

// floor is where type must end: above the caution.
func (s *proofSheet) floor() int { return s.y(marginMM10) + (len(caution)+1)*s.lineHeight() }

// head prints what the sheet is, a scale bar, and the caution at its foot.
func (s *proofSheet) head(title string, number int) {
	left := s.x(marginMM10)
	s.pen = s.Height - s.y(marginMM10) - s.lineHeight()
	s.text(left, s.pen, fmt.Sprintf("sheet %d of %s", number, title)) // the number first: small paper cuts the line
	s.pen -= s.lineHeight()
	s.text(left, s.pen, "golden above, candidate below; a mark stands under each glyph that changed")
	s.pen -= s.lineHeight() + s.y(30)
	s.scale(left, s.pen)
	s.pen -= s.y(40)
	for i, line := range caution {
		s.text(left, s.y(marginMM10)+(len(caution)-1-i)*s.lineHeight(), line)
	}
}

// heading names a strike on a rule as wide as the type.
func (s *proofSheet) heading(text string) {
	left := s.x(marginMM10)
	s.pen -= s.lineHeight()
	s.text(left, s.pen, text)
	s.box(left, s.pen-s.y(14), s.Width-2*left, max(1, s.y(1)))
	s.pen -= s.headingHeight() - s.lineHeight()
}

func (s *proofSheet) headingHeight() int { return s.lineHeight() + s.y(50) }

// scale draws a bar of 50 mm: each millimetre a tick, rounded to its pixel from
// the bar's left end, so that no error adds up.
func (s *proofSheet) scale(left, base int) {
	const length = 50
	thin := max(1, s.x(2))
	s.box(left, base, s.x(length*10)+thin, max(1, s.y(2)))
	for mm := range length + 1 {
		tall := 12
		switch {
		case mm%10 == 0:
			tall = 30
		case mm%5 == 0:
			tall = 20
		}
		s.box(left+s.x(mm*10), base, thin, s.y(tall))
	}
	s.text(left+s.x(length*10+20), base, "50 mm")
}

func (s *proofSheet) box(x, y, w, h int) {
	for j := range h {
		for i := range w {
			s.Set(x+i, y+j, 1)
		}
	}
}

// mark is a triangle that points up at a glyph from below.
func (s *proofSheet) mark(x, top int) {
	h := s.y(16)
	for j := range h {
		half := s.x(9) * j / max(1, h)
		s.box(x-half, top-j, 2*half+1, 1)
	}
}

// print sets a picture as it is, its origin at (x, base).
func (s *proofSheet) print(p *harness.Picture, x, base int) {
	b := unpack(p)
	for gy := b.Bottom; gy < b.Top(); gy++ {
		for gx := b.Left; gx < b.Right(); gx++ {
			if b.At(gx, gy) != 0 {
				s.Set(x+gx, base+gy, 1)
			}
		}
	}
}

// lettering is the size of a sheet's own words in tenths of a millimetre; they
// are x/image's bitmap face in whole multiples, never resampled.
const lettering = 24

func (s *proofSheet) times() (x, y int) {
	h := basicfont.Face7x13.Height
	return max(1, (s.x(lettering)+h/2)/h), max(1, (s.y(lettering)+h/2)/h)
}

func (s *proofSheet) lineHeight() int {
	_, ky := s.times()
	return ky * (basicfont.Face7x13.Height + 2)
}

// text prints a line, cut at the right margin; y is its baseline.
func (s *proofSheet) text(x, y int, line string) {
	kx, ky := s.times()
	f := basicfont.Face7x13
	for _, r := range inASCII(line) {
		if x+f.Advance*kx > s.Width-s.x(marginMM10)/2 {
			return
		}
		where, mask, at, _, ok := f.Glyph(fixed.Point26_6{}, r)
		if ok {
			for j := where.Min.Y; j < where.Max.Y; j++ {
				for i := where.Min.X; i < where.Max.X; i++ {
					if _, _, _, a := mask.At(at.X+i-where.Min.X, at.Y+j-where.Min.Y).RGBA(); a > 0 {
						s.box(x+i*kx, y-(j+1)*ky, kx, ky)
					}
				}
			}
		}
		x += f.Advance * kx
	}
}

// inASCII spells a line in what the bitmap face has: letters without their marks, the hyphen for the dash
// of a range, and of what is left the code points.
func inASCII(line string) string {
	var sb strings.Builder
	for _, r := range norm.NFKD.String(strings.ReplaceAll(line, "–", "-")) {
		switch {
		case r <= '~':
			sb.WriteRune(r)
		case !unicode.Is(unicode.Mn, r):
			fmt.Fprintf(&sb, "<U+%04X>", r)
		}
	}
	return sb.String()
}

// rows are the sheet's packed rows from the top, black 1.
func (s *proofSheet) rows() []byte {
	n := (s.Width + 7) / 8
	out := make([]byte, 0, n*s.Height)
	for y := range s.Height {
		for i := range n {
			out = append(out, byte(s.Row(y)[i/8]>>(56-8*(i%8))))
		}
	}
	return out
}

func (s *proofSheet) writePBM(w io.Writer) error {
	if _, err := fmt.Fprintf(w, "P4\n%d %d\n", s.Width, s.Height); err != nil {
		return err
	}
	_, err := w.Write(s.rows())
	return err
}

// writePNG writes one bit a pixel, with the device's resolution in pHYs.
func (s *proofSheet) writePNG(w io.Writer) error {
	img := image.NewPaletted(image.Rect(0, 0, s.Width, s.Height), color.Palette{color.White, color.Black})
	for y := range s.Height {
		for x := range s.Width {
			img.Pix[y*img.Stride+x] = s.At(x, s.Height-1-y)
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return err
	}
	const afterIHDR = 8 + 25
	out := golden.AppendPHYs(append([]byte(nil), b.Bytes()[:afterIHDR]...), s.dpi)
	_, err := w.Write(append(out, b.Bytes()[afterIHDR:]...))
	return err
}

// commaDPI turns "203x406", as results spell it, into what ParseResolution reads.
func commaDPI(s string) string { return strings.Replace(s, "x", ",", 1) }
