package face

import (
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/require"
)

// Uncut, these groups are two thousand million mappings: minutes of work.
func TestOverlappingGroupsNameEachCodePointOnce(t *testing.T) {
	const groups = 2000
	for _, format := range []uint16{12, 13} {
		b := make([]byte, 16+12*groups)
		binary.BigEndian.PutUint16(b, format)
		binary.BigEndian.PutUint32(b[12:], groups)
		for i := range groups {
			binary.BigEndian.PutUint32(b[16+12*i+4:], 0xFFFF)
			binary.BigEndian.PutUint32(b[16+12*i+8:], uint32(i))
		}
		seen := map[uint32]bool{}
		eachMapping(b, func(code uint32, _ int) {
			require.False(t, seen[code], "format %d: U+%04X twice", format, code)
			seen[code] = true
		})
		require.Len(t, seen, 0x10000, "format %d", format)
	}
}

func TestCompositesOfEmptyContoursAreBounded(t *testing.T) {
	const contours, parts = 30000, 500
	part := make([]byte, 10+2*contours+2+3)
	binary.BigEndian.PutUint16(part, contours) // every contour ends at point 0
	part[len(part)-3] = flagOn | flagXSame | flagYSame
	if len(part)%2 != 0 {
		part = append(part, 0)
	}
	whole := make([]byte, 10, 10+6*parts)
	binary.BigEndian.PutUint16(whole, 0xFFFF)
	for i := range parts {
		flags := ArgsAreXY
		if i < parts-1 {
			flags |= MoreComponents
		}
		whole = binary.BigEndian.AppendUint16(whole, flags)
		whole = append(whole, 0, 1, 0, 0)
	}
	loca := make([]byte, 12)
	binary.BigEndian.PutUint32(loca[4:], uint32(len(whole)))
	binary.BigEndian.PutUint32(loca[8:], uint32(len(whole)+len(part)))

	f := goRegular(t)
	f.glyf, f.loca = append(whole, part...), loca
	f.longLoca = true
	_, err := f.Design(0)
	require.ErrorIs(t, err, ErrInvalid)
	d, err := f.Design(1)
	require.NoError(t, err, "the part alone is legal")
	require.Len(t, d.Outline.Ends, contours)
}
