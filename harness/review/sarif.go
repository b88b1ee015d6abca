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

// sarifLevel maps our classes to SARIF's (OASIS SARIF 2.1.0, 3.27.10).
var sarifLevel = map[string]string{"critical": "error", "major": "error", "minor": "warning", "trace": "note"}

// WriteSARIF writes every finding as a SARIF 2.1.0 result on its font file.
func WriteSARIF(w io.Writer, res *harness.Results) error {
	files := map[string]string{}
	for _, f := range res.Faces {
		files[f.Name] = f.File
	}
	type object = map[string]any
	rules := []object{}
	for _, k := range slices.Sorted(maps.Keys(res.Summary.ByFinding)) {
		rule := object{"id": k}
		if m := meaning[k]; m != "" {
			rule["shortDescription"] = object{"text": m}
		}
		rules = append(rules, rule)
	}
	results := []object{}
	for _, f := range res.Findings {
		r := object{
			"ruleId": f.Finding, "level": sarifLevel[f.Severity],
			"message":             object{"text": fmt.Sprintf("%s, %s %s pt %s dpi %s: %s", plain(f.Glyph), plain(f.Face), f.Size, f.DPI, plain(f.Device), plain(f.Text))},
			"partialFingerprints": object{"glyph/v1": fmt.Sprintf("%s/%s/%s/%s/%s", plain(f.Face), plain(f.Device), f.Size, plain(f.Glyph), f.Finding)},
		}
		if file := files[f.Face]; file != "" {
			r["locations"] = []object{{"physicalLocation": object{"artifactLocation": object{"uri": (&url.URL{Path: filepath.ToSlash(file)}).String()}}}}
		}
		results = append(results, r)
	}
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	return e.Encode(object{
		"version": "2.1.0",
		"runs":    []object{{"tool": object{"driver": object{"name": "smokeproof", "rules": rules}}, "results": results}},
	})
}
