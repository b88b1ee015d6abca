package render

import (
	"bufio"
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// FuzzWorkerReplies reads what a worker may say: its first line, then one answer.
func FuzzWorkerReplies(f *testing.F) {
	f.Add([]byte("{\"name\":\"boxes\",\"version\":\"1\",\"settings\":\"\"}\n"+ready), false)
	f.Add([]byte("{\"name\":\"boxes\",\"version\":\"1\"}\n"+strings.Replace(ready, "SIZE 8 300 300", "SIZE 8 300 300 8", 1)), true)
	f.Add([]byte("{\"name\":\"\"}\nSTARTFONT 2.1\nENDFONT\n"), false)
	f.Fuzz(func(t *testing.T, said []byte, grey bool) {
		const limit = 1 << 16
		w := &worker{out: bufio.NewReader(bytes.NewReader(said))}
		if first, err := w.line(limit); err == nil {
			id, err := readGreeting(first)
			require.True(t, err != nil || id.Name != "")
		}
		doc, err := w.document(limit)
		if err != nil {
			return
		}
		require.LessOrEqual(t, len(doc), limit)
		job := jobOf("A", "B", "unasked")
		job.Glyphs[1].Code = 'B'
		if grey {
			job.Strike.Mode = glyph.Grey
		}
		strict, err := readAnswer(doc, job, job.Glyphs[:2], true)
		if err == nil {
			holdAnswer(t, job, strict)
		}
		lenient, err := readAnswer(doc, job, job.Glyphs[:2], false)
		if err == nil {
			holdAnswer(t, job, lenient)
		}
		require.True(t, strict == nil || lenient != nil, "what a strict reading takes a lenient one does too")
	})
}

// holdAnswer asks of cells that they are of glyphs that were asked for, and that
// they can be stored as they are.
func holdAnswer(t *testing.T, job *Job, cells map[glyph.Key]glyph.Cell) {
	for key, c := range cells {
		require.Equal(t, key, c.Key)
		require.Contains(t, job.Glyphs[:2], c.Ref)
		require.Equal(t, c.Bitmap.Tight(), c.Bitmap)
		var doc bytes.Buffer
		require.NoError(t, golden.WriteBDF(&doc, &golden.Font{Name: "f", Size: job.Strike.Size, DPI: job.Strike.DPI, Depth: c.Bitmap.Depth, Cells: []glyph.Cell{c}}))
		again, err := golden.ReadBDF(&doc)
		require.NoError(t, err)
		require.Equal(t, c.Digest(), again.Cells[0].Digest())
	}
}
