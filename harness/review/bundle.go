package review

import (
	"bytes"
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/sergi/go-diff/diffmatchpatch"

	"smokeproof/harness"
)

//go:embed page.html
var pageHTML string

//go:embed page.css
var pageCSS string

//go:embed page.js
var pageJS string

// Options tune the bundle.
type Options struct{}

// Write writes the bundle: index.html, summary.md, results.json and
// differences.txt. The page needs no network and nothing beside it. Each file
// appears whole or not at all.
func Write(ctx context.Context, dir string, res *harness.Results, _ Options) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return fmt.Errorf("bundle: %w", err)
	}
	files := []struct {
		name  string
		print func(io.Writer, *harness.Results) error
	}{
		{"results.json", writeResults}, {"summary.md", WriteMarkdown},
		{"differences.txt", writeDifferences}, {"index.html", writePage},
	}
	for _, f := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		var b bytes.Buffer
		if err := f.print(&b, res); err != nil {
			return fmt.Errorf("bundle: %s: %w", f.name, err)
		}
		aside := filepath.Join(dir, ".new-"+f.name)
		if err := os.WriteFile(aside, b.Bytes(), 0o666); err != nil {
			return fmt.Errorf("bundle: %w", err)
		}
		if err := os.Rename(aside, filepath.Join(dir, f.name)); err != nil {
			return fmt.Errorf("bundle: %w", err)
		}
	}
	return nil
}

func writeResults(w io.Writer, res *harness.Results) error { return json.NewEncoder(w).Encode(res) }

// writePage puts style, script and data into the page and lets the browser run
// nothing else: the policy names the digest of each.
func writePage(w io.Writer, res *harness.Results) error {
	// json.Marshal escapes <, > and &, so no name can end the data element.
	data, err := json.Marshal(struct {
		Changes []*harness.Change `json:"changes"`
		Summary harness.Summary   `json:"summary"`
		Gate    string            `json:"gate"`
	}{worstFirst(res), res.Summary, res.Gate})
	if err != nil {
		return err
	}
	policy := fmt.Sprintf("default-src 'none'; style-src '%s'; script-src '%s'; base-uri 'none'; form-action 'none'", digest(pageCSS), digest(pageJS))
	page := strings.NewReplacer("{{policy}}", policy, "{{style}}", pageCSS, "{{script}}", pageJS, "{{data}}", string(data)).Replace(pageHTML)
	_, err = io.WriteString(w, page)
	return err
}

func digest(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// writeDifferences writes each change as text: the rows of the golden with '-',
// those of the candidate with '+', rows alike with a space.
func writeDifferences(w io.Writer, res *harness.Results) error {
	d := diffmatchpatch.New()
	for _, c := range worstFirst(res) {
		if c.Golden == nil || c.Candidate == nil {
			continue
		}
		fmt.Fprintf(w, "%s, %s: %s\n", plain(c.Glyph), strikeOf(c), headline(c))
		a, b, lines := d.DiffLinesToChars(metrics(c.Golden), metrics(c.Candidate))
		for _, part := range d.DiffCharsToLines(d.DiffMain(a, b, false), lines) {
			sign := map[diffmatchpatch.Operation]string{diffmatchpatch.DiffDelete: "-", diffmatchpatch.DiffInsert: "+", diffmatchpatch.DiffEqual: " "}[part.Type]
			for _, line := range strings.Split(strings.TrimSuffix(part.Text, "\n"), "\n") {
				fmt.Fprintf(w, "%s %s\n", sign, line)
			}
		}
		fmt.Fprintln(w)
	}
	return nil
}

func metrics(p *harness.Picture) string {
	return fmt.Sprintf("advance %d, left %d, bottom %d\n%s\n", p.Advance, p.Left, p.Bottom, strings.Join(rows(p), "\n"))
}
