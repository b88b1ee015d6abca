package harness

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"smokeproof/diff"
	"smokeproof/golden"
)

// planFile is the plan as TOML spells it.
type planFile struct {
	Gate    struct{ Severity string }
	Reading struct {
		DistanceMM *float64 `toml:"distance_mm"`
	}
	Golden struct {
		Folder string
		Gzip   bool
	}
	Face   []planFileFace
	Device []planFileDevice
}

// written shows how a key's value is written, where it is no word in quotes.
var written = map[string]string{
	"glyphs": `"U+0020-007E,eacute"`, "sizes": "[6, 8, 10]", "command": `["./draw", "{font}", "{size}", "{dpi}"]`,
	"distance_mm": "400", "index": "0", "gzip": "true", "sideways": "true",
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
		what := strings.TrimPrefix(de.Error(), "toml: ")
		if kind, _, found := strings.Cut(what, " into struct field "); found { // of ours, in Go's words
			what = fmt.Sprintf("key %q: %s", strings.Join(de.Key(), "."), kind)
			if key := de.Key()[len(de.Key())-1]; written[key] != "" {
				return PlanErrors{fmt.Errorf("%s:%d:%d: %s; write %s = %s", path, row, col, what, key, written[key])}
			}
		}
		return PlanErrors{fmt.Errorf("%s:%d:%d: %s; correct the plan", path, row, col, what)}
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
	if d := f.Reading.DistanceMM; d != nil {
		if err := checkDistance(*d); err != nil {
			r.fail("reading.distance_mm", "%v", err)
		}
		p.DistanceMM = *d
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
		r.sharing(p.Devices)
	}
	if len(p.Faces) == 0 {
		r.fail("", "no [[face]]; name at least one font file")
	}
	sizes := 0
	for i := range p.Devices {
		sizes += len(p.Devices[i].Sizes)
	}
	if n := sizes * len(p.Faces); n > maxStrikes {
		r.fail("", "the plan stands for %d strikes, the limit is %d; split it", n, maxStrikes)
	}
	if len(p.Devices) == 0 {
		r.fail("", "no [[device]]; name at least one output")
	}
	return p
}

// checkDistance refuses a reading distance that no reader has.
func checkDistance(mm float64) error {
	if mm >= 50 && mm <= 10000 {
		return nil
	}
	return fmt.Errorf("reading distance %g mm is out of range (50 to 10000)", mm)
}

func (r *planReader) name(key, what, name string, seen map[string]bool) {
	switch {
	case name == "":
		r.fail(key, "%s without a name; add name = \"…\"", what)
	case len(golden.FileName(name)) > maxName:
		r.fail(key, "%s %.40q… has a name too long for a file's; shorten it", what, name)
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
