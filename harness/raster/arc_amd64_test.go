package raster

import "testing"

// Processors without AVX2 draw the same.
func TestSheetsWithoutVectors(t *testing.T) {
	defer func(v bool) { vectors = v }(vectors)
	vectors = false
	TestSheetsDrawWhatEdgesInOrderDraw(t)
}
