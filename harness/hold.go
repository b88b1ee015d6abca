package harness

import (
	"context"
	"fmt"
	"strings"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// TestingT is what Hold needs of a test: *testing.T, or any type that serves
// testify's assert and require.
type TestingT interface {
	Errorf(format string, args ...any)
}

// HoldOptions say how strict Hold is.
type HoldOptions struct {
	Gate       diff.Severity // findings below it pass; the zero value, Trace, lets none pass
	DistanceMM float64       // reading distance; 0 means DefaultDistanceMM
	Partial    bool          // goldens that cells leave out are no fault
}

// Hold holds the cells that a rasterizer drew against approved goldens, in a test of that
// rasterizer. It calls Errorf for each finding at or above the gate, for each cell without
// an approved golden and for each golden without a cell; the worst finding of a glyph comes
// with a picture, see [diff.Overlay]. It reports whether all was well. goldens is a folder:
// a plan's, whose goldens the command approved, or one that [golden.Store.Record] filled, as
// in the example.
func Hold(t TestingT, goldens string, s glyph.Strike, cells []glyph.Cell, o HoldOptions) bool {
	if h, ok := t.(interface{ Helper() }); ok {
		h.Helper()
	}
	faults, err := hold(goldens, s, cells, o)
	if err != nil {
		t.Errorf("%s: %v", s, err)
		return false
	}
	for _, f := range faults {
		t.Errorf("%s: %s", s, f)
	}
	return len(faults) == 0
}

func hold(goldens string, s glyph.Strike, cells []glyph.Cell, o HoldOptions) ([]string, error) {
	approved, err := golden.Open(goldens).Load(context.Background(), s)
	if err != nil {
		return nil, err
	}
	byKey := map[glyph.Key]*glyph.Cell{}
	for i := range approved.Cells {
		byKey[approved.Cells[i].Key] = &approved.Cells[i]
	}
	if o.DistanceMM == 0 {
		o.DistanceMM = DefaultDistanceMM
	}
	judge := diff.NewJudge(diff.Viewing{DPI: s.DPI, DistanceMM: o.DistanceMM})
	var faults []string
	for i := range cells {
		c := &cells[i]
		g := byKey[c.Key]
		delete(byKey, c.Key)
		if g == nil {
			faults = append(faults, fmt.Sprintf("%s: nobody approved this glyph; approve it, as golden.Store.Record does", c.Key))
			continue
		}
		if !approved.Approved(g) {
			faults = append(faults, fmt.Sprintf("%s: nobody approved the bitmap in %s; approve it, or restore the one that was", c.Key, goldens))
			continue
		}
		for n, f := range judge.Compare(diff.Pair{Golden: g, Candidate: c, PPEM: s.PPEM()}).Findings {
			if f.Severity < o.Gate {
				continue
			}
			fault := fmt.Sprintf("%s: %s (%s): %s", c.Key, f.Kind, f.Severity, f.Text)
			if n == 0 {
				fault += "\n  " + strings.Join(diff.Overlay(&g.Bitmap, &c.Bitmap), "\n  ")
			}
			faults = append(faults, fault)
		}
	}
	for i := range approved.Cells {
		if k := approved.Cells[i].Key; !o.Partial && byKey[k] != nil {
			faults = append(faults, fmt.Sprintf("%s: approved, but not drawn", k))
		}
	}
	return faults, nil
}
