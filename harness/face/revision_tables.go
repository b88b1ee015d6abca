package face

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"smokeproof/harness/glyph"
)

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

// em tells of an em that was scaled.
func (r *Revision) em() []string {
	if r.scale == 1 {
		return nil
	}
	return []string{fmt.Sprintf("unitsPerEm is %d, was %d", r.now.UPEM(), r.old.UPEM())}
}

// differences tells what of a face's own programs, and of what they go by, became another.
func (r *Revision) differences(f, now *TrueType) []string {
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
	list := r.em()
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
		list = append(list, r.controlValues(f.cvt, now.cvt)...)
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
		{"bit 3 of head.flags, which asks for a whole ppem,", int(f.flags >> 3 & 1), int(now.flags >> 3 & 1)},
	} {
		if m.was != m.now {
			list = append(list, fmt.Sprintf("%s is %d, was %d", m.name, m.now, m.was))
		}
	}
	return list
}

// controlValues tells which differ, in font units, those together that were and are the same. Values that
// were to be scaled with the em and were not are told as that.
func (r *Revision) controlValues(was, now []int16) (list []string) {
	if r.scale != 1 && slices.Equal(was, now) {
		return []string{"control values were not scaled with it"}
	}
	if len(was) != len(now) {
		list = append(list, fmt.Sprintf("cvt has %d values, had %d", len(now), len(was)))
	}
	numbers := map[[2]int16][]string{}
	var order [][2]int16
	for i := range min(len(was), len(now)) {
		if k := [2]int16{now[i], was[i]}; !r.isFU(glyph.FUnit(was[i]), glyph.FUnit(now[i])) {
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

// entries tells which of a hint dictionary became others, and that the em was scaled.
func (r *Revision) entries(was, now *Private) []string {
	list := r.em()
	a, b := was.entries(), now.entries()
	for i := range a {
		switch equal := reflect.DeepEqual(a[i].value, b[i].value); {
		case r.scaled(a[i].value, b[i].value):
		case !equal:
			list = append(list, fmt.Sprintf("%s is %v, was %v", b[i].name, b[i].value, a[i].value))
		case r.scale != 1 && isLength(a[i].value):
			list = append(list, b[i].name+" was not scaled with it")
		}
	}
	return list
}

// scaled says that lengths, one or more, are those of the old font in the new em.
func (r *Revision) scaled(was, now any) bool {
	switch was := was.(type) {
	case lengths:
		return r.isEach(was, now.(lengths))
	case length:
		return r.isEach(lengths{float64(was)}, lengths{float64(now.(length))})
	}
	return false
}

func isLength(v any) bool {
	switch v.(type) {
	case length, lengths:
		return true
	}
	return false
}

type (
	length  float64 // in font units
	lengths []float64
)

// entry is one of a hint dictionary that drawings go by.
type entry struct {
	name  string
	value any
}

func (p *Private) entries() []entry {
	return []entry{
		{"BlueValues", lengths(p.BlueValues)}, {"OtherBlues", lengths(p.OtherBlues)}, {"FamilyBlues", lengths(p.FamilyBlues)}, {"FamilyOtherBlues", lengths(p.FamilyOtherBlues)},
		{"BlueScale", p.BlueScale}, {"BlueShift", p.BlueShift}, {"BlueFuzz", p.BlueFuzz}, {"StdHW", length(p.StdHW)}, {"StdVW", length(p.StdVW)},
		{"StemSnapH", lengths(p.StemSnapH)}, {"StemSnapV", lengths(p.StemSnapV)}, {"ForceBold", p.ForceBold}, {"LanguageGroup", p.LanguageGroup},
		{"ExpansionFactor", p.ExpansionFactor},
	}
}
