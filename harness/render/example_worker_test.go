package render

import (
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

func TestTheExampleWorkerDrawsBoxes(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		missing(t, "python3 is not installed")
	}
	p := NewProcess(ProcessOptions{Command: []string{python, "../../fixtures/workers/boxes.py"}, Workers: 1})
	t.Cleanup(func() { require.NoError(t, p.Close()) })

	id, err := p.Identity(t.Context())
	require.NoError(t, err)
	require.Equal(t, glyph.Identity{Name: "boxes", Version: "1"}, id)

	// 8 pt at 300 dpi is 33.3 ppem, so a box of 14 by 23 pixels.
	for _, d := range drawAll(t, p, jobOf("A", "odd name %", "#17")) {
		require.NoError(t, d.Err)
		b := d.Cell.Bitmap
		require.Equal(t, [4]int{14, 23, 1, 0}, [4]int{b.Width, b.Height, b.Left, b.Bottom})
		require.Equal(t, 2*14+2*21, b.Ink(), "the frame of the box and nothing inside")
		require.Equal(t, 16, d.Cell.Advance)
	}
}

// Ghostscript's own raster is no reference for ours; what must hold is that
// glyph, origin and size come through the adapter unharmed.
func TestTheGhostscriptWorkerDrawsGlyphsInTheirPlace(t *testing.T) {
	for _, program := range []string{"python3", "gs"} {
		if _, err := exec.LookPath(program); err != nil {
			missing(t, program+" is not installed")
		}
	}
	job := jobOf("H", "space", "#3")
	job.Font = fontFile(t, "dejavu/DejaVuSans.ttf")
	p := NewProcess(ProcessOptions{Command: []string{"python3", "../../fixtures/workers/ghostscript.py"}, Workers: 1})
	t.Cleanup(func() { require.NoError(t, p.Close()) })

	out := drawAll(t, p, job)
	require.NoError(t, out[0].Err)
	h := out[0].Cell
	require.Equal(t, 0, h.Bitmap.Bottom, "H stands on the baseline")
	require.InDelta(t, 1493*33.333/2048, h.Bitmap.Height, 1, "cap height is 1493 units of 2048")
	require.InDelta(t, 201*33.333/2048, h.Bitmap.Left, 1, "left bearing is 201 units")
	require.Equal(t, 25, h.Advance, "1540 units are 25.06 pixels")
	require.NoError(t, out[1].Err)
	require.Zero(t, out[1].Cell.Bitmap.Ink(), "a space is drawn, without ink")
	require.ErrorContains(t, out[2].Err, "left this glyph out", "a glyph without a name cannot be shown by name")
}
