package harness

import (
	"time"

	"smokeproof/diff"
)

// tally counts what a summary, and the search for reasons, ask of changes.
type tally struct {
	found  map[foundAs]int
	stands map[standing]int
	of     map[string]int // the fonts that goldens were approved of (Change.ApprovedOf)
}

type foundAs struct{ finding, severity string }

// standing is what decides whether a change fails at a gate.
type standing struct {
	status                   Status
	severity, verdict, until string
}

// add counts a change n times; -1 takes it out again.
func (t *tally) add(c *Change, n int) {
	if t.found == nil {
		t.found, t.stands, t.of = map[foundAs]int{}, map[standing]int{}, map[string]int{}
	}
	for i := range c.Findings {
		as := foundAs{c.Findings[i].Finding, c.Findings[i].Severity}
		if t.found[as] += n; t.found[as] == 0 {
			delete(t.found, as)
		}
	}
	t.stands[standing{c.Status, c.Severity, c.Verdict, c.Until}] += n
	if c.ApprovedOf != "" {
		t.of[c.ApprovedOf] += n
	}
}

// findings is how many there are.
func (t *tally) findings() (n int) {
	for _, times := range t.found {
		n += times
	}
	return n
}

// fails says that one of the changes does at a gate.
func (t *tally) fails(gate diff.Severity, now time.Time) bool {
	for s, n := range t.stands {
		c := Change{Status: s.status, Severity: s.severity, Verdict: s.verdict, Until: s.until}
		if n > 0 && c.fails(gate, now) {
			return true
		}
	}
	return false
}
