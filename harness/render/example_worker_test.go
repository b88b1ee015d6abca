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
