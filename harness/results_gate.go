package harness

import (
	"time"

	"smokeproof/diff"
)

// ByHand reports whether the golden folder has a bitmap of the glyph that is not the
// candidate and that nobody approved: somebody imported it or tuned it by hand. The
// candidate must not take its place unless somebody says so.
func (c *Change) ByHand() bool { return c.Status == StatusNew && c.Over != "" && c.Over != c.Digest }

// fails says that a change keeps the run from being well. A decision with an
// end date, or to put off, holds the gate open until that date.
func (c *Change) fails(gate diff.Severity, now time.Time) bool {
	if c.Verdict == "later" || c.Verdict == "reject" && c.Until != "" {
		if c.Until == "" || now.Format(time.DateOnly) <= c.Until {
			return false
		}
	}
	if c.Status == StatusNew {
		return true
	}
	sev, err := diff.ParseSeverity(c.Severity)
	return err != nil || sev >= gate
}

// Fails says that a change fails the check at a gate, given by its name.
func (c *Change) Fails(gate string) bool {
	g, err := diff.ParseSeverity(gate)
	return err != nil || c.fails(g, time.Now())
}

// Fails says that a finding of a set fails the check at a gate, given by its name.
func (f *Finding) Fails(gate string) bool {
	g, err := diff.ParseSeverity(gate)
	sev, err2 := diff.ParseSeverity(f.Severity)
	return err != nil || err2 != nil || sev >= g
}
