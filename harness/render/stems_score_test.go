package render

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"smokeproof/harness/glyph"
)

// property is one that fitted stems must have.
type property int

const (
	equalInGlyph property = iota
	equalInStrike
	nothingVanishes
	flatsOnOneRow
	roundsOnTheRow
	serifsMirror
	glyphsMirror
	bearings
	advances
	lines
	properties
)

var propertyNames = [properties]string{
	"stems of equal width in a glyph come out equal",
	"and all over the strike, by StemSnap value",
	"no declared stem or bar vanishes",
	"flats of one zone stand on one row",
	"and rounds with them, below BlueScale",
	"mirrored serifs come out mirrored",
	"and whole mirrored glyphs with stems",
	"bearings within a pixel of the linear ones",
	"advances within half a pixel of the linear ones",
	"a line set by design widths stays within a pixel",
}

// score counts what was measured for each property, and names what failed.
type score struct {
	strike    glyph.Strike // of one strike's score
	good, all [properties]int
	failures  [properties]map[string]int // by face and glyph
	falls     []string                   // the same, a line each, with the strike
	drift     float64                    // px, the largest of any strike
	barred    [barriers]map[string]int   // by face and glyph: where a property cannot hold, not measured
}

// bar notes a place where a property cannot hold.
func (s *score) bar(b barrier, where string) { tally(&s.barred[b], where, 1) }

func tally(counts *map[string]int, where string, n int) {
	if *counts == nil {
		*counts = map[string]int{}
	}
	(*counts)[where] += n
}

func (s *score) count(p property, ok bool, where string) {
	s.all[p]++
	if ok {
		s.good[p]++
		return
	}
	tally(&s.failures[p], where, 1)
	s.falls = append(s.falls, fmt.Sprintf("%s\t%s\t%s\n", propertyNames[p], where, s.strike))
}

func (s *score) share(p property) float64 {
	return 100 * float64(s.good[p]) / float64(max(1, s.all[p]))
}

func (s *score) add(o *score) {
	for p := range properties {
		s.good[p] += o.good[p]
		s.all[p] += o.all[p]
		for k, n := range o.failures[p] {
			tally(&s.failures[p], k, n)
		}
	}
	for b := range barriers {
		for k, n := range o.barred[b] {
			tally(&s.barred[b], k, n)
		}
	}
	s.falls = append(s.falls, o.falls...)
	s.drift = max(s.drift, o.drift)
}

// cannot is a line for each glyph of which a property cannot hold, with how often.
func (s *score) cannot() (lines []string) {
	for b, where := range s.barred {
		for _, glyph := range slices.Sorted(maps.Keys(where)) {
			lines = append(lines, fmt.Sprintf("cannot hold: %s\t%s\t×%d\n", barrierNames[b], glyph, where[glyph]))
		}
	}
	return lines
}

// worst names the places that were counted most often.
func worst(counts map[string]int, n int) string {
	keys := slices.SortedFunc(maps.Keys(counts), func(a, b string) int {
		if d := counts[b] - counts[a]; d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
	var out []string
	for _, k := range keys[:min(n, len(keys))] {
		out = append(out, fmt.Sprintf("%s ×%d", k, counts[k]))
	}
	return strings.Join(out, ", ")
}
