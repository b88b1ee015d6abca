package diff

import "math"

// grade holds the angle, in arc minutes, from which a finding is of a class;
// never marks a class that the finding cannot reach.
//
// One pixel at 400 mm is 1.07' at 203 dpi, 0.73' at 300, 0.36' at 600 and
// 0.23' at 970. The steps are ours, no source, set by common practice: at 300
// dpi a wrong pixel on a stem edge is noticed, at about 970 dpi it is not.
type grade struct{ minor, major, critical float64 }

var never = math.Inf(1)

// grades is the whole table: the measure is the finding's length in pixels
// times the angle of a pixel along it.
var grades = map[Kind]grade{
	// the letter is damaged
	Missing:  {0, 0, 0},
	Extra:    {0, 0, 0},
	Undrawn:  {0, 0, 0},
	StemLost: {0, 0, 0.3},
	BarLost:  {0, 0, 0.3},
	// measured by one pixel: a hairline is seen far below acuity (Hecht & Mintz 1939)
	Break:  {0, 0.3, 0.5},
	Bridge: {0, 0.3, 0.5},
	// by the root of the area filled
	CounterClosed: {0.25, 0.5, 1.4},
	// a whole edge is displaced
	StemWeight: {0.25, 0.5, 2},
	StemUneven: {0.25, 0.5, 2},
	BarWeight:  {0.25, 0.5, 2},
	Height:     {0.25, 0.5, 2},
	// a small part is
	SerifUneven: {0.25, 0.6, never},
	Overshoot:   {0.25, 1, never},
	Spacing:     {0.25, 1, never},
	Moved:       {0.25, 1, never},
	// strays: on a straight edge the root of their area, else how thick they are
	Edge:     {0.3, 1.4, never},
	Round:    {0.5, 1.4, never},
	Diagonal: {0.5, 1.4, never},
}

// spot grades a part of ink that is gone or new, and a hole in a stroke, by the
// root of its area: a dark spot is seen from about half a minute, from memory.
var spot = grade{0.25, 0.5, 1.4}

// severityOf reads the table; minutes is the measure in arc minutes.
func severityOf(k Kind, minutes float64) Severity { return grades[k].of(minutes) }

func (g grade) of(minutes float64) Severity {
	switch {
	case minutes >= g.critical:
		return Critical
	case minutes >= g.major:
		return Major
	case minutes >= g.minor:
		return Minor
	}
	return Trace
}
