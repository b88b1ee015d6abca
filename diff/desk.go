package diff

// desk is a judge's working memory, kept from one pair to the next.
type desk struct {
	pair, tried [2][]uint8 // coverage of the pair at hand, and of a shift tried
	transposed  []uint8
	rest        []uint8
	weights     []float64
	claimed     []bool
	label       []int32 // which edit a pixel is of, from 1
	columns     []tensor
	tensors     [2][]tensor // of a row of either side

	stack []int
	saved []uint8

	lines        []line   // see plane.join
	joined       []int32  // each part of ink or white to the one it was found to be of; roots to themselves
	sizes, found []int    // of each root: its pixels, its place among the parts from 1
	partPixels   [2][]int // the pixels of either side, part by part

	segments []segment // of the outline at hand
	ends     []int     // of its contours

	ways, clear, runs, back []uint8 // see plane.waysOut
	edges                   []outlineEdge
}

// cleared gives n zeros in a buffer that grows as need be.
func cleared[T any](buf *[]T, n int) []T {
	if cap(*buf) < n {
		*buf = make([]T, n, n+n/2)
	}
	*buf = (*buf)[:n]
	clear(*buf)
	return *buf
}
