package golden

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestHexRowKnowsEveryByteInEveryPlace(t *testing.T) {
	for digits := 2; digits <= 34; digits += 2 {
		for place := range digits {
			for b := range 256 {
				line := []byte(strings.Repeat("5A", 17))[:digits]
				line[place] = byte(b)
				row := make([]uint64, (digits+15)/16)
				ok := hexRow(hexPairs(), row, line)
				require.Equal(t, strings.ContainsRune("0123456789abcdefABCDEF", rune(b)), ok, "byte %#x at %d of %d", b, place, digits)
				for i := 0; ok && i < digits; i += 16 {
					want, err := strconv.ParseUint((string(line) + strings.Repeat("0", 16))[i:i+16], 16, 64)
					require.NoError(t, err)
					require.Equal(t, want, row[i/16], "%s", line)
				}
			}
		}
	}
}

func TestRowsInAnyShapeGiveTheSameBitmap(t *testing.T) {
	font := func(rows string) string {
		return "STARTFONT 2.1\nFONT f\nSIZE 8 300 300\nCHARS 1\nSTARTCHAR a\nENCODING 97\nSWIDTH 500 0\nDWIDTH 12 0\nBBX 12 3 0 0\nBITMAP\n" +
			rows + "ENDCHAR\nENDFONT\n" + strings.Repeat("\n", 20)
	}
	want, err := ParseBDF([]byte(font("FFF0\n8010\nABC0\n")))
	require.NoError(t, err)
	require.Equal(t, []uint64{0xFFF << 52, 0x801 << 52, 0xABC << 52}, want.Cells[0].Bitmap.Words)
	for rows, why := range map[string]string{
		"fff0\n8010\nabc0\n":       "small letters",
		"FFFF\n801F\nABCF\n":       "ink in the padding",
		"FFF0\r\n8010\r\nABC0\r\n": "line ends of another system",
		"FFF\n801\nABC\n":          "short rows",
		"FFF000\n8010FF\nABC0\n":   "long rows",
		"FFF0\n8010  \nABC0\n":     "blanks behind a row",
	} {
		got, err := ParseBDF([]byte(font(rows)))
		require.NoError(t, err, why)
		require.Equal(t, want.Cells, got.Cells, why)
	}
	_, err = ParseBDF(bytes.TrimRight([]byte(font("FFF0\n8010\n")), "\n"))
	require.NoError(t, err, "fewer rows than BBX says, at the end of the file")
}

func TestRowsAreWrittenAsHexDigits(t *testing.T) {
	row := []uint64{0x0123456789ABCDEF, 0xFEDCBA9876543210}
	all := fmt.Sprintf("%016X%016X", row[0], row[1])
	for digits := 2; digits <= len(all); digits += 2 {
		require.Equal(t, "x"+all[:digits]+"\n", string(appendRow([]byte("x"), row, digits)))
	}
}
