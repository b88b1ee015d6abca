package raster

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// Processors without AVX2 draw the same.
func TestSheetsWithoutVectors(t *testing.T) {
	require.True(t, vectors || os.Getenv("CI") != "true", "in CI the other tests must try the vectors")
	defer func(v bool) { vectors = v }(vectors)
	vectors = false
	TestSheetsDrawWhatEdgesInOrderDraw(t)
}
