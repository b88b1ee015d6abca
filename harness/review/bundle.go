package review

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"

	"golang.org/x/sync/errgroup"

	"smokeproof/golden"
	"smokeproof/harness"
)

// Options tune the bundle.
type Options struct {
	// Around is what stands as approved; nil leaves ramps with gaps and words out.
	Around *harness.Surround
}

// Write writes the bundle: index.html with its data folder, summary.md,
// results.json and differences.txt. Results whose changes stay in their file are read from it as they are
// written, so that a million take no gigabytes. The page needs no network. Each file
// appears whole or not at all; index.html comes last.
func Write(ctx context.Context, dir string, res *harness.Results, o Options) error {
	g, err := gistOf(res)
	if err != nil {
		return fmt.Errorf("bundle: %w", err)
	}
	s, err := layOut(g, res, o.Around)
	if err != nil {
		return fmt.Errorf("bundle: %w", err)
	}
	files := []bundleFile{
		{"summary.md", func(w io.Writer) error { return WriteMarkdown(w, g) }},
		{"differences.txt", func(w io.Writer) error { return writeDifferences(w, res, s.order) }},
	}
	for n := range s.plates() {
		files = append(files, bundleFile{dataName("plates", n), func(w io.Writer) error { return s.writePlates(w, n) }})
	}
	for n := range s.throng.rests {
		files = append(files, bundleFile{dataName("rest", n), func(w io.Writer) error { return s.writeRest(w, n) }})
	}
	for n := range s.words {
		files = append(files, bundleFile{dataName("words", n), func(w io.Writer) error { return s.writeWords(w, n) }})
	}
	if err := os.MkdirAll(filepath.Join(dir, "data"), 0o777); err != nil {
		return fmt.Errorf("bundle: %w; name another folder with --out", err)
	}
	if err := dropStale(dir, files, "data/plates-*.js", "data/rest-*.js", "data/words-*.js"); err != nil {
		return fmt.Errorf("bundle: %w", err)
	}
	if err := harness.WriteResults(dir, res); err != nil {
		return fmt.Errorf("bundle: %w", err)
	}
	if err := writeAll(ctx, dir, files); err != nil {
		return err
	}
	return writeAll(ctx, dir, []bundleFile{{"index.html", func(w io.Writer) error { return writePage(w, &s.head, onDisk) }}})
}

// writeAll writes files, several at a time: most of the work is on what they hold.
func writeAll(ctx context.Context, dir string, files []bundleFile) error {
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(runtime.GOMAXPROCS(0))
	for _, f := range files {
		g.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := f.write(dir); err != nil {
				return fmt.Errorf("bundle: %s: %w", f.name, err)
			}
			return nil
		})
	}
	return g.Wait()
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
