package stems

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// To a course with a stem from 100 to 200 units on 4 to 6 px another is added.
func TestAStemGoesIntoACourseWhereItContradictsNone(t *testing.T) {
	px := func(v int) fixed.Int26_6 { return fixed.I(v) }
	first := []edge{{fu(100), px(4), true}, {fu(200), px(6), false}}
	for _, c := range []struct {
		why    string
		lo, hi int // units
		low    int // px
		width  int
		more   stem   // what else is said of it
		want   []edge // nil where it stays out
	}{
		{"above", 250, 300, 8, 1, stem{}, []edge{first[0], first[1], {fu(250), px(8), true}, {fu(300), px(9), false}}},
		{"below", 20, 60, 1, 1, stem{}, []edge{{fu(20), px(1), true}, {fu(60), px(2), false}, first[0], first[1]}},
		{"above, and on its edge", 250, 300, 6, 1, stem{}, []edge{first[0], first[1], {fu(250), px(6), true}, {fu(300), px(7), false}}},
		{"below, and on its edge", 20, 60, 3, 1, stem{}, []edge{{fu(20), px(3), true}, {fu(60), px(4), false}, first[0], first[1]}},
		{"it begins where the first ends", 200, 260, 6, 2, stem{}, []edge{first[0], {fu(200), px(6), true}, {fu(260), px(8), false}}},
		{"it ends where the first begins", 50, 100, 3, 1, stem{}, []edge{{fu(50), px(3), true}, first[0], first[1]}},
		{"the same, but its edge stands elsewhere", 200, 260, 7, 2, stem{}, nil},
		{"the same below", 50, 100, 2, 1, stem{}, nil},
		{"above in the drawing, and fitted into the first", 250, 300, 5, 3, stem{}, nil},
		{"below in the drawing, and fitted into the first", 20, 60, 3, 2, stem{}, nil},
		{"it begins within the first", 150, 260, 6, 2, stem{}, nil},
		{"it ends within the first", 50, 150, 2, 2, stem{}, nil},
		{"it is around the first", 50, 260, 2, 6, stem{}, nil},
		{"it begins where the first begins", 100, 150, 4, 1, stem{}, nil},
		{"it is crossed by a zone", 250, 300, 8, 1, stem{crossed: true}, nil},
		{"an edge above", 250, 250, 8, 0, stem{}, []edge{first[0], first[1], {fu(250), px(8), false}}},
		{"an edge below", 60, 60, 4, 0, stem{}, []edge{{fu(60), px(4), false}, first[0], first[1]}},
		{"an edge above in the drawing, and below as fitted", 250, 250, 5, 0, stem{}, nil},
		{"an edge below in the drawing, and above as fitted", 60, 60, 5, 0, stem{}, nil},
		{"a declared edge within the first", 150, 150, 5, 0, stem{}, nil},
		{"one that no hint declares", 150, 150, 5, 0, stem{implied: true}, []edge{first[0], {fu(150), px(5), true}, first[1]}},
		{"one that no hint declares, higher than the first", 150, 150, 7, 0, stem{implied: true}, nil},
		{"an edge of the first", 200, 200, 9, 0, stem{}, first},
	} {
		a := newAxis(dictionary(), glyph.AxisX, at(t, 8, 203), true)
		var course course
		course.start(&a)
		course.add(&stem{lo: fu(100), hi: fu(200), low: px(4), width: px(2)})
		require.Equal(t, first, course.edges)
		s := c.more
		s.lo, s.hi, s.low, s.width = fu(c.lo), fu(c.hi), px(c.low), px(c.width)
		course.add(&s)
		require.Equal(t, c.want != nil, s.used, c.why)
		if c.want == nil {
			c.want = first
		}
		require.Equal(t, c.want, course.edges, c.why)
	}
}
