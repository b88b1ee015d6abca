package harness

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// ExportFormat is a format in which goldens are exported, or candidates drawn.
type ExportFormat struct {
	Name   string
	Ending string
	single bool // a file a glyph
	write  func(io.Writer, glyph.Strike, []glyph.Cell) error
}

// ExportFormats are the formats in which bitmaps are exported: some have one file for
// each strike, others one for each glyph.
var ExportFormats = []ExportFormat{
	{"bdf", ".bdf", false, func(w io.Writer, s glyph.Strike, cs []glyph.Cell) error { return golden.WriteBDF(w, fontOf(s, cs)) }},
	{"xbdf", ".bdf", false, func(w io.Writer, s glyph.Strike, cs []glyph.Cell) error { return golden.WriteXBDF(w, fontOf(s, cs)) }},
	{"art", ".txt", false, func(w io.Writer, _ glyph.Strike, cs []glyph.Cell) error { return writeArt(w, cs) }},
	{"pbm", ".pbm", true, func(w io.Writer, _ glyph.Strike, cs []glyph.Cell) error { return golden.WritePBM(w, &cs[0]) }},
	{"png", ".png", true, func(w io.Writer, s glyph.Strike, cs []glyph.Cell) error { return golden.WritePNG(w, &cs[0], s.DPI) }},
}

// Write writes the cells of a strike; there must be exactly one where the format has a
// file for each glyph.
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

// Pattern is the path of an export for which the caller gives none, see [Run.Export].
func (f *ExportFormat) Pattern() string {
	p := []string{"export", facePlace, dpiPlace, sizePlace}
	if f.single {
		p = append(p, glyphPlace)
	}
	return filepath.Join(p...) + f.Ending
}

// Export writes the goldens that the filter selects, approved or not. put writes each
// file, at a path that is pattern with its places {face}, {device}, {dpi}, {size} and
// {glyph} filled in; where pattern is "", the one file goes to w. It returns the number of
// files and of glyphs. Goldens are read twice: two that would go to one file are refused
// before anything is written, and only one strike at a time is in memory.
func (r *Run) Export(ctx context.Context, f *ExportFormat, pattern string, w io.Writer, put func(path string, print func(io.Writer) error) error) (files, glyphs int, err error) {
	if err := f.checkPattern(pattern); err != nil {
		return 0, 0, err
	}
	holds := map[string]string{} // by path
	err = r.leaving(ctx, f, func(s glyph.Strike, cells []glyph.Cell) error {
		what := fmt.Sprintf("%s %s pt %s dpi %s", s.Face, s.Size, s.DPI, s.Mode)
		if f.single {
			what += ": " + string(cells[0].Key)
		}
		path := f.path(pattern, s, cells)
		switch other, twice := holds[path]; {
		case !twice:
			holds[path] = what
		case pattern == "":
			return fmt.Errorf("%w: more than one %s leaves; give --out a pattern, as %q", ErrUsage, f.Name, f.Pattern())
		case other != what: // two devices of one resolution share their goldens
			return fmt.Errorf("%s: %w: both %s and %s go there; put more places into --out, as %q", path, ErrUsage, other, what, f.Pattern())
		}
		return nil
	})
	if err == nil && len(holds) == 0 {
		err = fmt.Errorf("%w: there are no goldens of what was selected; approve or import some first", ErrUsage)
	}
	if err != nil {
		return 0, 0, err
	}
	err = r.leaving(ctx, f, func(s glyph.Strike, cells []glyph.Cell) error {
		path := f.path(pattern, s, cells)
		if _, left := holds[path]; !left {
			return nil // written for another device
		}
		delete(holds, path)
		files, glyphs = files+1, glyphs+len(cells)
		print := func(w io.Writer) error { return f.Write(w, s, cells) }
		if pattern == "" {
			return print(w)
		}
		return put(path, print)
	})
	return files, glyphs, err
}

// leaving hands on the goldens of each file that a format makes.
func (r *Run) leaving(ctx context.Context, f *ExportFormat, yield func(glyph.Strike, []glyph.Cell) error) error {
	for i := range r.strikes {
		s := r.strikes[i].Strike
		have, err := r.Store.Load(ctx, s)
		if err != nil {
			return fmt.Errorf("%s: %w", s, err)
		}
		cells := slices.DeleteFunc(have.Cells, func(c glyph.Cell) bool { return !r.options.Filter.Glyphs.Has(c.Ref) })
		each := len(cells)
		if f.single {
			each = 1
		}
		for file := range slices.Chunk(cells, max(each, 1)) {
			if err := yield(s, file); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkPattern refuses places that nothing would be put into.
func (f *ExportFormat) checkPattern(pattern string) error {
	known := []string{facePlace, devicePlace, dpiPlace, sizePlace}
	if f.single {
		known = append(known, glyphPlace)
	}
	for _, p := range patternPlace.FindAllString(pattern, -1) {
		if !slices.Contains(known, p) {
			return fmt.Errorf("%s: %w: a file of %s has no place %s; the places are %s", pattern, ErrUsage, f.Name, p, strings.Join(known, " "))
		}
	}
	return nil
}

var patternPlace = regexp.MustCompile(`\{[a-zA-Z]+\}`)

// path is where a file of some cells goes.
func (f *ExportFormat) path(pattern string, s glyph.Strike, cells []glyph.Cell) string {
	pairs := []string{
		facePlace, golden.FileName(s.Face), devicePlace, golden.FileName(s.Device), dpiPlace, s.DPI.String(), sizePlace, s.Size.String(),
	}
	if f.single {
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
