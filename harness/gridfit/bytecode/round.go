package bytecode

// roundState says how distances are rounded to the grid. A distance never
// changes its sign by rounding.
type roundState struct {
	mode                     roundMode
	period, phase, threshold int32 // of SROUND and S45ROUND, 26.6
}

type roundMode uint8

const (
	toGrid roundMode = iota
	toHalfGrid
	toDoubleGrid
	downToGrid
	upToGrid
	roundOff
	super
	super45
)

func (r *roundState) round(d F26Dot6) F26Dot6 {
	if d < 0 {
		return -r.positive(-d)
	}
	return r.positive(d)
}

// positive rounds a distance that is not negative.
func (r *roundState) positive(d F26Dot6) F26Dot6 {
	switch r.mode {
	case toGrid:
		return max((d+32)&^63, 0)
	case toHalfGrid:
		return max(d&^63+32, 0)
	case toDoubleGrid:
		return max((d+16)&^31, 0)
	case downToGrid:
		return max(d&^63, 0)
	case upToGrid:
		return max((d+63)&^63, 0)
	case super:
		d = (d-r.phase+r.threshold)&-r.period + r.phase
	case super45:
		d = (d-r.phase+r.threshold)/r.period*r.period + r.phase
	default:
		return d
	}
	if d < 0 {
		return r.phase
	}
	return d
}

// set takes the argument of SROUND or S45ROUND; grid is the period in 2.14.
func (r *roundState) set(mode roundMode, grid, selector int32) {
	r.mode = mode
	switch selector & 0xC0 {
	case 0:
		r.period = grid / 2
	case 0x40, 0xC0:
		r.period = grid
	case 0x80:
		r.period = grid * 2
	}
	r.phase = r.period * (selector >> 4 & 3) / 4
	if selector&0x0F == 0 {
		r.threshold = r.period - 1
	} else {
		r.threshold = (selector&0x0F - 4) * r.period / 8
	}
	r.period, r.phase, r.threshold = r.period>>8, r.phase>>8, r.threshold>>8
}
