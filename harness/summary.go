package harness

import (
	"time"

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
	t := r.tally()
	for f, n := range t.found {
		s.BySeverity[f.severity] += n
		s.ByFinding[f.finding] += n
	}
	if t.fails(gate, time.Now()) {
		s.Exit = max(s.Exit, ExitFindings)
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
