package harness

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
	"smokeproof/harness/infile"
	"smokeproof/harness/render"
)

// KeepReproducers makes the run write a folder for every glyph that the built-in
// renderer or the judgement breaks down on: the font, a plan of that glyph alone,
// what was judged, and what happened. The folder dir is made when it is first needed.
func (r *Run) KeepReproducers(dir string) { r.reproducers = dir }

// Reproducers is how many folders this run has kept.
func (r *Run) Reproducers() int { return int(r.kept.Load()) }

// keepReproducer keeps a glyph whose drawing or judgement failed because this
// program broke down, and no other. Nothing is named after the face or the glyph:
// those names are the font's and the plan's, and may be anything.
func (r *Run) keepReproducer(s *StrikeJob, d *render.Drawn, g *glyph.Cell) error {
	var b *render.Breakdown
	if r.reproducers == "" || !errors.As(d.Err, &b) {
		return nil
	}
	id := sha256.Sum256(fmt.Appendf(nil, "%s\x00%s\x00%d", s.Face.File, s.Strike, d.Cell.Index))
	dir := filepath.Join(r.reproducers, fmt.Sprintf("%x", id[:6]))
	err := os.MkdirAll(dir, 0o777)
	for name, data := range r.reproducer(s, d, g, b) {
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), data, 0o666)
		}
	}
	if err != nil {
		return fmt.Errorf("%s: glyph %q broke this program, and its reproducer cannot be kept: %w", s.Strike, d.Cell.Key, err)
	}
	r.kept.Add(1)
	return nil
}

// reproducer gives the files of a folder; of a judgement, golden and candidate too.
func (r *Run) reproducer(s *StrikeJob, d *render.Drawn, g *glyph.Cell, b *render.Breakdown) map[string][]byte {
	files := map[string][]byte{PlanName: fmt.Appendf(nil, "[[face]]\nname = \"face\"\nfile = \"font\"\nindex = %d\nglyphs = \"#%d\"\n\n[[device]]\nname = \"device\"\ndpi = \"%s,%s\"\nmode = %q\nfill = %q\nsideways = %t\nsizes = [%s]\n",
		s.Face.Index, d.Cell.Index, s.Strike.DPI.X, s.Strike.DPI.Y, s.Strike.Mode, s.Device.Fill, s.Device.Sideways, s.Strike.Size)}
	if font, err := infile.Read(s.Face.File, maxSource); err == nil { // it was read before; the rest stands without it
		files["font"] = font
	}
	again := "draw --plan " + PlanName
	if g != nil {
		again = fmt.Sprintf("compare golden.bdf candidate.bdf --font font --index %d", s.Face.Index)
		for name, c := range map[string]*glyph.Cell{"golden.bdf": g, "candidate.bdf": &d.Cell} {
			var doc bytes.Buffer
			if golden.WriteBDF(&doc, &golden.Font{Name: "reproducer", Size: s.Strike.Size, DPI: s.Strike.DPI, Depth: c.Bitmap.Depth, Cells: []glyph.Cell{*c}}) == nil {
				files[name] = doc.Bytes()
			}
		}
	}
	files["what.txt"] = fmt.Appendf(nil, "strike   %q\nglyph    %q, index %d\nrenderer %s\nbuild    %s\ncause    %q\n\nSee it again in this folder: smokeproof %s\n\n%s",
		s.Strike.String(), d.Cell.Key, d.Cell.Index, r.devices[s.Device.Name].id, build(), b.Cause, again, b.Stack)
	return files
}

// build is the module, version and revision of this program, as far as it knows.
func build() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	s := info.Main.Path + " " + info.Main.Version + ", " + info.GoVersion
	for _, setting := range info.Settings {
		if setting.Key == "vcs.revision" {
			s += ", " + setting.Value
		}
	}
	return s
}
