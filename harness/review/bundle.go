package review

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/sergi/go-diff/diffmatchpatch"

	"smokeproof/golden"
	"smokeproof/harness"
)

// Options tune the bundle.
type Options struct {
	// Around is what stands as approved; nil leaves ramps with gaps and words out.
	Around *harness.Surround
}

// Write writes the bundle: index.html with its data folder, summary.md,
// results.json and differences.txt. The page needs no network. Each file
// appears whole or not at all; index.html comes last.
func Write(ctx context.Context, dir string, res *harness.Results, o Options) error {
	s := layOut(res, o.Around)
	files := []bundleFile{
		{"summary.md", func(w io.Writer) error { return WriteMarkdown(w, res) }},
		{"differences.txt", func(w io.Writer) error { return writeDifferences(w, res) }},
	}
	for n := range s.files {
		files = append(files, bundleFile{dataName("plates", n), func(w io.Writer) error { return s.writePlates(w, n) }})
	}
	for n := range s.words {
		files = append(files, bundleFile{dataName("words", n), func(w io.Writer) error { return s.writeWords(w, n) }})
	}
	files = append(files, bundleFile{"index.html", func(w io.Writer) error { return writePage(w, &s.head, onDisk) }})
	if err := os.MkdirAll(filepath.Join(dir, "data"), 0o777); err != nil {
		return fmt.Errorf("bundle: %w; name another folder with --out", err)
	}
	if err := dropStale(dir, files, "data/plates-*.js", "data/words-*.js"); err != nil {
		return fmt.Errorf("bundle: %w", err)
	}
	if err := harness.WriteResults(dir, res); err != nil {
		return fmt.Errorf("bundle: %w", err)
	}
	for _, f := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := f.write(dir); err != nil {
			return fmt.Errorf("bundle: %s: %w", f.name, err)
		}
	}
	return nil
}

// dataName is the name of a data file below the bundle: numbers only, for names
// of glyphs and faces come from strangers.
func dataName(kind string, n int) string { return fmt.Sprintf("data/%s-%d.js", kind, n) }

type bundleFile struct {
	name  string // with slashes
	print func(io.Writer) error
}

// write puts a file in its place whole.
func (f bundleFile) write(dir string) error {
	return golden.WriteWhole(filepath.Join(dir, filepath.FromSlash(f.name)), f.print)
}

// dropStale removes what an earlier bundle left under these patterns and this one
// does not have.
func dropStale(dir string, files []bundleFile, patterns ...string) error {
	kept := map[string]bool{}
	for _, f := range files {
		kept[filepath.Join(dir, filepath.FromSlash(f.name))] = true
	}
	for _, pattern := range patterns {
		old, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			return err
		}
		for _, path := range old {
			if !kept[path] {
				if err := os.Remove(path); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// writeDifferences writes each change as text: the rows of the golden with '-',
// those of the candidate with '+', rows alike with a space.
func writeDifferences(w io.Writer, res *harness.Results) error {
	var b bytes.Buffer
	d := diffmatchpatch.New()
	for _, c := range worstFirst(res) {
		if c.Golden == nil || c.Candidate == nil {
			continue
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

// lined is a drawing in lines of text, its metrics first.
func lined(p *harness.Picture) string {
	return fmt.Sprintf("advance %d, left %d, bottom %d\n%s\n", p.Advance, p.Left, p.Bottom, strings.Join(rows(p), "\n"))
}
