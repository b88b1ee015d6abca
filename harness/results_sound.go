package harness

import (
	"encoding/base64"
	"maps"
	"slices"
	"strings"

	"smokeproof/diff"
)

// Results may come from another's machine. Names and sentences in them may hold
// anything, and who shows them escapes them; the rest are words and numbers of
// this program, and are shown as they are.

func (h *Header) sound() bool {
	_, err := diff.ParseSeverity(h.Gate)
	return err == nil || h.Gate == ""
}

func (c *Change) sound() bool {
	return ours(c.Size, c.DPI, c.Mode, string(c.Status), c.Severity, string(c.Verdict), c.Until, c.Digest, c.Over) && allSound(c.Findings) &&
		c.Golden.sound() && c.Candidate.sound() && c.Weights.sound()
}

// maxPlace bounds where the pixels of a picture lie, about its origin: a glyph is
// within 32 em of it.
const maxPlace = 1 << 20

func placed(v ...int) bool { return slices.Max(v) <= maxPlace && slices.Min(v) >= -maxPlace }

func (p *Picture) sound() bool {
	return p == nil || placed(p.Left, p.Bottom, p.Width, p.Height, p.Advance) && p.Width >= 0 && p.Height >= 0 && p.Depth >= 1 && p.Depth <= 8
}

func (w *Weights) sound() bool {
	return w == nil || placed(w.Left, w.Bottom, w.Width, w.Height) && w.Width >= 0 && w.Height >= 0 && w.Width*w.Height <= base64.StdEncoding.DecodedLen(len(w.Bytes))
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
