package review

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"net/url"
	"path/filepath"
	"slices"

	"smokeproof/harness"
)

// WriteSARIF writes SARIF 2.1.0 (OASIS): each face that changed all over and each cause besides as a result on its
// font files, as a run may have more findings than readers of SARIF take, and one for each face with glyphs that nobody approved. What fails the
// check is an error, what passes the gate, or is put off, a warning, a trace a note.
func WriteSARIF(w io.Writer, g *Gist) error {
	res := g.Results
	log := sarifLog{files: map[string]string{}, results: []object{}}
	for _, f := range res.Faces {
		log.files[f.Name] = f.File
	}
	for _, o := range g.overhauls {
		log.overhaul(o, &res.Header)
	}
	for _, c := range causesFound(g.rest) {
		log.cause(c, res.Gate)
	}
	for _, f := range setCauses(res) {
		log.set(f, res.Gate)
	}
	log.fresh(g.fresh)
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	return e.Encode(object{"version": "2.1.0", "runs": []object{{
		"tool":        object{"driver": object{"name": "smokeproof", "version": cmp.Or(res.Tool, "unknown"), "rules": log.rules()}},
		"invocations": []object{invocation(res)},
		"results":     log.results,
	}}})
}

// invocation tells how the run ended, and what of it could not be judged.
func invocation(res *harness.Results) object {
	notes := []object{}
	for _, why := range res.Summary.Unread {
		notes = append(notes, object{"level": "error", "message": object{"text": Legible(why)}})
	}
	return object{
		"executionSuccessful": res.Summary.Exit != harness.ExitIncomplete && !res.Summary.Partial,
		"exitCode":            res.Summary.Exit, "toolExecutionNotifications": notes,
	}
}

type object = map[string]any

// unapproved is the rule of glyphs without an approved golden.
const unapproved = "unapproved"

type sarifLog struct {
	files   map[string]string // of the faces
	results []object
}

func (l *sarifLog) overhaul(o *overhaul, h *harness.Header) {
	worst := o.worst.change
	text := fmt.Sprintf("%s. In %s.", o.text(h), o.where())
	for _, s := range o.signs {
		text += fmt.Sprintf(" %d %s.", s.n, o.line(s))
	}
	l.add([]string{o.face}, firstFinding(worst), levelOf(o.fails, worst.Severity), plain(o.face)+"/all-over", text, o.n)
}

func (l *sarifLog) cause(c *cause, gate string) {
	f := c.worst().Findings[0]
	fails := slices.ContainsFunc(c.members, func(m *harness.Change) bool { return m.Fails(gate) })
	l.add(distinct(c.members, func(m *harness.Change) string { return m.Face }), f.Finding, levelOf(fails, f.Severity),
		fmt.Sprintf("%s/%s/%s", f.Finding, plain(f.Glyph), where(c)),
		choose(c.worst().Status == harness.StatusNew, "New: ", "")+fmt.Sprintf("%s: %s. In %s.", which(c), what(c), where(c)), len(c.members))
}

func (l *sarifLog) set(f *setCause, gate string) {
	l.add([]string{f.Face}, f.Finding.Finding, levelOf(f.Fails(gate), f.Severity),
		fmt.Sprintf("set/%s/%s/%s", f.Finding.Finding, plain(f.Glyph), setWhere(&f.Finding)),
		fmt.Sprintf("%s: %s. In %s.", f.who(), plain(f.Text), setWhere(&f.Finding)), max(1, len(f.glyphs)))
}

// fresh adds what nobody approved, counted by face.
func (l *sarifLog) fresh(count map[string]int) {
	for _, face := range slices.Sorted(maps.Keys(count)) {
		l.add([]string{face}, unapproved, "error", plain(face)+"/"+unapproved,
			fmt.Sprintf("%s: bitmaps that nobody approved: %d", plain(face), count[face]), count[face])
	}
}

func levelOf(fails bool, severity string) string {
	switch {
	case fails:
		return "error"
	case severity == "trace":
		return "note"
	}
	return "warning"
}

// add enters a result on the files of faces.
func (l *sarifLog) add(faces []string, rule, level, fingerprint, text string, times int) {
	places := []object{}
	for _, face := range faces {
		if file := filepath.ToSlash(l.files[face]); file != "" {
			u := url.URL{Path: file}
			if filepath.IsAbs(l.files[face]) {
				u.Scheme = "file"
			}
			places = append(places, object{"physicalLocation": object{"artifactLocation": object{"uri": u.String()}}})
		}
	}
	l.results = append(l.results, object{
		"ruleId": rule, "level": level, "message": object{"text": text}, "locations": places, "occurrenceCount": times,
		"partialFingerprints": object{"cause/v1": fingerprint},
	})
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
