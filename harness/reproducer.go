package harness

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"

	"smokeproof/harness/render"
)

// KeepReproducers makes the run write a folder for every glyph that the
// built-in renderer breaks down on: the font, a plan of that glyph alone, and
// what happened. The folder dir is made when it is first needed.
func (r *Run) KeepReproducers(dir string) { r.reproducers = dir }

func (r *Run) keepReproducers(s *StrikeJob, drawn []render.Drawn) error {
	if r.reproducers == "" {
		return nil
	}
	for i := range drawn {
		var b *render.Breakdown
		if errors.As(drawn[i].Err, &b) {
			if err := r.keepReproducer(s, &drawn[i], b); err != nil {
				return fmt.Errorf("%s: glyph %q broke the renderer, and its reproducer cannot be kept: %w", s.Strike, drawn[i].Cell.Key, err)
			}
		}
	}
	return nil
}

// keepReproducer names nothing after the face or the glyph: those names are
// the font's and the plan's, and may be anything.
func (r *Run) keepReproducer(s *StrikeJob, d *render.Drawn, b *render.Breakdown) error {
	id := sha256.Sum256(fmt.Appendf(nil, "%s\x00%s\x00%d", s.Face.File, s.Strike, d.Cell.Index))
	dir := filepath.Join(r.reproducers, fmt.Sprintf("%x", id[:6]))
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	font, err := os.ReadFile(s.Face.File)
	if err != nil {
		return err
	}
	plan := fmt.Sprintf("[[face]]\nname = \"face\"\nfile = \"font\"\nindex = %d\nglyphs = \"#%d\"\n\n[[device]]\nname = \"device\"\ndpi = \"%s,%s\"\nmode = %q\nfill = %q\nsizes = [%s]\n",
		s.Face.Index, d.Cell.Index, s.Strike.DPI.X, s.Strike.DPI.Y, s.Strike.Mode, s.Device.Fill, s.Strike.Size)
	what := fmt.Sprintf("strike   %q\nglyph    %q, index %d\nrenderer %s\nbuild    %s\ncause    %s\n\nSee it again in this folder: smokeproof draw --plan %s\n\n%s",
		s.Strike.String(), d.Cell.Key, d.Cell.Index, r.devices[s.Device.Name].id, build(), b.Cause, PlanName, b.Stack)
	for name, data := range map[string][]byte{"font": font, PlanName: []byte(plan), "what.txt": []byte(what)} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o666); err != nil {
			return err
		}
	}
	return nil
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
