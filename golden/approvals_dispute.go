package golden

import (
	"strings"

	"smokeproof/harness/glyph"
)

// crowded calls yield with the lines of each glyph that has more than one. It
// wants sorted lines.
func (a *approvals) crowded(yield func([]glyphLine)) {
	for from := 0; from < len(a.glyphs); {
		to := from + 1
		for to < len(a.glyphs) && a.glyphs[to].key == a.glyphs[from].key {
			to++
		}
		if to-from > 1 {
			yield(a.glyphs[from:to])
		}
		from = to
	}
}

// balance is what the tallies, with what was taken out twice, have above the weights of
// the glyph lines: zero in a file that nobody changed and where no glyph is in dispute.
func (a *approvals) balance() tally { return a.balanceWith(nil) }

func (a *approvals) balanceWith(unsigned []*act) tally {
	var t tally
	for _, x := range a.acts {
		t = t.plus(x.tally)
	}
	for _, x := range unsigned {
		t = t.plus(x.tally)
	}
	for i := range a.glyphs {
		t = t.minus(a.glyphs[i].weight())
	}
	a.sort()
	a.crowded(func(ls []glyphLine) { t = t.plus(twice(ls)) })
	return t
}

// twice is what lines of one glyph took out of the sum that another of them had taken out
// too: two branches did so, each by itself. A line tells of the last step of its branch; of
// more steps it is found where they end in a dispute (see add).
func twice(ls []glyphLine) (t tally) {
	seen := map[string]bool{}
	for i := range ls {
		for word := range strings.SplitSeq(ls[i].replaced, "+") {
			if w, err := parseTally(word); err == nil && seen[word] {
				t = t.plus(w)
			}
			seen[word] = true
		}
	}
	return t
}

// agree says that two branches took the same lines out and put the same golden in.
func agree(a, b *glyphLine) bool {
	return a.act.verdict == b.act.verdict && a.digest == b.digest && a.replaced == b.replaced
}

// dispute is one glyph on which two branches decided differently.
type dispute struct{ one, other glyphLine }

// holds says that a bitmap is what one of the two approved: git kept that one, and what is to
// be done about it is said of the dispute.
func (d *dispute) holds(k glyph.Key, digest []byte) bool {
	return d.one.key == k && (d.one.marks(digest) || d.other.marks(digest))
}

func (a *approvals) disputes() []dispute {
	var out []dispute
	a.sort()
	a.crowded(func(ls []glyphLine) {
		for i := range ls {
			for j := range i {
				if ls[i].displaces(&ls[j]) && !agree(&ls[i], &ls[j]) {
					out = append(out, dispute{ls[j], ls[i]})
					return
				}
			}
		}
	})
	return out
}
