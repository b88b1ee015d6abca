package face

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// postOf is a post table: its version, 28 bytes that name no glyph, and the rest.
func postOf(version int, rest ...byte) []byte {
	return cat(longs(version), make([]byte, 28), rest)
}

// Layouts are those of OpenType, "post".
func TestNamesAreReadFromEveryVersionOfPost(t *testing.T) {
	own := cat(words(4, 0, 36, 258, 259), []byte("\x03one"), []byte("\x05two.a"))
	for _, c := range []struct {
		reason string
		table  []byte
		want   []string
	}{
		{"1: the names are the Macintosh's", postOf(0x10000), []string{".notdef", ".null", "nonmarkingreturn", "space"}},
		{"2: names of the Macintosh by number, own ones behind them", postOf(0x20000, own...), []string{".notdef", "A", "one", "two.a"}},
		{"2, with fewer names than glyphs", postOf(0x20000, cat(words(1, 36))...), []string{"A", "", "", ""}},
		{"2, with a name cut short", postOf(0x20000, own[:len(own)-1]...), []string{".notdef", "A", "one", ""}},
		{"2, with a number that has no name", postOf(0x20000, cat(words(4, 0, 36, 300, 259), []byte("\x03one"))...), []string{".notdef", "A", "", ""}},
		{"2, with nothing behind the header", postOf(0x20000), nil},
		{"3: no names", postOf(0x30000), nil},
		{"4: no names that we know of", postOf(0x40000), nil},
		{"cut short", postOf(0x10000)[:20], nil},
		{"no table", nil, nil},
	} {
		require.Equal(t, c.want, readPost(c.table, 4), c.reason)
	}
}

func FuzzPost(f *testing.F) {
	f.Add(postOf(0x20000, cat(words(4, 0, 36, 258, 259), []byte("\x03one"), []byte("\x05two.a"))...))
	f.Fuzz(func(t *testing.T, table []byte) {
		if names := readPost(table, 4); names != nil {
			require.Len(t, names, 4)
		}
	})
}
