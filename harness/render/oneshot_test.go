package render

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
)

// ready is a BDF document as a foreign program might print it: its names are
// its own, and it knows more glyphs than anybody asked for.
const ready = `STARTFONT 2.1
FONT ready
SIZE 8 300 300
FONTBOUNDINGBOX 2 1 0 0
CHARS 3
STARTCHAR A
ENCODING 65
SWIDTH 500 0
DWIDTH 3 0
BBX 2 1 1 0
BITMAP
C0
ENDCHAR
STARTCHAR latin_b
ENCODING 66
SWIDTH 500 0
DWIDTH 4 0
BBX 1 1 0 0
BITMAP
80
ENDCHAR
STARTCHAR unasked
ENCODING 67
SWIDTH 500 0
DWIDTH 5 0
BBX 1 1 0 0
BITMAP
80
ENDCHAR
ENDFONT
`

func TestAOneShotCommandIsReadLeniently(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a; exit 1 $(font) 'x.bdf")
	require.NoError(t, os.WriteFile(path, []byte(ready), 0o600))
	job := jobOf("A", "B", "missing")
	job.Font, job.Glyphs[1].Code = path, 'B'

	out := drawAll(t, NewProcess(ProcessOptions{Command: []string{"cat", "{font}"}, Workers: 1}), job)
	require.NoError(t, out[0].Err, "a glyph known by its key, though the path would upset a shell")
	require.Equal(t, 2, out[0].Cell.Bitmap.Ink())
	require.Equal(t, 3, out[0].Cell.Advance)
	require.NoError(t, out[1].Err, "a glyph known by its code point alone")
	require.Equal(t, 4, out[1].Cell.Advance)
	require.ErrorContains(t, out[2].Err, "left this glyph out", "a glyph that is not there")
}

func TestAOneShotCommandThatFailsCostsItsStrike(t *testing.T) {
	tests := []struct {
		command      []string
		says, reason string
	}{
		{[]string{"cat", "{font}"}, "exit status 1", "a command that fails, with its words"},
		{[]string{"cat", "{font}"}, "none.ttf: No such file", "its words are quoted"},
		{[]string{"echo", "{font}"}, "nonsense", "a command that prints no BDF"},
		{[]string{"tail", "-f", "/dev/null", "{font}"}, "no answer within", "a command that hangs"},
		{[]string{"yes", "{font}"}, "longer than allowed", "a command that never stops"},
	}
	for _, tt := range tests {
		p := NewProcess(ProcessOptions{Command: tt.command, Workers: 1, Timeout: time.Second, Limit: 1 << 16})
		for _, d := range drawAll(t, p, jobOf("A", "B")) {
			require.ErrorContains(t, d.Err, tt.says, tt.reason)
		}
	}
}

func TestPlacesAreFilledWithinArguments(t *testing.T) {
	job := jobOf("A", "B")
	job.Index, job.Strike.Size, job.Strike.DPI = 2, 7500, glyph.Resolution{X: 203200, Y: 406400}
	got := fillPlaces([]string{"draw", "--font={font}", "{index}", "{size}", "{xdpi}x{ydpi}", "{dpi}", "{glyphs}"}, job, job.Glyphs)
	require.Equal(t, []string{"draw", "--font=none.ttf", "2", "7.5", "203.2x406.4", "203.2,406.4", "0,1"}, got)
	job.Strike.DPI = glyph.Dots(300)
	require.Equal(t, []string{"300"}, fillPlaces([]string{"{dpi}"}, job, job.Glyphs), "a square device has one number")
	require.NoError(t, CheckCommand([]string{"sh", "-c", "x \"${dpi}\" \"$1\"", "sh", "{font}"}), "a shell's own words are no places")
	require.NoError(t, CheckCommand([]string{"awk", "-f", "w", "{print}"}), "nor are braces in a worker's command")
}

func TestAOneShotCommandIsNamedByItsFile(t *testing.T) {
	id, err := NewProcess(ProcessOptions{Command: []string{"cat", "{font}"}}).Identity(t.Context())
	require.NoError(t, err)
	require.Equal(t, "cat", id.Name)
	require.Regexp(t, "^sha256:[0-9a-f]{16}$", id.Version)
	require.Equal(t, "arguments={font}", id.Settings)

	_, err = NewProcess(ProcessOptions{Command: []string{"no-such-program", "{font}"}}).Identity(t.Context())
	require.ErrorContains(t, err, "not found")
}
