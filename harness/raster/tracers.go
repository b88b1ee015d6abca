package raster

// tracers follow a contour by rows and by columns.
type tracers struct {
	row, column tracer
	meets       meets
	origin      point // of the sheet
	at, swapped point // where they are, and with its axes swapped
}

// fit says that FreeType's pool holds all that they met.
func (t *tracers) fit() bool { return t.row.fits() && t.column.fits() }

func (t *tracers) begin(at point) {
	t.meets.arcs = t.meets.arcs[:0]
	t.reach(at - t.origin)
}

func (t *tracers) reach(at point) { t.at, t.swapped = at, at.swapped() }

func (t *tracers) line(to point) {
	at, swapped := t.at, t.swapped
	t.reach(to - t.origin)
	t.row.line(at, t.at)
	t.column.line(swapped, t.swapped)
}

func (t *tracers) conic(c, to point) {
	at, swapped := t.at, t.swapped
	c -= t.origin
	t.reach(to - t.origin)
	t.row.conic(at, c, t.at)
	t.column.conic(swapped, c.swapped(), t.swapped)
}

func (t *tracers) cubic(c1, c2, to point) {
	at := t.at
	t.reach(to - t.origin)
	q := cubic{at.biased(), (c1 - t.origin).biased(), (c2 - t.origin).biased(), t.at.biased()}
	t.row.cubic(q)
	t.column.cubic(q.swapped())
}

func (t *tracers) end(at point) {
	t.line(at)
	t.row.close(t.at)
	t.column.close(t.swapped)
}
