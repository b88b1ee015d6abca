package harness

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

type planFileDevice struct {
	Name      string
	DPI       any `toml:"dpi"`
	DotsPerMM any `toml:"dots_per_mm"`
	Mode      string
	Fill      string
	Sideways  bool
	Renderer  string
	Command   []string
	Sizes     []any
}

func (r *planReader) device(i int, f *planFileDevice, names map[string]bool) Device {
	at := func(k string) string { return fmt.Sprintf("device[%d].%s", i, k) }
	out := Device{Name: f.Name, Renderer: "built-in", Command: f.Command, Sideways: f.Sideways}
	r.name(at("name"), "device", f.Name, names)
	out.DPI = r.resolution(at, f)
	var err error
	if f.Mode != "" {
		if out.Mode, err = glyph.ParseMode(f.Mode); err != nil {
			r.fail(at("mode"), "%v", err)
		}
	}
	if f.Fill != "" {
		if out.Fill, err = glyph.ParseFill(f.Fill); err != nil {
			r.fail(at("fill"), "%v", err)
		}
	}
	if f.Renderer != "" {
		out.Renderer = f.Renderer
	}
	r.renderer(at, &out)
	if len(f.Sizes) == 0 {
		r.fail(at("sizes"), "device %q has no sizes; add sizes = [8, 10]", f.Name)
	}
	if len(f.Sizes) > maxSizes {
		r.fail(at("sizes"), "device %q has %d sizes, the limit is %d; make it two devices", f.Name, len(f.Sizes), maxSizes)
		return out
	}
	for _, v := range f.Sizes {
		s, err := glyph.ParsePoints(number(v))
		if err != nil {
			r.fail(at("sizes"), "%v", err)
		} else if slices.Contains(out.Sizes, s) {
			r.fail(at("sizes"), "size %s is listed twice", s)
		}
		out.Sizes = append(out.Sizes, s)
	}
	return out
}

// sharing refuses the last device where it has goldens in common with another and our own
// renderer is to draw both, each in another way: one of them would always differ.
func (r *planReader) sharing(devices []Device) {
	last := len(devices) - 1
	d := &devices[last]
	for i := range devices[:last] {
		o := &devices[i]
		ours := d.Renderer == "built-in" && o.Renderer == "built-in"
		alike := d.Fill == o.Fill && d.Sideways == o.Sideways
		if !ours || alike || d.DPI != o.DPI || d.Mode != o.Mode {
			continue
		}
		if at := slices.IndexFunc(d.Sizes, func(s glyph.Points) bool { return slices.Contains(o.Sizes, s) }); at >= 0 {
			key := "fill"
			if d.Fill == o.Fill {
				key = "sideways"
			}
			r.fail(fmt.Sprintf("device[%d].%s", last, key), "devices %q and %q share their goldens of %s pt and differ in %s, so one would never pass; put one into a plan with a golden folder of its own",
				o.Name, d.Name, d.Sizes[at], key)
		}
	}
}

func (r *planReader) renderer(at func(string) string, d *Device) {
	if d.Sideways && (d.Renderer != "built-in" || d.Mode != glyph.Bilevel) {
		r.fail(at("sideways"), "sideways is for the built-in renderer on bilevel devices; remove it from device %q", d.Name)
	}
	switch d.Renderer {
	case "built-in":
		if len(d.Command) > 0 {
			r.fail(at("command"), "device %q has a command but renderer = \"built-in\"; say renderer = \"process\"", d.Name)
		}
	case "freetype":
		if len(d.Command) == 0 {
			d.Command = []string{freeTypeWorker()}
		}
	case "process":
		if len(d.Command) == 0 {
			r.fail(at("renderer"), "device %q has renderer = \"process\" but no command; add command = [\"…\"]", d.Name)
		}
		if err := render.CheckCommand(d.Command); err != nil {
			r.fail(at("command"), "device %q: %v", d.Name, err)
		}
	default:
		r.fail(at("renderer"), "renderer %q is unknown; use \"built-in\", \"freetype\" or \"process\"", d.Renderer)
	}
	if d.Renderer != "built-in" && d.Fill != glyph.Center {
		r.fail(at("fill"), "fill %q is not supported by a process renderer in this plan; remove it", d.Fill)
	}
}

// freeTypeWorker is the worker beside this program, where make puts it, else
// the one that PATH finds.
func freeTypeWorker() string {
	const name = "smokeproof-freetype"
	if self, err := os.Executable(); err == nil {
		if beside := filepath.Join(filepath.Dir(self), name); exists(beside) {
			return beside
		}
	}
	return name
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

func (r *planReader) resolution(at func(string) string, f *planFileDevice) glyph.Resolution {
	key, v := "dpi", f.DPI
	if f.DotsPerMM != nil {
		if f.DPI != nil {
			r.fail(at("dots_per_mm"), "device %q gives both dpi and dots_per_mm; keep one", f.Name)
		}
		key, v = "dots_per_mm", f.DotsPerMM
	}
	if v == nil {
		r.fail(at("dpi"), "device %q has no resolution; add dpi or dots_per_mm", f.Name)
		return glyph.Dots(1)
	}
	res, err := glyph.ParseResolution(number(v))
	if err == nil && key == "dots_per_mm" {
		if res.X, err = glyph.PerMM(int(res.X)); err == nil {
			res.Y, err = glyph.PerMM(int(res.Y))
		}
	}
	if err != nil {
		r.fail(at(key), "%v", err)
		return glyph.Dots(1)
	}
	return res
}
