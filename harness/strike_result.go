package harness

import "encoding/json"

// StrikeResult is what one strike came to: its counts and, worst first, what
// is not as approved.
type StrikeResult struct {
	StrikeRecord
	Changes []Change // none where Run.KeepChanges keeps them elsewhere
	pile    *pile    // nil where it does not
	drawn   int      // glyphs
	sides   setSides // where set checks were asked for
	unread  error    // why nothing was judged
}

// Drawn counts the glyphs that were drawn for it; the others were remembered.
func (s *StrikeResult) Drawn() int { return s.drawn }

// apart is the result without the comparison that it was a part of, whose goldens and working memory
// need not wait with it until it is handed on.
func (s *StrikeResult) apart() *StrikeResult {
	out := *s
	return &out
}

// Each gives the changes, worst first, until the next strike is handed on. yield may not keep them.
func (s *StrikeResult) Each(yield func(*Change) error) error {
	if s.pile == nil {
		for i := range s.Changes {
			if err := yield(&s.Changes[i]); err != nil {
				return err
			}
		}
		return nil
	}
	return s.pile.eachLine(func(line []byte) error {
		var c Change
		if err := json.Unmarshal(line, &c); err != nil {
			return err
		}
		return yield(&c)
	})
}

// eachLine gives each change as a line of results.json.
func (s *StrikeResult) eachLine(yield func(line []byte) error) error {
	if s.pile != nil {
		return s.pile.eachLine(yield)
	}
	return s.Each(func(c *Change) error {
		line, err := json.Marshal(c)
		if err != nil {
			return err
		}
		return yield(line)
	})
}

// all brings the changes back into memory, where they are not in it.
func (s *StrikeResult) all() ([]Change, error) {
	if s.pile == nil {
		return s.Changes, nil
	}
	var out []Change
	err := s.Each(func(c *Change) error {
		out = append(out, *c)
		return nil
	})
	return out, err
}

// amend alters a change before the strike is whole, by its place among those found.
func (s *StrikeResult) amend(i int, alter func(*Change) error) error {
	if s.pile != nil {
		return s.pile.amend(i, alter)
	}
	return alter(&s.Changes[i])
}

// ordered puts the changes in order, after the last of them.
func (s *StrikeResult) ordered() error {
	if s.pile != nil {
		return s.pile.close()
	}
	sortWorstFirst(s.Changes)
	return nil
}

// tally counts what the changes come to.
func (s *StrikeResult) tally() *tally {
	if s.pile != nil {
		return &s.pile.tally
	}
	var t tally
	for i := range s.Changes {
		t.add(&s.Changes[i], 1)
	}
	return &t
}

// handedOn frees what the changes lie in.
func (s *StrikeResult) handedOn() {
	if s.pile != nil {
		s.pile.drop()
	}
}
