package golden

import (
	"cmp"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"slices"
	"strconv"
	"strings"

	"smokeproof/harness/glyph"
)

// The approvals file is text in two parts, each sorted, so that two people who
// approve different glyphs change different lines:
//
//	smokeproof approvals 2
//	%= ACT AFTER TALLY VERDICT WHEN UNTIL SEVERITY FACE RENDERER BY WHY
//	%# SEAL
//	KEY INDEX ACT DIGEST [REPLACED]
//
// An act is named by the start of the SHA-256 of its line, and names the acts
// that came before it: a chain that forks and joins as git's branches do. A
// glyph line says which bitmap the act decided on, by the first 96 bits of the
// cell's digest. Each glyph line has a weight, a digest of its words and of its
// act; an act's tally is the sum of the weights that it added less those that
// it replaced. So all tallies together are the weights of all glyph lines, and
// a line that was changed, added or taken out by hand breaks the sum. REPLACED
// is the weights of the lines that this one took the place of, with "+" between
// them: two branches may both have taken them out. Words are percent-encoded; "-"
// is an empty one.
//
// Whoever computes every digest anew can still forge the file, as any record
// without a secret; git's history is the witness against that.
const (
	approvalsMagic = "smokeproof approvals "
	approvalsHead  = approvalsMagic + "2"
	actPrefix      = "%= " // no escaped key begins so
	sealPrefix     = "%# "
)

// mark is how many bytes of a digest a line keeps: forging a second bitmap for
// it takes 2^96 tries.
const mark = 12

func encodeMark(digest []byte) string { return base64.RawURLEncoding.EncodeToString(digest[:mark]) }

// marks says that a line is about the cell of a digest.
func (l *glyphLine) marks(digest []byte) bool {
	var text [mark * 4 / 3]byte
	base64.RawURLEncoding.Encode(text[:], digest[:mark])
	return l.digest == string(text[:])
}

type approvals struct {
	acts   map[string]*act
	glyphs []glyphLine
	seal   string // see sealOf; "" where there is none
	sealed string // the text behind it
}

type glyphLine struct {
	key      glyph.Key
	index    int
	act      *act
	digest   string
	replaced string // what it took out of the sum: weights of other lines, "+" between them; or ""
	met      bool   // a candidate of the glyph has been held against it
}

// errTampered is what Record answers where Verify would find the file changed.
var errTampered = errors.New("the glyph lines are not those that were decided")

func newApprovals() *approvals { return &approvals{acts: map[string]*act{}} }

// weight is what a line adds to the tally of its act.
func (l *glyphLine) weight() tally {
	var buf [192]byte
	b := append(buf[:0], l.act.seed[:]...)
	b = append(b, EscapeKey(l.key)...)
	b = append(b, ' ')
	b = strconv.AppendInt(b, int64(l.index), 10)
	b = append(b, ' ')
	b = append(b, l.digest...)
	b = append(b, ' ')
	b = append(b, l.replaced...)
	sum := sha256.Sum256(b)
	return tally(sum[:mark])
}

// settles says that a verdict decides which golden a glyph has.
func (v Verdict) settles() bool { return v == Approve || v == Gone }

// displaces says that a later line makes an earlier one of its glyph void: a
// glyph has one golden, and one word on each bitmap.
func (l *glyphLine) displaces(old *glyphLine) bool {
	return old.digest == l.digest || l.act.verdict.settles() && old.act.verdict.settles()
}

// replace takes the place of older lines of its glyph, out of the sum too; others stay.
func (l *glyphLine) replace(old, stay []glyphLine) {
	if len(old) == 0 {
		return
	}
	for i := range old {
		l.takeOut(old[i].weight())
	}
	// With the lines goes what they tell of having been taken out twice.
	if again := twice(slices.Concat(old, stay)).minus(twice(stay)); again != (tally{}) {
		l.takeOut(tally{}.minus(again))
	}
}

// takeOut takes a weight out of the sum, and remembers it.
func (l *glyphLine) takeOut(w tally) {
	l.act.tally = l.act.tally.minus(w)
	if l.replaced != "" {
		l.replaced += "+"
	}
	l.replaced += w.String()
}

// add records decisions, an act for each group that agrees in all but the glyph.
func (a *approvals) add(ds []Decision) error {
	if len(ds) == 0 {
		return nil
	}
	if (a.balance() != tally{}) && len(a.disputes()) == 0 {
		return errTampered
	}
	made := a.enter(ds)
	// Where branches in dispute took several steps each, no line tells all that they took out
	// twice; it shows when the last dispute is settled.
	if rest := a.balanceWith(made); (rest != tally{}) && len(a.disputes()) == 0 {
		l := a.lastOf(made)
		l.act.tally = l.act.tally.minus(l.weight())
		l.takeOut(rest)
		l.act.tally = l.act.tally.plus(l.weight())
	}
	for _, x := range made {
		a.sign(x)
	}
	return nil
}

// enter writes a line for each decision in place of those that it displaces, and gives the
// acts, which are to be signed.
func (a *approvals) enter(ds []Decision) (made []*act) {
	at := map[glyph.Key][]int{}
	for i := range a.glyphs {
		at[a.glyphs[i].key] = append(at[a.glyphs[i].key], i)
	}
	void := map[int]bool{}
	bySeed := map[[sha256.Size]byte]*act{}
	after := a.heads()
	for i := range ds {
		d := &ds[i]
		x := newAct(d, after)
		if had := bySeed[x.seed]; had != nil {
			x = had
		} else {
			bySeed[x.seed] = x
			made = append(made, x)
		}
		digest := d.Cell.Digest()
		l := glyphLine{key: d.Cell.Key, index: d.Cell.Index, act: x, digest: encodeMark(digest[:])}
		var old, stay []glyphLine
		for _, j := range at[l.key] {
			switch {
			case void[j]:
			case l.displaces(&a.glyphs[j]):
				void[j] = true
				old = append(old, a.glyphs[j])
			default:
				stay = append(stay, a.glyphs[j])
			}
		}
		l.replace(old, stay)
		x.tally = x.tally.plus(l.weight())
		at[l.key] = append(at[l.key], len(a.glyphs))
		a.glyphs = append(a.glyphs, l)
	}
	n := -1
	a.glyphs = slices.DeleteFunc(a.glyphs, func(glyphLine) bool { n++; return void[n] })
	return made
}

// lastOf is the last line, in the order of the file, that one of some acts wrote.
func (a *approvals) lastOf(acts []*act) *glyphLine {
	a.sort()
	i := len(a.glyphs) - 1
	for !slices.Contains(acts, a.glyphs[i].act) {
		i--
	}
	return &a.glyphs[i]
}

// sign names an act that is complete.
func (a *approvals) sign(x *act) {
	digest := x.digest()
	for n := nameLength; n <= len(digest); n++ {
		x.name = digest[:n]
		if had := a.acts[x.name]; had == nil || had.text() == x.text() {
			break
		}
	}
	a.acts[x.name] = x
}

// heads are the acts that no other follows, by name.
func (a *approvals) heads() []string {
	followed := map[string]bool{}
	for _, x := range a.acts {
		for _, n := range x.after {
			followed[n] = true
		}
	}
	var out []string
	for n := range a.acts {
		if !followed[n] {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out
}

// precedes says that one act came before another on its own branch.
func (a *approvals) precedes(early, late *act) bool {
	seen := map[string]bool{}
	queue := slices.Clone(late.after)
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if n == early.name {
			return true
		}
		if x := a.acts[n]; x != nil && !seen[n] {
			seen[n] = true
			queue = append(queue, x.after...)
		}
	}
	return false
}

// sort puts lines in the order of the file, where most of them are already.
func (a *approvals) sort() {
	for i := 1; i < len(a.glyphs); i++ {
		if a.glyphs[i].compare(&a.glyphs[i-1]) < 0 {
			slices.SortFunc(a.glyphs, func(x, y glyphLine) int { return x.compare(&y) })
			return
		}
	}
}

// single says that the lines are in order, and each is its glyph's only one.
func (a *approvals) single() bool {
	for i := 1; i < len(a.glyphs); i++ {
		if a.glyphs[i-1].key >= a.glyphs[i].key {
			return false
		}
	}
	return true
}

func (l *glyphLine) compare(o *glyphLine) int {
	if c := strings.Compare(string(l.key), string(o.key)); c != 0 {
		return c
	}
	return cmp.Or(strings.Compare(l.act.name, o.act.name), strings.Compare(l.digest, o.digest))
}
