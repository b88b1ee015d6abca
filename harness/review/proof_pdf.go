package review

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math/big"

	"smokeproof/harness/glyph"
)

// writePDF writes sheets as PDF 1.4 (ISO 32000-1): each page is one image of one
// bit a sample, exactly as large as its pixels are on the device, drawn once
// and not interpolated.
func writePDF(w io.Writer, sheets []*proofSheet) error {
	p := pdf{}
	p.WriteString("%PDF-1.4\n%\xe2\xe3\xcf\xd3\n")
	kids := ""
	for i := range sheets {
		kids += fmt.Sprintf("%d 0 R ", 3+3*i)
	}
	p.object("<< /Type /Catalog /Pages 2 0 R >>")
	p.object(fmt.Sprintf("<< /Type /Pages /Kids [ %s] /Count %d >>", kids, len(sheets)))
	for i, s := range sheets {
		width, height := pdfPoints(s.Width, s.dpi.X), pdfPoints(s.Height, s.dpi.Y)
		n := 3 + 3*i
		p.object(fmt.Sprintf("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %s %s] /Resources << /XObject << /Sheet %d 0 R >> >> /Contents %d 0 R >>", width, height, n+2, n+1))
		p.stream("", fmt.Appendf(nil, "q %s 0 0 %s 0 0 cm /Sheet Do Q", width, height))
		var packed bytes.Buffer
		z := zlib.NewWriter(&packed)
		z.Write(s.rows())
		z.Close()
		p.stream(fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /DeviceGray /BitsPerComponent 1 /Decode [1 0] /Interpolate false /Filter /FlateDecode ", s.Width, s.Height), packed.Bytes())
	}
	p.finish()
	_, err := p.WriteTo(w)
	return err
}

// pdfPoints is a number of pixels in points, short of it by less than a millionth
// of an inch: a reader that rounds a page up to whole pixels, in floating point,
// finds as many as there are.
func pdfPoints(n int, d glyph.DPI) string {
	const decimals = 100_000
	v := new(big.Int).Div(big.NewInt(int64(n)*72*1000*decimals-1), big.NewInt(int64(d)))
	v.Sub(v, big.NewInt(1))
	whole, part := new(big.Int).DivMod(v, big.NewInt(decimals), new(big.Int))
	return fmt.Sprintf("%d.%05d", whole, part)
}

// pdf is a file under way and where its objects begin.
type pdf struct {
	bytes.Buffer
	at []int
}

func (p *pdf) object(body string) {
	p.at = append(p.at, p.Len())
	fmt.Fprintf(p, "%d 0 obj\n%s\nendobj\n", len(p.at), body)
}

func (p *pdf) stream(keys string, data []byte) {
	p.at = append(p.at, p.Len())
	fmt.Fprintf(p, "%d 0 obj\n<< %s/Length %d >>\nstream\n", len(p.at), keys, len(data))
	p.Write(data)
	p.WriteString("\nendstream\nendobj\n")
}

// finish writes the table of objects.
func (p *pdf) finish() {
	start := p.Len()
	fmt.Fprintf(p, "xref\n0 %d\n0000000000 65535 f \n", len(p.at)+1)
	for _, at := range p.at {
		fmt.Fprintf(p, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(p, "trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(p.at)+1, start)
}
