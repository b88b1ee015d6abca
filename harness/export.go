package harness

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// ExportFormat is one way out of the store, or of a renderer.
type ExportFormat struct {
	Name   string
	Ending string
	single bool // a file a glyph
	write  func(io.Writer, glyph.Strike, []glyph.Cell) error
}

// ExportFormats are the formats that bitmaps leave in: a file a strike, or a
// file a glyph.
var ExportFormats = []ExportFormat{
	{"bdf", ".bdf", false, func(w io.Writer, s glyph.Strike, cs []glyph.Cell) error { return golden.WriteBDF(w, fontOf(s, cs)) }},
	{"xbdf", ".bdf", false, func(w io.Writer, s glyph.Strike, cs []glyph.Cell) error { return golden.WriteXBDF(w, fontOf(s, cs)) }},
	{"art", ".txt", false, func(w io.Writer, _ glyph.Strike, cs []glyph.Cell) error { return writeArt(w, cs) }},
	{"pbm", ".pbm", true, func(w io.Writer, _ glyph.Strike, cs []glyph.Cell) error { return golden.WritePBM(w, &cs[0]) }},
	{"png", ".png", true, func(w io.Writer, s glyph.Strike, cs []glyph.Cell) error { return golden.WritePNG(w, &cs[0], s.DPI) }},
}

// Write puts out the cells of a strike, or the one cell where the format is a file a
// glyph.
func (f *ExportFormat) Write(w io.Writer, s glyph.Strike, cells []glyph.Cell) error {
	if f.single && len(cells) != 1 {
		return fmt.Errorf("format %s takes one glyph, %d are selected; name it with --glyphs", f.Name, len(cells))
	}
	return f.write(w, s, cells)
}

// FindExportFormat finds a format by its name.
func FindExportFormat(name string) (*ExportFormat, error) {
	var names []string
	for i := range ExportFormats {
		if ExportFormats[i].Name == name {
			return &ExportFormats[i], nil
		}
		names = append(names, ExportFormats[i].Name)
	}
	return nil, fmt.Errorf("format %q is unknown; use %s", name, strings.Join(names, ", "))
}

// Pattern is the path that an export has where the caller gives none.
func (f *ExportFormat) Pattern() string {
	p := []string{"export", facePlace, dpiPlace, sizePlace}
	if f.single {
		p = append(p, glyphPlace)
	}
	return filepath.Join(p...) + f.Ending
}

// Export writes the goldens that the filter selects, approved or not, to paths
// made of a pattern with places {face}, {device}, {dpi}, {size} and {glyph}, or
// to one writer where the pattern is "". It gives the number of files and glyphs.
func (r *Run) Export(ctx context.Context, f *ExportFormat, pattern string, w io.Writer, put func(path string, print func(io.Writer) error) error) (files, glyphs int, err error) {
	written := map[string]string{}
	out := func(s glyph.Strike, cells []glyph.Cell) error {
		print := func(w io.Writer) error { return f.Write(w, s, cells) }
		what := fmt.Sprintf("%s %s pt %s dpi %s", s.Face, s.Size, s.DPI, s.Mode)
		if f.single {
			what += ": " + string(cells[0].Key)
		}
		if pattern == "" {
			if files++; files > 1 {
				return fmt.Errorf("%w: more than one %s leaves; give --out a pattern, as %q", ErrUsage, f.Name, f.Pattern())
			}
			glyphs = len(cells)
			return print(w)
		}
		path := fillPattern(pattern, s, cells, f.single)
		if other, twice := written[path]; twice && other == what {
			return nil // two devices of one resolution share their goldens
		} else if twice {
			return fmt.Errorf("%s: %w: both %s and %s go there; put more places into --out, as %q", path, ErrUsage, other, what, f.Pattern())
		}
		written[path] = what
		files, glyphs = files+1, glyphs+len(cells)
		return put(path, print)
	}
	for i := range r.strikes {
		s := r.strikes[i].Strike
		have, err := r.Store.Load(ctx, s)
		if err != nil {
			return files, glyphs, fmt.Errorf("%s: %w", s, err)
		}
		cells := slices.DeleteFunc(have.Cells, func(c glyph.Cell) bool { return !r.options.Filter.Glyphs.Has(c.Ref) })
		switch {
		case len(cells) == 0:
			continue
		case !f.single:
			err = out(s, cells)
		default:
			for j := range cells {
				if err = out(s, cells[j:j+1]); err != nil {
					break
				}
			}
		}
		if err != nil {
			return files, glyphs, err
		}
	}
	if files == 0 {
		return 0, 0, fmt.Errorf("%w: there are no goldens of what was selected; approve or import some first", ErrUsage)
	}
	return files, glyphs, nil
}

func fillPattern(pattern string, s glyph.Strike, cells []glyph.Cell, single bool) string {
	pairs := []string{
		facePlace, golden.FileName(s.Face), devicePlace, golden.FileName(s.Device), dpiPlace, s.DPI.String(), sizePlace, s.Size.String(),
	}
	if single {
		pairs = append(pairs, glyphPlace, golden.FileName(string(cells[0].Key)))
	}
	return strings.NewReplacer(pairs...).Replace(pattern)
}

func fontOf(s glyph.Strike, cells []glyph.Cell) *golden.Font {
	f := &golden.Font{Name: s.Face, Size: s.Size, DPI: s.DPI, Depth: 1, Cells: cells}
	if s.Mode == glyph.Grey {
		f.Depth = 8
	}
	return f
}

func writeArt(w io.Writer, cells []glyph.Cell) error {
	for i := range cells {
		if err := golden.WriteArt(w, &cells[i]); err != nil {
			return err
		}
	}
	return nil
}
