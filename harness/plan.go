package harness

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

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
	maxPlan    = 4 << 20 // bytes: some 40,000 faces
	maxSizes   = 1000    // of a device; each stands for a strike of every face
	maxStrikes = 1 << 20 // 60 faces at 40 sizes and 3 resolutions are 7,200
	maxName    = 200     // bytes of a name as golden.FileName writes it, which disks take to 255
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
		return nil, fmt.Errorf("no plan: %w; name one with --plan", err)
	}
	return ParsePlan(path, data)
}

// byteOrderMark is what editors on Windows begin a text file with.
const byteOrderMark = "\uFEFF"

// ParsePlan checks a plan's text; path places its relative files and its errors.
func ParsePlan(path string, data []byte) (*Plan, error) {
	data = bytes.TrimPrefix(data, []byte(byteOrderMark))
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

// Strikes lists every strike that the plan stands for, in plan order.
func (p *Plan) Strikes() []glyph.Strike {
	var out []glyph.Strike
	for s := range p.jobs {
		out = append(out, s.Strike)
	}
	return out
}

// jobs gives every strike with its face and device, in plan order.
func (p *Plan) jobs(yield func(StrikeJob) bool) {
	for i := range p.Faces {
		f := &p.Faces[i]
		for j := range p.Devices {
			d := &p.Devices[j]
			for _, size := range d.Sizes {
				s := glyph.Strike{Face: f.Name, Device: d.Name, Size: size, DPI: d.DPI, Mode: d.Mode}
				if !yield(StrikeJob{Strike: s, Face: f, Device: d}) {
					return
				}
			}
		}
	}
}
