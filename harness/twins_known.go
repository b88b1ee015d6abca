package harness

import (
	"context"
	"sync"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// marks are the marks of twins drawn in one manner, by the twins' number; zero until one of them was
// found equal to its golden.
type marks struct {
	mu sync.Mutex
	of []golden.Mark
}

// in gives the marks of a manner; nil where there is no room for them.
func (t *twins) in(m render.Manner) *marks {
	t.mu.Lock()
	defer t.mu.Unlock()
	s := t.known[m]
	if s == nil && t.count < t.room {
		s = &marks{of: make([]golden.Mark, t.count+1)}
		t.room -= len(s.of)
		t.known[m] = s
	}
	return s
}

// knownTwins are the twins of one face in one manner.
type knownTwins struct {
	numbers []int32
	*marks
}

// number is 0 where a glyph has no twin.
func (k *knownTwins) number(ref *glyph.Ref) int32 {
	if ref.Index < len(k.numbers) {
		return k.numbers[ref.Index]
	}
	return 0
}

// mark is that of a glyph's twin.
func (k *knownTwins) mark(ref *glyph.Ref) (m golden.Mark, known bool) {
	n := k.number(ref)
	if n == 0 {
		return m, false
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	m = k.of[n]
	return m, m != golden.Mark{}
}

// learn remembers the mark of a glyph that the sheet just found equal, if it has twins.
func (k *knownTwins) learn(ref *glyph.Ref, sheet *golden.Sheet) {
	n := k.number(ref)
	if n == 0 {
		return
	}
	m := sheet.Mark(*ref)
	k.mu.Lock()
	defer k.mu.Unlock()
	k.of[n] = m
}

// unknown counts the glyphs at the start of a list that have to be drawn, as no mark is known for them.
func (k *knownTwins) unknown(refs []glyph.Ref) int {
	for i := range refs {
		if _, known := k.mark(&refs[i]); known {
			return i
		}
	}
	return len(refs)
}

// knownOf gives what may be known of a strike's glyphs by their twins; nil where none has a twin.
func (r *Run) knownOf(s *StrikeJob, d *render.Drawing) *knownTwins {
	numbers := r.twins().numbers[s.Face]
	m, ok := d.Manner()
	if numbers == nil || !ok || d.Face() != r.faces[s.Face.Name] { // somebody may have saved the font since
		return nil
	}
	if in := r.twins().in(m); in != nil {
		return &knownTwins{numbers, in}
	}
	return nil
}

// eachUnknown is each, for the checks of strikes that are drawn alike. It leaves out the glyphs that pass
// because a twin of theirs was found equal.
func (r *Run) eachUnknown(ctx context.Context, s *StrikeJob, checks []*strikeCheck, yield func(*render.Drawn) error) error {
	b, ok := r.devices[s.Device.Name].Renderer.(*render.BuiltIn)
	if !ok {
		return r.each(ctx, s, yield)
	}
	if err := r.unchanged(s); err != nil {
		return err
	}
	yield, done := r.counted(s, yield)
	defer done()
	job := s.job()
	d, err := b.Begin(job)
	if err != nil {
		return err
	}
	refs, known := job.Glyphs, r.knownOf(s, d)
	for _, c := range checks {
		c.twins = known
	}
	for len(refs) > 0 {
		n := len(refs)
		if known != nil {
			if passes(checks, known, refs[0]) {
				refs = refs[1:]
				continue
			}
			n = 1 + known.unknown(refs[1:])
		}
		if err := d.Draw(ctx, refs[:n], yield); err != nil {
			return err
		}
		refs = refs[n:]
	}
	d.End()
	return nil
}

// passes reports whether a glyph's golden is that of its twin in every strike. If so it counts the glyph as
// equal.
func passes(checks []*strikeCheck, known *knownTwins, ref glyph.Ref) bool {
	mark, ok := known.mark(&ref)
	if !ok {
		return false
	}
	for _, c := range checks {
		if c.whole || !c.sheet.Bears(mark, ref) {
			return false
		}
	}
	for _, c := range checks {
		c.sheet.Pass(ref)
		c.countEqual()
	}
	return true
}
