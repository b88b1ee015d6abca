package diff

import "smokeproof/harness/glyph"

// Judge weighs differences for one strike. It keeps its buffers between calls
// and is for one goroutine.
type Judge struct{ view Viewing }

// NewJudge returns a judge for output seen under the given conditions.
func NewJudge(v Viewing) *Judge { return &Judge{view: v} }

// Compare names what a reader would see of the difference. Cells that are
// equal give an empty report at the price of a word-by-word compare.
func (j *Judge) Compare(p Pair) Report { panic("being written") }

// Weights is the importance map of a pair: for each pixel of the box that
// holds both bitmaps, how much its change would weigh.
func (j *Judge) Weights(p Pair) WeightMap { panic("being written") }

// WeightMap holds importance, rows top to bottom, about the same origin as the
// bitmaps (Left, Bottom as in glyph.Bitmap).
type WeightMap struct {
	Left, Bottom, Width, Height int
	W                           []float64
}

// Absent is the report for a glyph that stands on one side only: Missing
// (golden without candidate) or Extra (candidate without golden).
func (j *Judge) Absent(kind Kind, c *glyph.Cell) Report { panic("being written") }
