package harness

import (
	"cmp"
	"math"
	"slices"
	"time"
	"unicode"

	"smokeproof/diff"
)

// Exit statuses, the same for every verb.
const (
	ExitOK         = 0
	ExitFindings   = 1 // findings at or above the gate, or glyphs nobody approved
	ExitUsage      = 2 // wrong usage, plan or input file
	ExitIncomplete = 3 // a renderer failed, or the run was broken off
)

// NewSummary returns a summary of nothing yet.
func NewSummary() *Summary {
	return &Summary{BySeverity: map[string]int{}, ByFinding: map[string]int{}}
}

// Add counts one strike and lets it move the exit status.
func (s *Summary) Add(r *StrikeResult, gate diff.Severity) {
	s.Strikes++
	s.Counts.add(&r.Counts, 1)
	for i := range r.Changes {
		c := &r.Changes[i]
		for _, f := range c.Findings {
			s.BySeverity[f.Severity]++
			s.ByFinding[f.Finding]++
		}
		if c.fails(gate, time.Now()) {
			s.Exit = max(s.Exit, ExitFindings)
		}
	}
	for _, f := range r.Set {
		s.BySeverity[f.Severity]++
		s.ByFinding[f.Finding]++
		if f.Fails(gate.String()) {
			s.Exit = max(s.Exit, ExitFindings)
		}
	}
	if r.Undrawn > 0 {
		s.Exit = ExitIncomplete
	}
}

// add counts another part of the run, n times; -1 takes it out again.
func (c *Counts) add(o *Counts, n int) {
	c.Glyphs += n * o.Glyphs
	c.Equal += n * o.Equal
	c.Changed += n * o.Changed
	c.New += n * o.New
	c.Missing += n * o.Missing
	c.Undrawn += n * o.Undrawn
	c.ByHand += n * o.ByHand
	c.Astray += n * o.Astray
	c.AtFault += n * o.AtFault
	c.ApprovedSince += n * o.ApprovedSince
}

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

// sortWorstFirst orders changes by severity, then score, then their places in the
// font, those that are missing there behind all others; new glyphs come last.
func sortWorstFirst(cs []Change) {
	place := func(c *Change) int {
		if c.Status == StatusMissing {
			return math.MaxInt
		}
		return c.Index
	}
	slices.SortStableFunc(cs, func(a, b Change) int { return cmp.Or(Worse(&b, &a), cmp.Compare(place(&a), place(&b))) })
}

// Worse compares two changes: above 0 where a is worse than b.
func Worse(a, b *Change) int {
	return cmp.Or(cmp.Compare(a.rank(), b.rank()), cmp.Compare(a.Score, b.Score))
}

func (c *Change) rank() int {
	const behind = 100 // all others
	base := 0
	sev, err := diff.ParseSeverity(c.Severity)
	switch {
	case c.Status == StatusNew && len(c.Findings) == 0:
		return -2 * behind
	case c.Status == StatusNew:
		base = -behind
		sev, err = diff.ParseSeverity(c.Findings[0].Severity)
	}
	if err != nil {
		return -1
	}
	base += 3 * int(sev)
	if c.Status != StatusLooked && c.Status != StatusNew {
		return base
	}
	// Of a whole face, what readers meet most comes first.
	r := rune(c.Code)
	letter := unicode.IsLetter(r) || unicode.IsDigit(r)
	switch basic := r > 0 && r <= unicode.MaxASCII; {
	case letter && basic:
		return base + 2
	case letter || basic:
		return base + 1
	}
	return base
}
