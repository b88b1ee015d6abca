package bytecode

// Chapter "Managing the graphics state": the round state. Chapter "Compensating
// for the engine characteristics".

// rtg: RTG[], 0x18
// Pops:   nothing
// Pushes: nothing
// Does:   rounds to the grid from now on
// Spec:   Managing the graphics state
func (m *Machine) rtg() { m.gs.round.mode = toGrid }

// rthg: RTHG[], 0x19
// Pops:   nothing
// Pushes: nothing
// Does:   rounds to half-way between grid lines from now on
// Spec:   Managing the graphics state
func (m *Machine) rthg() { m.gs.round.mode = toHalfGrid }

// rtdg: RTDG[], 0x3D
// Pops:   nothing
// Pushes: nothing
// Does:   rounds to grid lines and half-way between from now on
// Spec:   Managing the graphics state
func (m *Machine) rtdg() { m.gs.round.mode = toDoubleGrid }

// rdtg: RDTG[], 0x7D
// Pops:   nothing
// Pushes: nothing
// Does:   rounds down to the grid from now on
// Spec:   Managing the graphics state
func (m *Machine) rdtg() { m.gs.round.mode = downToGrid }

// rutg: RUTG[], 0x7C
// Pops:   nothing
// Pushes: nothing
// Does:   rounds up to the grid from now on
// Spec:   Managing the graphics state
func (m *Machine) rutg() { m.gs.round.mode = upToGrid }

// roff: ROFF[], 0x7A
// Pops:   nothing
// Pushes: nothing
// Does:   rounds no more
// Spec:   Managing the graphics state
func (m *Machine) roff() { m.gs.round.mode = roundOff }

// sround: SROUND[], 0x76
// Pops:   n, period, phase and threshold
// Pushes: nothing
// Does:   rounds by n from now on
// Spec:   Managing the graphics state
func (m *Machine) sround() { m.gs.round.set(super, 0x4000, m.pop()) }

// s45round: S45ROUND[], 0x77
// Pops:   n, period, phase and threshold
// Pushes: nothing
// Does:   rounds by n from now on, to a grid √½ as wide, for lines at 45 degrees
// Spec:   Managing the graphics state
func (m *Machine) s45round() { m.gs.round.set(super45, 0x2D41, m.pop()) }

// roundValue: ROUND[ab], 0x68 to 0x6B
// Pops:   d, 26.6 px
// Pushes: d, rounded
// Does:   rounds; the engine needs no compensation, whatever ab
// Spec:   Compensating for the engine characteristics
func (m *Machine) roundValue() { m.push(m.gs.round.round(m.pop())) }

// nround: NROUND[ab], 0x6C to 0x6F
// Pops:   d, 26.6 px
// Pushes: d
// Does:   nothing, as there is nothing to compensate
// Spec:   Compensating for the engine characteristics
func (m *Machine) nround() { m.push(m.pop()) }
