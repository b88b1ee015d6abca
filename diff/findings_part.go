package diff

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// movedParts names parts of a letter, such as its accent, that stand elsewhere
// than they did beside the others.
func (k *trial) movedParts() {
	golden, candidate := k.golden.ink, k.candidate.ink
	if len(golden) < 2 && len(candidate) < 2 {
		return
	}
	names := nameParts(golden, k.p.Golden.Advance, k.p.Golden.Code)
	taken := make([]bool, len(candidate))
	var order []Move
	pixels, what := map[Move][]int{}, map[Move][]string{}
	for i := range golden {
		for j := range candidate {
			s, ok := k.movedBy(&golden[i], &candidate[j])
			if !ok || taken[j] {
				continue
			}
			taken[j] = true
			if what[s] == nil {
				order = append(order, s)
			}
			what[s] = append(what[s], names[i])
			pixels[s] = append(append(pixels[s], golden[i].pixels...), candidate[j].pixels...)
			break
		}
	}
	for _, s := range order {
		k.partMoved(s, what[s], k.unclaimed(pixels[s]))
	}
}

// stayed tells of parts that stand where they did while all the rest moved, as an accent over a
// letter that a build placed elsewhere. They are a part of the common shift's finding.
func (k *trial) stayed() {
	s := k.d.shift
	if s == (Move{}) {
		return
	}
	g, c := &k.d.golden, &k.d.candidate
	names := nameParts(k.golden.ink, k.p.Golden.Advance, k.p.Golden.Code)
	var still []string
	var pixels []int
	for i := range k.golden.ink {
		var now []int // where the part is in the candidate, whose shift was undone
		for _, j := range k.golden.ink[i].pixels {
			now = append(now, j-s.DY*g.w-s.DX)
		}
		left := func(j int) bool { return j < 0 || j >= len(c.v) || !c.ink(j) }
		if i != largest(k.golden.ink) && !slices.ContainsFunc(now, left) && slices.ContainsFunc(k.golden.ink[i].pixels, left) {
			still = append(still, names[i])
			pixels = append(append(pixels, k.golden.ink[i].pixels...), now...)
		}
	}
	if still == nil {
		return
	}
	f := &k.found[len(k.found)-1]
	what := namesOf(still)
	f.Text = movedText(choose(strings.Contains(what, "accent"), "letter", "the rest"), s) + ", its " + what + " did not; its shape is judged where it stands now"
	for _, j := range k.unclaimed(pixels) {
		k.claimed[j] = true
		f.Score += k.weights[j]
	}
}

// movedBy is how far the candidate drew a part from where the golden has it:
// the shift of its box, if that explains three quarters of what turned from ink
// to white or back, and a side of the part at least turned at both its ends.
func (k *trial) movedBy(g, c *part) (Move, bool) {
	s := Move{c.x0 - g.x0, c.y0 - g.y0}
	if s == (Move{}) || s.far() ||
		abs(g.width()-c.width()) > 1 || abs(g.height()-c.height()) > 1 {
		return s, false
	}
	turned, left := 0, len(g.pixels)+len(c.pixels)
	for _, list := range [][]int{g.pixels, c.pixels} {
		for _, i := range list {
			if hard(k.d.golden.v[i], k.d.candidate.v[i]) {
				turned++
			}
		}
	}
	for _, i := range g.pixels {
		if j := i + s.DY*k.d.golden.w + s.DX; j >= 0 && j < len(k.d.candidate.v) && k.d.candidate.ink(j) {
			left -= 2
		}
	}
	return s, turned >= 2*min(g.width(), g.height()) && 4*left <= turned
}

func (k *trial) partMoved(s Move, names []string, changed []int) {
	if len(changed) == 0 {
		return
	}
	what := namesOf(names)
	px, minutes := k.j.eye.moved(s)
	k.claim(Finding{
		Kind: Moved, Severity: severityOf(Moved, minutes), MeasurePx: px, Move: s,
		Place: Place{What: what}, Text: movedText(what, s) + " beside " + choose(what == "letter", "its accent", "the rest of the letter"),
	}, changed)
}

// namesOf is one name for parts.
func namesOf(names []string) string {
	switch n := len(names); {
	case n == 1:
		return names[0]
	case strings.HasSuffix(names[0], "dot") && strings.HasSuffix(names[1], "dot"):
		return strconv.Itoa(n) + " dots"
	default:
		return strconv.Itoa(n) + " parts"
	}
}

// moved is the length of a move, below 0 to the left or straight down, and its angle.
func (e *eye) moved(m Move) (px, minutes float64) {
	px = math.Hypot(float64(m.DX), float64(m.DY))
	if m.DX < 0 || m.DX == 0 && m.DY < 0 {
		px = -px
	}
	return px, math.Hypot(float64(m.DX)*e.minutesX, float64(m.DY)*e.minutesY)
}

// grownDots names dots, of i or as a period, that are larger or smaller.
func (k *trial) grownDots() {
	golden, candidate := k.golden.ink, k.candidate.ink
	names := nameParts(golden, k.p.Golden.Advance, k.p.Golden.Code)
	for i := range golden {
		g := &golden[i]
		if !g.dot(k.p.Golden.Advance) {
			continue
		}
		for j := range candidate {
			c := &candidate[j]
			wider, taller := c.width()-g.width(), c.height()-g.height()
			if !c.dot(k.p.Golden.Advance) || wider == 0 && taller == 0 || !g.covers(c) {
				continue
			}
			k.dot(names[i], wider, taller, c, k.unclaimed(append(slices.Clone(g.pixels), c.pixels...)))
		}
	}
}

// covers says that the boxes of two parts have half of the smaller in common.
func (p *part) covers(q *part) bool {
	w, h := min(p.x1, q.x1)-max(p.x0, q.x0), min(p.y1, q.y1)-max(p.y0, q.y0)
	return w > 0 && h > 0 && 2*w*h >= min(p.width()*p.height(), q.width()*q.height())
}

// dot names what a dot gained or lost along the sides that its box says, by the
// mean over those: a pixel at the top of a round is no taller dot.
func (k *trial) dot(name string, wider, taller int, c *part, changed []int) {
	kind, px, along := StemWeight, wider, c.height()
	if abs(taller) > abs(wider) {
		kind, px, along = BarWeight, taller, c.width()
	}
	if wider != 0 && taller != 0 {
		along = c.width() + c.height()
	}
	net := 0.0
	for _, i := range changed {
		net += k.signed(i)
	}
	severity := severityOf(kind, math.Min(math.Abs(net)/float64(along), math.Abs(float64(px)))*k.minutes(kind == BarWeight))
	if severity == Trace || net > 0 != (px > 0) {
		return
	}
	var how []string
	if wider != 0 {
		how = append(how, widerBy(float64(wider)))
	}
	if taller != 0 {
		how = append(how, pixels(float64(taller))+choose(taller > 0, " taller", " shorter"))
	}
	k.claim(Finding{
		Kind: kind, Severity: severity, MeasurePx: float64(px), Place: Place{What: name},
		Text: name + " " + strings.Join(how, " and "),
	}, changed)
}
