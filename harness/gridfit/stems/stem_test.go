package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A drawing has up to 256 sets of hints, kept 64 to a word.
func TestStemsAreInForceTogetherInTheSpansThatTheyShare(t *testing.T) {
	for _, c := range []struct {
		a, b []int
		want bool
	}{
		{[]int{3}, []int{3}, true},
		{[]int{3}, []int{4}, false},
		{[]int{3}, []int{67}, false},
		{[]int{67}, []int{67}, true},
		{[]int{maxSpans - 1}, []int{0, maxSpans - 1}, true},
		{[]int{64, 65}, []int{63, 66}, false},
		{nil, []int{0}, false},
	} {
		var s, o stem
		for _, i := range c.a {
			s.spans.add(i)
		}
		for _, i := range c.b {
			o.spans.add(i)
		}
		require.Equal(t, c.want, s.together(&o), "%v and %v", c.a, c.b)
		require.Equal(t, c.want, o.together(&s), "%v and %v", c.b, c.a)
	}
}
