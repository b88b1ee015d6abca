package face

import (
	"math"
	"slices"
	"sync"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
)

// alignment holds the rows measured from a face's letters, and the zones of
// each hint dictionary named by them; both are found once.
type alignment struct {
	once     sync.Once
	measured []glyph.Zone
	mu       sync.Mutex
	zones    map[*Private][]glyph.Zone
}

// designOf makes the design of a glyph of a PostScript face.
func designOf(f PostScript, rows *alignment, index int) (*glyph.Design, error) {
	d, err := f.Drawing(index)
	if err != nil {
		return nil, err
	}
	g := &glyph.Design{UPEM: f.UPEM(), Advance: whole(d.Advance), Outline: d.Outline}
	for _, h := range d.Hints {
		g.Stems = append(g.Stems, glyph.Stem{Axis: h.Axis, Lo: whole(h.Lo), Hi: whole(h.Hi), Ghost: h.Ghost != NoGhost})
	}
	g.Zones = rows.of(f, f.Private(index))
	return g, nil
}

// of gives the zones that a hint dictionary declares, or the measured rows
// where it declares none.
func (a *alignment) of(f PostScript, p *Private) []glyph.Zone {
	a.once.Do(func() {
		a.zones = map[*Private][]glyph.Zone{}
		a.measured = measureZones(f.Refs(), func(index int) (*glyph.Outline, error) {
			d, err := f.Drawing(index)
			if err != nil {
				return nil, err
			}
			return &d.Outline, nil
		})
	})
	a.mu.Lock()
	defer a.mu.Unlock()
	if _, ok := a.zones[p]; !ok {
		a.zones[p] = p.zones(a.measured)
	}
	return a.zones[p]
}

// zones are the pairs of BlueValues and OtherBlues. The first pair of BlueValues
// is the baseline's and a bottom zone as all OtherBlues are; the others are top
// zones (Type 1 book, section 5.3). A zone has the name of the measured row that
// falls in it. Rows that no zone holds are rows all the same: a face may lack a zone.
func (p *Private) zones(measured []glyph.Zone) []glyph.Zone {
	var all []glyph.Zone
	loose := slices.Clone(measured)
	fuzz := glyph.FUnit(math.Ceil(p.BlueFuzz))
	add := func(pairs []float64, bottom bool) {
		for i := 0; i+1 < len(pairs); i += 2 {
			low, high := glyph.FUnit(math.Round(pairs[i])), glyph.FUnit(math.Round(pairs[i+1]))
			z := glyph.Zone{Flat: low, Over: high, Top: true}
			if bottom || i == 0 {
				z = glyph.Zone{Flat: high, Over: low}
			}
			loose = slices.DeleteFunc(loose, func(row glyph.Zone) bool {
				held := row.Top == z.Top && row.Flat >= low-fuzz && row.Flat <= high+fuzz
				if held && z.Name == "" {
					z.Name = row.Name
				}
				return held
			})
			all = append(all, z)
		}
	}
	add(p.BlueValues, false)
	add(p.OtherBlues, true)
	return append(all, loose...)
}

// whole is the nearest font unit, half up.
func whole(v fixed.Int26_6) glyph.FUnit { return glyph.FUnit((v + 32) >> 6) }
