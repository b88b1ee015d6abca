package diff

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"smokeproof/harness/glyph"
)

// Kind names a fault in the words of the trade.
type Kind string

const (
	StemLost      Kind = "stem-lost"
	StemWeight    Kind = "stem-weight"
	StemUneven    Kind = "stem-uneven"
	BarLost       Kind = "bar-lost"
	BarWeight     Kind = "bar-weight"
	Break         Kind = "break"
	Bridge        Kind = "bridge"
	CounterClosed Kind = "counter-closed"
	SerifUneven   Kind = "serif-uneven"
	Height        Kind = "height"
	Overshoot     Kind = "overshoot"
	Round         Kind = "round"
	Diagonal      Kind = "diagonal"
	Edge          Kind = "edge"
	Moved         Kind = "moved"
	Spacing       Kind = "spacing"
	Missing       Kind = "missing"
	Extra         Kind = "extra"
	Undrawn       Kind = "undrawn"
)

// Severity is the nonconformity class of a finding.
type Severity uint8

const (
	Trace    Severity = iota // below what a reader sees
	Minor                    // seen on inspection
	Major                    // seen in reading
	Critical                 // the letter is damaged
)

var severityNames = [...]string{"trace", "minor", "major", "critical"}

func (s Severity) String() string { return severityNames[s] }

// ParseSeverity reads "trace", "minor", "major" or "critical".
func ParseSeverity(s string) (Severity, error) {
	for i, n := range severityNames {
		if n == s {
			return Severity(i), nil
		}
	}
	return 0, fmt.Errorf("severity %q is unknown; use %s", s, strings.Join(severityNames[:], ", "))
}

// Place is where a finding stands, in device pixels about the origin, Y up;
// the box is half open: columns X0 to X1-1, rows Y0 to Y1-1.
type Place struct {
	X0, Y0, X1, Y1 int
	What           string // "left stem", "crossbar", "x-height"; may be empty
}

// Meets says that two places have a pixel in common.
func (p Place) Meets(o Place) bool {
	return p.X0 < o.X1 && o.X0 < p.X1 && p.Y0 < o.Y1 && o.Y0 < p.Y1
}

// Move is how far something went, in whole device pixels, candidate minus golden:
// DX to the right, DY up.
type Move struct{ DX, DY int }

// Finding is one named fault in one glyph.
type Finding struct {
	Kind      Kind
	Severity  Severity
	Score     float64 // visual weight: comparable across glyphs and strikes, larger is worse
	MeasurePx float64 // in device pixels, signed: candidate minus golden
	MeasureFU float64 // the same in font units; 0 where no face is at hand
	Move      Move    // of a part, a row or the whole glyph that stands elsewhere; else zero
	Place     Place
	Text      string // one plain sentence
}

// Report is what a reader would see of the difference of two cells.
type Report struct {
	Findings     []Finding // worst first; none exactly when the cells are equal
	Score        float64   // of the glyph: 0 exactly when equal
	Lost, Gained int       // pixels of ink on the device grid
}

// NewReport orders findings and sums their scores.
func NewReport(found []Finding) Report {
	r := Report{Findings: found}
	for _, f := range found {
		r.Score += f.Score
	}
	slices.SortStableFunc(r.Findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(b.Score, a.Score), cmp.Compare(a.Kind, b.Kind))
	})
	return r
}

// Worst is the severity of the worst finding; Trace where there is none.
func (r *Report) Worst() Severity {
	if len(r.Findings) == 0 {
		return Trace
	}
	w := Trace
	for _, f := range r.Findings {
		w = max(w, f.Severity)
	}
	return w
}

// inUnits tells the measure in font units too, where it is a length.
func (f *Finding) inUnits(upem int, ppem glyph.PPEM) {
	along := ppem.X
	if vertical(f.Kind) || f.Move.DX == 0 && f.Move.DY != 0 {
		along = ppem.Y
	}
	if linear(f.Kind) && along > 0 {
		f.MeasureFU = f.MeasurePx * float64(upem) * 64 / float64(along)
	}
}

// vertical says that a kind is measured along Y.
func vertical(k Kind) bool {
	return k == BarWeight || k == BarLost || k == Height || k == Overshoot || k == SerifUneven
}

// linear says that a kind's measure is a length, not a count of pixels.
func linear(k Kind) bool {
	switch k {
	case StemWeight, StemUneven, StemLost, BarLost, BarWeight, Height, Overshoot, SerifUneven, Moved, Spacing:
		return true
	}
	return false
}
