package bytecode

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The first and the last point of a contour of three are touched.
func TestUntouchedPointsGoWithTheTouchedOnesBesideThem(t *testing.T) {
	for _, c := range []struct {
		reason              string
		unscaled, org, curr [3]F26Dot6
		want                F26Dot6
	}{
		{"in proportion between them", [3]F26Dot6{0, 50, 100}, [3]F26Dot6{0, 64, 128}, [3]F26Dot6{10, 64, 202}, 106},
		{"in proportion, the other way round", [3]F26Dot6{100, 50, 0}, [3]F26Dot6{128, 64, 0}, [3]F26Dot6{202, 64, 10}, 106},
		{"below them, as far off as it was", [3]F26Dot6{0, -50, 100}, [3]F26Dot6{0, -64, 128}, [3]F26Dot6{10, -64, 202}, -54},
		{"above them, as far off as it was", [3]F26Dot6{0, 150, 100}, [3]F26Dot6{0, 192, 128}, [3]F26Dot6{10, 192, 202}, 266},
		{"both came to one place", [3]F26Dot6{0, 50, 100}, [3]F26Dot6{0, 64, 128}, [3]F26Dot6{70, 64, 70}, 70},
		{"both are one place in the design: all meet at the first", [3]F26Dot6{50, 55, 50}, [3]F26Dot6{0, 64, 128}, [3]F26Dot6{10, 64, 202}, 10},
	} {
		u := untouched{[]Touch{TouchX, 0, TouchX}, TouchX, c.unscaled[:], c.org[:], c.curr[:]}
		u.contour(0, 2)
		require.Equal(t, c.want, c.curr[1], c.reason)
	}
}
