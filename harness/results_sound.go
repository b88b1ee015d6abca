package harness

import (
	"maps"
	"slices"
	"strings"
)

// Results may come from another's machine. Names and sentences in them may hold
// anything, and who shows them escapes them; the rest are words and numbers of
// this program, and are shown as they are.

func (c *Change) sound() bool {
	return ours(c.Size, c.DPI, c.Mode, c.Status, c.Severity, string(c.Verdict), c.Until, c.Digest, c.Over) && allSound(c.Findings)
}

func (s *StrikeRecord) sound() bool { return ours(s.Size, s.DPI, s.Mode) && allSound(s.Set) }

func (s *Summary) sound() bool {
	return ours(slices.Collect(maps.Keys(s.ByFinding))...) && ours(slices.Collect(maps.Keys(s.BySeverity))...)
}

func allSound(fs []Finding) bool {
	for i := range fs {
		if f := &fs[i]; !ours(f.Size, f.DPI, f.Finding, f.Severity) {
			return false
		}
	}
	return true
}

// ours says that words are made of small letters, figures and "-,.", as those
// of this program are.
func ours(words ...string) bool {
	for _, w := range words {
		if len(w) > 64 || strings.Trim(w, "abcdefghijklmnopqrstuvwxyz0123456789-,.") != "" {
			return false
		}
	}
	return true
}
