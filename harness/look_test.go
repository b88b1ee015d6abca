package harness

import (
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
)

func TestInkThatClosedExplainsAStrokeThatIsThickThere(t *testing.T) {
	at := diff.Place{X0: 2, Y0: 0, X1: 4, Y1: 10}
	beside := diff.Place{X0: 3, Y0: 4, X1: 6, Y1: 6}
	elsewhere := diff.Place{X0: 7, Y0: 4, X1: 9, Y1: 6}
	for _, c := range []struct {
		px     float64
		kind   diff.Kind
		place  diff.Place
		want   bool
		reason string
	}{
		{1, diff.Bridge, beside, true, "strokes that run together beside it make it thick"},
		{1, diff.CounterClosed, beside, true, "so does a counter that closed"},
		{1, diff.Bridge, elsewhere, false, "they do not beside another stroke"},
		{1, diff.Break, beside, false, "ink that is gone makes nothing thick"},
		{-1, diff.Bridge, beside, false, "nor does ink make a stroke thin"},
	} {
		f := diff.Finding{Kind: diff.StemUneven, MeasurePx: c.px, Place: at}
		require.Equal(t, c.want, explained(&f, []diff.Finding{{Kind: c.kind, Place: c.place}}), c.reason)
	}
}
