package face

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"

	"smokeproof/harness/glyph"
)

// Revision is a font beside the one that it was before.
type Revision struct {
	old, now Face
	tables   string // what TrueType glyphs have in common and differs
	was      map[glyph.Key]int
	wasCode  map[rune]int // for glyphs of other names
	oldParts [][16]byte   // of TrueType
	newParts [][16]byte
}

// NewRevision holds a font against the one that it was.
func NewRevision(old, now Face) *Revision {
	r := &Revision{old: old, now: now, was: map[glyph.Key]int{}, wasCode: map[rune]int{}}
	for _, ref := range old.Refs() {
		r.was[ref.Key], r.wasCode[ref.Code] = ref.Index, ref.Index
	}
	a, trueType := old.(*TrueType)
	b, both := now.(*TrueType)
	if trueType && both {
		r.tables = sentence(a.differences(b))
		r.oldParts, r.newParts = PartsOf(a).Glyphs, PartsOf(b).Glyphs
	}
	return r
}

// Common says what differs of all that a glyph has in common with others, as control
// values or alignment zones, where the glyph's own part, outline, program or hints and metrics, is as it
// was; "" where that differs too, or nothing does.
func (r *Revision) Common(now glyph.Ref) string {
	was, ok := r.former(now)
	if !ok {
		return ""
	}
	if r.oldParts != nil {
		if r.oldParts[was] != r.newParts[now.Index] {
			return ""
		}
		return r.tables
	}
	a, old := r.old.(PostScript)
	b, is := r.now.(PostScript)
	if !old || !is || drawingDigest(a, was) != drawingDigest(b, now.Index) {
		return ""
	}
	return sentence(a.Private(was).differences(b.Private(now.Index)))
}

// former is the glyph that one was before, by its name or its character.
func (r *Revision) former(now glyph.Ref) (was int, ok bool) {
	was, ok = r.was[now.Key]
	if !ok && now.Code != glyph.NoCode {
		was, ok = r.wasCode[now.Code]
	}
	return was, ok
}

func drawingDigest(f PostScript, index int) [32]byte {
	return sha256.Sum256(appendDrawing(fmt.Append(nil, f.UPEM()), f, index))
}

// sentence joins differences, of many those that fit a line or two.
func sentence(list []string) string {
	const room = 90
	text := ""
	for i, d := range list {
		if i > 0 && len(text)+len(d) > room {
			return fmt.Sprintf("%s; %d more", text, len(list)-i)
		}
		if i > 0 {
			text += "; "
		}
		text += d
	}
	return text
}

// differences tells what of a face's own programs, and of what they go by, became another.
func (f *TrueType) differences(now *TrueType) []string {
	var gone, fresh, others []string
	for _, tag := range hintTables {
		a, b := f.tables.get(tag), now.tables.get(tag)
		switch name := strings.TrimSpace(tag); {
		case len(a) > 0 && len(b) == 0:
			gone = append(gone, name)
		case len(a) == 0 && len(b) > 0:
			fresh = append(fresh, name)
		case tag != "cvt " && !slices.Equal(a, b):
			others = append(others, name)
		}
	}
	var list []string
	for _, l := range []struct {
		tables    []string
		one, many string
	}{{gone, "is gone", "are gone"}, {fresh, "is new", "are new"}, {others, "is another program", "are other programs"}} {
		switch len(l.tables) {
		case 0:
		case 1:
			list = append(list, l.tables[0]+" "+l.one)
		default:
			list = append(list, strings.Join(l.tables, " and ")+" "+l.many)
		}
	}
	if len(f.cvt) > 0 && len(now.cvt) > 0 {
		list = append(list, controlValues(f.cvt, now.cvt)...)
	}
	return append(list, f.figures(now)...)
}

// figures tells which of those that the programs and the scale go by differ.
func (f *TrueType) figures(now *TrueType) (list []string) {
	for _, m := range []struct {
		name     string
		was, now int
	}{
		{"maxStackElements of maxp", f.maxp.MaxStackElements, now.maxp.MaxStackElements},
		{"maxFunctionDefs of maxp", f.maxp.MaxFunctionDefs, now.maxp.MaxFunctionDefs},
		{"maxStorage of maxp", f.maxp.MaxStorage, now.maxp.MaxStorage},
		{"maxTwilightPoints of maxp", f.maxp.MaxTwilightPoints, now.maxp.MaxTwilightPoints},
		{"unitsPerEm of head", f.upem, now.upem},
		{"bit 3 of head.flags, which asks for a whole ppem,", int(f.flags >> 3 & 1), int(now.flags >> 3 & 1)},
	} {
		if m.was != m.now {
			list = append(list, fmt.Sprintf("%s is %d, was %d", m.name, m.now, m.was))
		}
	}
	return list
}

// controlValues tells which differ, in font units, those together that were and are the same.
func controlValues(was, now []int16) (list []string) {
	if len(was) != len(now) {
		list = append(list, fmt.Sprintf("cvt has %d values, had %d", len(now), len(was)))
	}
	numbers := map[[2]int16][]string{}
	var order [][2]int16
	for i := range min(len(was), len(now)) {
		if k := [2]int16{now[i], was[i]}; was[i] != now[i] {
			if numbers[k] == nil {
				order = append(order, k)
			}
			numbers[k] = append(numbers[k], fmt.Sprint(i))
		}
	}
	for _, k := range order {
		text, which := "control value %s is %d, was %d", numbers[k]
		if len(which) > 1 {
			text = "control values %s are %d, were %d"
		}
		if more := len(which) - 3; more > 1 {
			which = append(which[:3], fmt.Sprintf("and %d more", more))
		}
		list = append(list, fmt.Sprintf(text, strings.Join(which, ", "), k[0], k[1]))
	}
	return list
}

// differences tells what of a hint dictionary became another.
func (p *Private) differences(now *Private) (list []string) {
	a, b := p.entries(), now.entries()
	for i := range a {
		if a[i] != b[i] {
			list = append(list, fmt.Sprintf("%s, was %s", b[i], strings.SplitN(a[i], " ", 3)[2]))
		}
	}
	return list
}

// entries are "StdHW is 84" and the others that drawings go by.
func (p *Private) entries() []string {
	var list []string
	for _, e := range []struct {
		name  string
		value any
	}{
		{"BlueValues", p.BlueValues}, {"OtherBlues", p.OtherBlues}, {"FamilyBlues", p.FamilyBlues}, {"FamilyOtherBlues", p.FamilyOtherBlues},
		{"BlueScale", p.BlueScale}, {"BlueShift", p.BlueShift}, {"BlueFuzz", p.BlueFuzz}, {"StdHW", p.StdHW}, {"StdVW", p.StdVW},
		{"StemSnapH", p.StemSnapH}, {"StemSnapV", p.StemSnapV}, {"ForceBold", p.ForceBold}, {"LanguageGroup", p.LanguageGroup},
		{"ExpansionFactor", p.ExpansionFactor},
	} {
		list = append(list, fmt.Sprintf("%s is %v", e.name, e.value))
	}
	return list
}
