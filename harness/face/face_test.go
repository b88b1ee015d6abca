package face

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

func goRegular(t testing.TB) *TrueType {
	f, err := Parse(goregular.TTF, 0)
	require.NoError(t, err)
	return f.(*TrueType)
}

func TestMacNamesAre258(t *testing.T) {
	require.Len(t, macNames, 258, "OpenType, post, version 1")
	require.Equal(t, "A", macNames[36])
	require.Equal(t, "dcroat", macNames[257])
}

// The other reader is golang.org/x/image/font/sfnt.
func TestGlyphsAreWhatAnotherReaderSays(t *testing.T) {
	f := goRegular(t)
	other, err := sfnt.Parse(goregular.TTF)
	require.NoError(t, err)
	require.Equal(t, other.NumGlyphs(), f.NumGlyphs())
	var b sfnt.Buffer
	ppem := fixed.I(f.UPEM())
	for i, r := range f.Refs() {
		name, err := other.GlyphName(&b, sfnt.GlyphIndex(i))
		require.NoError(t, err)
		require.Equal(t, name, r.Name)
		adv, err := other.GlyphAdvance(&b, sfnt.GlyphIndex(i), ppem, 0)
		require.NoError(t, err)
		ours, _ := f.HMetrics(i)
		require.Equal(t, adv.Round(), int(ours), r.Name)
		if r.Code != glyph.NoCode {
			gid, err := other.GlyphIndex(&b, r.Code)
			require.NoError(t, err)
			require.Equal(t, i, int(gid), "U+%04X", r.Code)
		}
		d, err := f.Design(i)
		require.NoError(t, err)
		segs, err := other.LoadGlyph(&b, sfnt.GlyphIndex(i), ppem, nil)
		require.NoError(t, err)
		want, got := segs.Bounds(), bounds(&d.Outline)
		if len(segs) > 0 {
			require.Equal(t, want.Max.X, got.Max.X, r.Name)
			require.Equal(t, -want.Min.Y, got.Max.Y, "%s: their Y grows down", r.Name)
		}
	}
}

func bounds(o *glyph.Outline) (b fixed.Rectangle26_6) {
	for i, p := range o.Points {
		q := fixed.Point26_6{X: p.X, Y: p.Y}
		if i == 0 {
			b = fixed.Rectangle26_6{Min: q, Max: q}
		}
		b.Min.X, b.Max.X = min(b.Min.X, q.X), max(b.Max.X, q.X)
		b.Min.Y, b.Max.Y = min(b.Min.Y, q.Y), max(b.Max.Y, q.Y)
	}
	return b
}

func TestZonesAreMeasuredFromLetters(t *testing.T) {
	d, err := goRegular(t).Design(1)
	require.NoError(t, err)
	names := map[string]glyph.Zone{}
	for _, z := range d.Zones {
		names[z.Name] = z
	}
	require.Equal(t, glyph.FUnit(0), names["baseline"].Flat)
	require.Less(t, names["baseline"].Over, glyph.FUnit(0), "an o reaches below the baseline")
	require.Greater(t, names["cap-height"].Flat, names["x-height"].Flat)
	require.Greater(t, names["x-height"].Over, names["x-height"].Flat)
}

func TestBrokenFontsAreOneLineErrors(t *testing.T) {
	font := goregular.TTF
	for _, c := range []struct {
		reason string
		data   []byte
		index  int
		want   error
	}{
		{"nothing is no font", nil, 0, ErrInvalid},
		{"half a font is cut short", font[:len(font)/2], 0, ErrInvalid},
		{"a directory cut short", font[:40], 0, ErrInvalid},
		{"text is no font", []byte("STARTFONT 2.1\nthis is a bitmap font"), 0, ErrUnsupported},
		{"a single face has no second", font, 1, ErrInvalid},
		{"an OpenType font without glyf", append([]byte("OTTO\x00\x00"), make([]byte, 20)...), 0, ErrUnsupported},
	} {
		_, err := Parse(c.data, c.index)
		require.ErrorIs(t, err, c.want, c.reason)
		require.NotContains(t, err.Error(), "\n", c.reason)
	}
}

func TestACircularCompositeIsAnErrorOfThatGlyph(t *testing.T) {
	f := goRegular(t)
	// One glyph that has itself as its component, placed by a loca of its own.
	glyf := []byte{0xFF, 0xFF, 0, 0, 0, 0, 0, 0, 0, 0, 0, 2, 0, 0, 0, 0}
	f.glyf, f.loca = glyf, []byte{0, 0, 0, 0, 0, 0, 0, 16, 0, 0, 0, 16}
	f.longLoca = true
	_, err := f.Design(0)
	require.ErrorIs(t, err, ErrInvalid)
	_, err = f.Design(1)
	require.NoError(t, err, "the glyph beside it is blank and well")
}

func TestDebianFacesRead(t *testing.T) {
	for _, path := range []string{
		"/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf",
		"/usr/share/fonts/truetype/dejavu/DejaVuSerif-BoldItalic.ttf",
		"/usr/share/fonts/truetype/liberation2/LiberationSerif-Regular.ttf",
		"/usr/share/fonts/truetype/ttf-bitstream-vera/Vera.ttf",
	} {
		if _, err := os.Stat(path); err != nil && os.Getenv("CI") != "true" {
			t.Skipf("%s is not installed", path)
		}
		f, err := Open(path, 0)
		require.NoError(t, err)
		for i := range f.Refs() {
			_, err := f.Design(i)
			require.NoError(t, err, "%s glyph %d", path, i)
		}
	}
}

func TestVeraCarriesItsAdvancesFrom9To28(t *testing.T) {
	const path = "/usr/share/fonts/truetype/ttf-bitstream-vera/Vera.ttf"
	if _, err := os.Stat(path); err != nil && os.Getenv("CI") != "true" {
		t.Skipf("%s is not installed", path)
	}
	f, err := Open(path, 0)
	require.NoError(t, err)
	h := f.(*TrueType).HDMX()
	for ppem := 9; ppem <= 28; ppem++ {
		require.Len(t, h[ppem], f.(*TrueType).NumGlyphs())
	}
}

func FuzzParse(f *testing.F) {
	f.Add(goregular.TTF[:4096])
	f.Add(goregular.TTF)
	f.Fuzz(func(t *testing.T, data []byte) {
		fc, err := Parse(data, 0)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			return
		}
		for i := range min(len(fc.Refs()), 50) {
			_, _ = fc.Design(i)
		}
	})
}
