package review

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/sergi/go-diff/diffmatchpatch"

	"smokeproof/harness"
)

// writeDifferences writes each change as text, worst first: the rows of the golden with '-',
// those of the candidate with '+', rows alike with a space. Of a glyph that has one side alone,
// all rows bear its sign; one that has neither is a heading.
func writeDifferences(w io.Writer, res *harness.Results, order []ranked) error {
	var b bytes.Buffer
	d := diffmatchpatch.New()
	for i := range order {
		c, err := res.At(order[i].spot)
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "%s, %s: %s\n", plain(c.Glyph), strikeOf(c), headline(c))
		x, y, lines := d.DiffLinesToChars(lined(c.Golden), lined(c.Candidate))
		for _, part := range d.DiffCharsToLines(d.DiffMain(x, y, false), lines) {
			sign := map[diffmatchpatch.Operation]string{diffmatchpatch.DiffDelete: "-", diffmatchpatch.DiffInsert: "+", diffmatchpatch.DiffEqual: " "}[part.Type]
			for _, line := range strings.Split(strings.TrimSuffix(part.Text, "\n"), "\n") {
				fmt.Fprintf(&b, "%s %s\n", sign, line)
			}
		}
		fmt.Fprintln(&b)
		if _, err := b.WriteTo(w); err != nil {
			return err
		}
	}
	return nil
}

// lined is a drawing in lines of text, its metrics first; "" where there is none.
func lined(p *harness.Picture) string {
	if p == nil {
		return ""
	}
	return fmt.Sprintf("advance %d, left %d, bottom %d\n%s\n", p.Advance, p.Left, p.Bottom, strings.Join(rows(p), "\n"))
}
