package harness

import (
	"cmp"
	"math"
	"slices"
	"unicode"

	"smokeproof/diff"
)

// sortWorstFirst orders changes by severity, then score, then their places in the
// font, those that are missing there behind all others; new glyphs come last.
func sortWorstFirst(cs []Change) {
	slices.SortStableFunc(cs, func(a, b Change) int { return a.urgency().compare(b.urgency()) })
}

// urgency is what changes of a strike are ordered by.
type urgency struct {
	Weight
	place int
}

func (c *Change) urgency() urgency {
	u := urgency{c.Weight(), c.Index}
	if c.Status == StatusMissing {
		u.place = math.MaxInt
	}
	return u
}

// compare is below 0 where u stands first.
func (u urgency) compare(o urgency) int {
	return cmp.Or(o.Weight.Compare(u.Weight), cmp.Compare(u.place, o.place))
}

// Weight is what Worse compares changes by.
type Weight struct {
	rank  int
	score float64
}

// Weight is that of the change.
func (c *Change) Weight() Weight { return Weight{c.rank(), c.Score} }

// Compare is above 0 where w is worse than o.
func (w Weight) Compare(o Weight) int {
	return cmp.Or(cmp.Compare(w.rank, o.rank), cmp.Compare(w.score, o.score))
}

// With is the weight with the scores of others added.
func (w Weight) With(score float64) Weight { return Weight{w.rank, w.score + score} }

// Worse compares two changes: above 0 where a is worse than b.
func Worse(a, b *Change) int {
	return a.Weight().Compare(b.Weight())
}

func (c *Change) rank() int {
	const behind = 100 // all others
	base := 0
	fresh := c.Status == StatusNew && c.Severity == "" // where nothing is approved, what is new is a finding
	said := c.Severity
	switch {
	case fresh && len(c.Findings) == 0:
		return -2 * behind
	case fresh:
		base, said = -behind, c.Findings[0].Severity
	}
	sev, err := diff.ParseSeverity(said)
	if err != nil {
		return -1
	}
	base += 3 * int(sev)
	if c.Status != StatusLooked && !fresh {
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
