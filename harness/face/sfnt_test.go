package face

import (
	"encoding/binary"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
)

// collection puts fonts together as a TTC, each with tables of its own (OpenType,
// "Font collections").
func collection(fonts ...[]byte) []byte {
	head := 12 + 4*len(fonts)
	out := cat([]byte("ttcf"), words(1, 0), longs(len(fonts)))
	at := head
	for _, f := range fonts {
		out = append(out, longs(at)...)
		at += len(f)
	}
	for _, f := range fonts {
		base := len(out)
		out = append(out, f...)
		n := int(binary.BigEndian.Uint16(f[4:]))
		for i := range n {
			entry := out[base+12+16*i+8:]
			binary.BigEndian.PutUint32(entry, binary.BigEndian.Uint32(entry)+uint32(base))
		}
	}
	return out
}

func TestFacesOfACollectionAreTheFontsInIt(t *testing.T) {
	ttc := collection(goregular.TTF, gomono.TTF)
	for i, alone := range [][]byte{goregular.TTF, gomono.TTF} {
		want, err := Parse(alone, 0)
		require.NoError(t, err)
		got, err := Parse(ttc, i)
		require.NoError(t, err)
		require.Equal(t, want.Digest(), got.Digest(), "the digest covers this face's tables alone")
		require.Equal(t, want.Refs(), got.Refs())
	}
}

func TestACollectionThatIsBrokenOrHasNoSuchFaceIsRefused(t *testing.T) {
	ttc := collection(goregular.TTF, gomono.TTF)
	far := append([]byte{}, ttc...)
	binary.BigEndian.PutUint32(far[12:], 1<<30)
	for _, c := range []struct {
		reason string
		data   []byte
		index  int
		says   string
	}{
		{"a face too many", ttc, 2, "there is no face 2"},
		{"a face below none", ttc, -1, "there is no face -1"},
		{"a header cut short", ttc[:14], 0, "there is no face 0"},
		{"a face past the end", far, 0, "past the end"},
	} {
		_, err := Parse(c.data, c.index)
		require.ErrorIs(t, err, ErrInvalid, c.reason)
		require.ErrorContains(t, err, c.says, c.reason)
	}
}

// without is Go Regular with a table renamed, or cut to a number of bytes.
func without(tag string, cut int) []byte {
	f := append([]byte{}, goregular.TTF...)
	for i := range int(binary.BigEndian.Uint16(f[4:])) {
		e := f[12+16*i:]
		switch {
		case string(e[:4]) != tag:
		case cut < 0:
			copy(e, "none")
		default:
			binary.BigEndian.PutUint32(e[12:], uint32(cut))
		}
	}
	return f
}

func TestAFontIsRefusedForTheTablesItNeedsAlone(t *testing.T) {
	for _, c := range []struct {
		tag  string
		cut  int // bytes left, -1 for no table
		want error
		says string
	}{
		{"head", -1, ErrInvalid, `"head"`},
		{"head", 53, ErrInvalid, `"head"`},
		{"maxp", 5, ErrInvalid, `"maxp"`},
		{"hhea", 35, ErrInvalid, `"hhea"`},
		{"loca", 10, ErrInvalid, "loca places"},
		{"glyf", -1, ErrUnsupported, "no outlines"},
		{"cmap", -1, nil, ""},
		{"post", 20, nil, ""},
		{"hmtx", 2, nil, ""},
		{"cvt ", -1, nil, ""},
		{"OS/2", 10, nil, ""},
	} {
		f, err := Parse(without(c.tag, c.cut), 0)
		if c.want == nil {
			require.NoError(t, err, "%s of %d bytes", c.tag, c.cut)
			require.NotEmpty(t, f.Refs())
			_, err = f.Design(5)
			require.NoError(t, err, c.tag)
			continue
		}
		require.ErrorIs(t, err, c.want, "%s of %d bytes", c.tag, c.cut)
		require.ErrorContains(t, err, c.says, "%s of %d bytes", c.tag, c.cut)
		require.False(t, strings.Contains(err.Error(), "\n"))
	}
}

// FreeType, ttpload.c, tt_face_get_location: shipped fonts have loca tables that
// point out of glyf.
func TestGlyphsOutsideGlyfAreBlankAndTheLastIsCut(t *testing.T) {
	f := goRegular(t)
	last := f.NumGlyphs() - 1
	f.glyf, f.longLoca, f.loca = f.glyf[:100], true, make([]byte, 4*(last+2))
	put := func(i, at int) { binary.BigEndian.PutUint32(f.loca[4*i:], uint32(at)) }
	put(0, 0)
	put(1, 40)
	put(2, 200) // glyph 1 reaches past the end
	put(3, 300) // glyph 2 begins past it
	put(4, 60)  // glyph 3 does, and ends before it begins
	put(5, 50)  // glyph 4 ends before it begins
	put(last, 10)
	put(last+1, 500)
	for _, c := range []struct {
		index, bytes int
		reason       string
	}{
		{0, 40, "as loca says"},
		{1, 0, "one that reaches past the end is blank"},
		{2, 0, "so is one that begins there"},
		{3, 0, "wherever it ends"},
		{4, 40, "one that ends before it begins reaches to the end"},
		{last, 90, "the last one is cut at the end"},
	} {
		b, err := f.glyphBytes(c.index)
		require.NoError(t, err, c.reason)
		require.Len(t, b, c.bytes, "glyph %d: %s", c.index, c.reason)
	}
	_, err := f.glyphBytes(last + 1)
	require.ErrorIs(t, err, ErrInvalid)
}

func FuzzCollection(f *testing.F) {
	f.Add(collection(goregular.TTF)[:3000], 0)
	f.Fuzz(func(t *testing.T, data []byte, index int) {
		_, err := Parse(append([]byte("ttcf"), data...), index)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
		}
	})
}

// The digest of a font reads every table: tables that are each the whole file
// would make it read a megabyte 65,000 times.
func TestTablesThatAreAllTheWholeFileAreRefused(t *testing.T) {
	const n = 65000
	data := make([]byte, 12+16*n)
	copy(data, "\x00\x01\x00\x00")
	binary.BigEndian.PutUint16(data[4:], n)
	for i := range n {
		e := data[12+16*i:]
		binary.BigEndian.PutUint32(e, uint32(0x40000000+i))
		binary.BigEndian.PutUint32(e[12:], uint32(len(data)))
	}
	_, err := Parse(data, 0)
	require.ErrorIs(t, err, ErrInvalid)
	require.ErrorContains(t, err, "times the bytes of the file")
}

func TestAFileWithoutOutlinesIsNamed(t *testing.T) {
	for begins, says := range map[string]string{
		"wOFF": "packed for the web", "wOF2": "packed for the web",
		"STARTFONT 2.1": "a bitmap font", "\x01fcp": "a bitmap font", "\x1f\x8b\x08": "packed by gzip",
		"%!PS": "no font that can be read",
	} {
		_, err := readTables([]byte(begins+"............"), 0)
		require.ErrorIs(t, err, ErrUnsupported)
		require.ErrorContains(t, err, says)
	}
}
