package raster

// arc is a quadratic curve that climbs from a to b, and the scan lines that it is to be met with: n from
// e on, no more than arcLines. Their crossings are to stand from at on.
type arc struct {
	a, c, b point
	e       int
	at, n   int32
}

const arcLines = 4

// meets are the crossings of a contour, those with rows first and those with columns from poolWords on. The
// ones of curves are found together, when the contour is whole.
type meets struct {
	xs   [2 * poolWords]int32
	arcs []arc
}

// split adds a curve that is to be met with many scan lines, which is halved for all of them.
func (m *meets) split(p *precision, a, c, b point, e, at, n int) {
	for n > arcLines {
		first, mid, second := halves(a, c, b)
		k := 0
		if mid.y() >= e {
			k = min((mid.y()-e)>>(p.bits&31)+1, n)
			m.split(p, a, first, mid, e, at, k)
		}
		e, at, n = e+k*p.one, at+k, n-k
		a, c = mid, second
	}
	if n > 0 {
		m.arcs = append(m.arcs, arc{a, c, b, e, int32(at), int32(n)})
	}
}

// find finds the crossings of curves.
func (m *meets) find(p *cutter) {
	if vectors {
		m.findInPairs(&p.precision)
		return
	}
	for i := range m.arcs {
		q := &m.arcs[i]
		p.meetConic(m.xs[q.at:][:q.n], q.a, q.c, q.b, q.e)
	}
}
