package review

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"net/url"
	"path/filepath"
	"slices"

	"smokeproof/harness"
)

// WriteSARIF writes SARIF 2.1.0 (OASIS): every finding as a result on its font file,
// and one for each face with glyphs that nobody approved. What fails the check is an
// error, what passes the gate, or is put off, a warning, a trace a note.
func WriteSARIF(w io.Writer, res *harness.Results) error {
	log := sarifLog{files: map[string]string{}, results: []object{}}
	for _, f := range res.Faces {
		log.files[f.Name] = f.File
	}
	for i := range res.Changes {
		c := &res.Changes[i]
		for j := range c.Findings {
			log.finding(&c.Findings[j], c.Fails(res.Gate) && c.Findings[j].Fails(res.Gate))
		}
	}
	for i := range res.Strikes {
		s := &res.Strikes[i]
		for j := range s.Set {
			log.finding(&s.Set[j], s.Set[j].Fails(res.Gate))
		}
	}
	fresh := map[string]int{}
	err := res.Each(func(c *harness.Change) error {
		if c.Status == harness.StatusNew && c.Fails(res.Gate) {
			fresh[c.Face]++
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, face := range slices.Sorted(maps.Keys(fresh)) {
		log.add(face, unapproved, "error", plain(face)+"/"+unapproved, fmt.Sprintf("%s: bitmaps that nobody approved: %d", plain(face), fresh[face]))
	}
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	return e.Encode(object{"version": "2.1.0", "runs": []object{{
		"tool":        object{"driver": object{"name": "smokeproof", "rules": log.rules()}},
		"invocations": []object{{"executionSuccessful": res.Summary.Exit != harness.ExitIncomplete && !res.Summary.Partial}},
		"results":     log.results,
	}}})
}

type object = map[string]any

// unapproved is the rule of glyphs without an approved golden.
const unapproved = "unapproved"

type sarifLog struct {
	files   map[string]string // of the faces
	results []object
}

func (l *sarifLog) finding(f *harness.Finding, fails bool) {
	level := "warning"
	switch {
	case fails:
		level = "error"
	case f.Severity == "trace":
		level = "note"
	}
	l.add(f.Face, f.Finding, level,
		fmt.Sprintf("%s/%s/%s/%s/%s", plain(f.Face), plain(f.Device), f.Size, plain(f.Glyph), f.Finding),
		fmt.Sprintf("%s, %s %s pt %s dpi %s: %s", plain(f.Glyph), plain(f.Face), f.Size, f.DPI, plain(f.Device), plain(f.Text)))
}

func (l *sarifLog) add(face, rule, level, fingerprint, text string) {
	r := object{
		"ruleId": rule, "level": level, "message": object{"text": text},
		"partialFingerprints": object{"glyph/v1": fingerprint},
	}
	if file := l.files[face]; file != "" {
		r["locations"] = []object{{"physicalLocation": object{"artifactLocation": object{"uri": (&url.URL{Path: filepath.ToSlash(file)}).String()}}}}
	}
	l.results = append(l.results, r)
}

// rules are those that the results name, with their meanings.
func (l *sarifLog) rules() []object {
	named := map[string]bool{}
	for _, r := range l.results {
		named[r["ruleId"].(string)] = true
	}
	rules := []object{}
	for _, id := range slices.Sorted(maps.Keys(named)) {
		rule := object{"id": id}
		if m := meaning[id]; m != "" {
			rule["shortDescription"] = object{"text": m}
		} else if id == unapproved {
			rule["shortDescription"] = object{"text": "nobody approved a bitmap of the glyph"}
		}
		rules = append(rules, rule)
	}
	return rules
}
