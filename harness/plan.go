package harness

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
	"smokeproof/harness/infile"
)

// PlanName is the name under which a plan is looked for, searched upward.
const PlanName = "smokeproof.toml"

// DefaultDistanceMM is the reading distance where a plan gives none: the middle
// of the 30 to 50 cm that print guidance names.
const DefaultDistanceMM = 400

// Limits on a plan, for plans of strangers.
const (
	maxPlan  = 4 << 20 // bytes: some 40,000 faces
	maxSizes = 1000    // of a device; each stands for a strike of every face
)

// Plan lists what is held against the goldens: faces × devices × sizes.
type Plan struct {
	Path       string // of the plan file
	Gate       diff.Severity
	DistanceMM float64
	Goldens    string // folder of approved bitmaps
	Gzip       bool   // keep goldens as .bdf.gz
	Faces      []PlanFace
	Devices    []Device
}

// PlanFace is one font file under test.
type PlanFace struct {
	Name   string
	File   string // resolved against the plan's folder
	Rel    string // as the plan writes it
	Index  int    // face within a collection
	Glyphs Selection
	line   int
}

// Device is a named output and what draws for it.
type Device struct {
	Name     string
	DPI      glyph.Resolution
	Mode     glyph.Mode
	Fill     glyph.Fill
	Sideways bool     // PostScript glyphs may move in their cells by less than a pixel
	Renderer string   // "built-in", or "process"
	Command  []string // of a process renderer
	Sizes    []glyph.Points
}

// PlanErrors is every fault of a plan, each one line with file and line number.
type PlanErrors []error

func (e PlanErrors) Error() string { return errors.Join(e...).Error() }

// Unwrap lets errors.Is look into each.
func (e PlanErrors) Unwrap() []error { return e }

// planFile is the plan as TOML spells it.
type planFile struct {
	Gate    struct{ Severity string }
	Reading struct {
		DistanceMM float64 `toml:"distance_mm"`
	}
	Golden struct {
		Folder string
		Gzip   bool
	}
	Face   []planFileFace
	Device []planFileDevice
}

type planFileFace struct {
	Name, File string
	Index      int
	Glyphs     any
}

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

// FindPlan looks for a plan in dir and then upward.
func FindPlan(dir string) (string, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	for d := dir; ; d = filepath.Dir(d) {
		p := filepath.Join(d, PlanName)
		if _, err := os.Stat(p); err == nil {
			return p, nil
		}
		if d == filepath.Dir(d) {
			return "", fmt.Errorf("no %s in %s or above it; write one with init", PlanName, dir)
		}
	}
}

// LoadPlan reads and checks a plan. Its error is a PlanErrors where the file
// could be read at all.
func LoadPlan(path string) (*Plan, error) {
	data, err := infile.Read(path, maxPlan)
	if err != nil {
		return nil, fmt.Errorf("plan: %w; name one with --plan", err)
	}
	return ParsePlan(path, data)
}

// ParsePlan checks a plan's text; path places its relative files and its errors.
func ParsePlan(path string, data []byte) (*Plan, error) {
	var f planFile
	dec := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields()
	if err := dec.Decode(&f); err != nil {
		return nil, tomlErrors(path, err)
	}
	r := planReader{path: path, lines: lineIndex(data)}
	p := r.plan(&f)
	if len(r.errs) > 0 {
		return nil, r.errs
	}
	return p, nil
}

// tomlErrors gives the TOML reader's faults our one-line form.
func tomlErrors(path string, err error) error {
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) {
		var all PlanErrors
		for _, e := range strict.Errors {
			row, _ := e.Position()
			all = append(all, fmt.Errorf("%s:%d: unknown key %q; remove it or correct its spelling", path, row, strings.Join(e.Key(), ".")))
		}
		return all
	}
	var de *toml.DecodeError
	if errors.As(err, &de) {
		row, col := de.Position()
		return PlanErrors{fmt.Errorf("%s:%d:%d: %s; correct the plan", path, row, col, strings.TrimPrefix(de.Error(), "toml: "))}
	}
	return PlanErrors{fmt.Errorf("%s: %v; correct the plan", path, err)}
}

// planReader turns TOML values into a Plan and gathers every fault.
type planReader struct {
	path  string
	lines map[string]int
	errs  PlanErrors
}

func (r *planReader) fail(key, format string, args ...any) {
	line := r.lines[key]
	for line == 0 && strings.Contains(key, ".") {
		key = key[:strings.LastIndex(key, ".")]
		line = r.lines[key]
	}
	r.errs = append(r.errs, fmt.Errorf("%s:%d: %s", r.path, max(line, 1), fmt.Sprintf(format, args...)))
}

func (r *planReader) plan(f *planFile) *Plan {
	dir := filepath.Dir(r.path)
	p := &Plan{Path: r.path, Gate: diff.Major, DistanceMM: DefaultDistanceMM, Gzip: f.Golden.Gzip}
	if f.Gate.Severity != "" {
		g, err := diff.ParseSeverity(f.Gate.Severity)
		if err != nil {
			r.fail("gate.severity", "%v", err)
		}
		p.Gate = g
	}
	if d := f.Reading.DistanceMM; d != 0 {
		if d < 50 || d > 10000 {
			r.fail("reading.distance_mm", "reading distance %g mm is out of range (50 to 10000)", d)
		}
		p.DistanceMM = d
	}
	p.Goldens = filepath.Join(dir, "golden")
	if f.Golden.Folder != "" {
		p.Goldens = resolve(dir, f.Golden.Folder)
	}
	names := map[string]bool{}
	for i := range f.Face {
		p.Faces = append(p.Faces, r.face(dir, i, &f.Face[i], names))
	}
	names = map[string]bool{}
	for i := range f.Device {
		p.Devices = append(p.Devices, r.device(i, &f.Device[i], names))
	}
	if len(p.Faces) == 0 {
		r.fail("", "no [[face]]; name at least one font file")
	}
	if len(p.Devices) == 0 {
		r.fail("", "no [[device]]; name at least one output")
	}
	return p
}

func (r *planReader) face(dir string, i int, f *planFileFace, names map[string]bool) PlanFace {
	at := func(k string) string { return fmt.Sprintf("face[%d].%s", i, k) }
	out := PlanFace{Name: f.Name, Rel: f.File, File: resolve(dir, f.File), Index: f.Index, line: r.lines[fmt.Sprintf("face[%d]", i)]}
	r.name(at("name"), "face", f.Name, names)
	switch st, err := os.Stat(out.File); {
	case f.File == "":
		r.fail(at("file"), "face %q names no file; add file = \"…\"", f.Name)
	case err != nil:
		r.fail(at("file"), "font file %s does not exist; correct file or remove the face", f.File)
	case !st.Mode().IsRegular():
		r.fail(at("file"), "font file %s is no regular file; name a font", f.File)
	}
	if f.Index < 0 {
		r.fail(at("index"), "face index %d is negative; count from 0", f.Index)
	}
	sel, err := planGlyphs(f.Glyphs)
	if err != nil {
		r.fail(at("glyphs"), "%v", err)
	}
	out.Glyphs = sel
	return out
}

func planGlyphs(v any) (Selection, error) {
	switch v := v.(type) {
	case nil:
		return Selection{}, nil
	case string:
		return ParseSelection(v)
	case []any:
		var s Selection
		for _, e := range v {
			t, ok := e.(string)
			if !ok {
				return s, fmt.Errorf("glyphs holds %v; use strings", e)
			}
			if err := s.add(t); err != nil {
				return s, err
			}
		}
		return s, nil
	}
	return Selection{}, fmt.Errorf("glyphs = %v is neither a string nor a list of strings", v)
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

func (r *planReader) name(key, what, name string, seen map[string]bool) {
	switch {
	case name == "":
		r.fail(key, "%s without a name; add name = \"…\"", what)
	case seen[strings.ToLower(name)]:
		r.fail(key, "%s %q is named twice (letter case does not count); rename one", what, name)
	}
	seen[strings.ToLower(name)] = true
}

// number is a TOML number or string as its decimal text.
func number(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	default:
		return fmt.Sprint(v)
	}
}

func resolve(dir, file string) string {
	if filepath.IsAbs(file) {
		return file
	}
	return filepath.Join(dir, file)
}

// Strikes lists every strike that the plan stands for, in plan order.
func (p *Plan) Strikes() []glyph.Strike {
	var out []glyph.Strike
	for i := range p.Faces {
		for j := range p.Devices {
			d := &p.Devices[j]
			for _, size := range d.Sizes {
				out = append(out, glyph.Strike{Face: p.Faces[i].Name, Device: d.Name, Size: size, DPI: d.DPI, Mode: d.Mode})
			}
		}
	}
	return out
}
