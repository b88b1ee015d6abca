package harness

import (
	"context"
	"fmt"
	"math"
	"slices"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// ImportOptions say which bitmaps become goldens.
type ImportOptions struct {
	Sources []string       // files, or patterns with {glyph} in them
	Names   map[int]string // glyph names for the numbers of fonts that know no names, as PK
}

// Imported says what came of an import, strike by strike.
type Imported struct {
	Strikes []ImportedStrike `json:"strikes"`
	Left    []string         `json:"left"` // strikes of the sources that the plan does not have
}

// ImportedStrike is what one source brought to one strike.
type ImportedStrike struct {
	Face      string    `json:"face"`
	Device    string    `json:"device"`
	Size      string    `json:"size"`
	Source    string    `json:"source"`
	Glyphs    int       `json:"glyphs"`    // bitmaps that are now in the store
	Same      int       `json:"same"`      // that were there already
	Waiting   int       `json:"waiting"`   // of both, those that nobody has approved
	Unmatched []string  `json:"unmatched"` // of the source, that no glyph of the face answers to
	Notes     []string  `json:"notes"`     // what disagrees about the strike as a whole
	Findings  []Finding `json:"findings"`  // where a glyph's metrics disagree with the face
}

// Import reads bitmaps and puts them into the strikes that the plan and the
// filter name, glyph by glyph key. They are goldens that nobody has approved
// until Approve with Stored says who did.
func (r *Run) Import(ctx context.Context, o ImportOptions) (*Imported, error) {
	out := &Imported{Strikes: []ImportedStrike{}, Left: []string{}}
	for _, path := range o.Sources {
		fonts, err := readBitmaps(path, o.Names)
		if err != nil {
			return out, err
		}
		landed := false
		for i := range fonts {
			f := &fonts[i]
			s, err := r.landing(f, len(fonts) > 1)
			if err != nil {
				return out, err
			}
			if s == nil {
				out.Left = append(out.Left, fmt.Sprintf("%s: %s", f.source, f.size()))
				continue
			}
			landed = true
			got, err := r.importFont(ctx, s, f)
			if err != nil {
				return out, err
			}
			out.Strikes = append(out.Strikes, *got)
		}
		if !landed {
			return out, fmt.Errorf("%s: %w: no strike of the plan has its size; see plan", path, ErrUsage)
		}
	}
	return out, nil
}

// landing finds the strike of the run that a font is for: the only one there
// is, or the only one of its size. Nil where the font is one of many and none
// has its size.
func (r *Run) landing(f *bitmapFont, many bool) (*StrikeJob, error) {
	if len(r.strikes) == 1 && !many {
		return &r.strikes[0], nil
	}
	var fit []*StrikeJob
	for i := range r.strikes {
		if !f.sized() || f.ppem() == nominal(r.strikes[i].Strike) {
			fit = append(fit, &r.strikes[i])
		}
	}
	switch {
	case len(fit) == 1:
		return fit[0], nil
	case len(fit) == 0 && many:
		return nil, nil
	case len(fit) == 0:
		return nil, fmt.Errorf("%s: %w: it is for %s and no strike of the plan is; name one with --face, --device and --size", f.source, ErrUsage, f.size())
	}
	return nil, fmt.Errorf("%s: %w: %d strikes could take it, %s and %s among them; narrow with --face, --device and --size",
		f.source, ErrUsage, len(fit), fit[0].Strike, fit[1].Strike)
}

func nominal(s glyph.Strike) [2]int {
	x, y := s.PPEM().Nominal()
	return [2]int{x, y}
}

// importFont puts a font's bitmaps into a strike.
func (r *Run) importFont(ctx context.Context, s *StrikeJob, f *bitmapFont) (*ImportedStrike, error) {
	out := &ImportedStrike{
		Face: s.Strike.Face, Device: s.Strike.Device, Size: s.Strike.Size.String(), Source: f.source,
		Unmatched: []string{}, Notes: []string{}, Findings: []Finding{},
	}
	if f.sized() && f.ppem() != nominal(s.Strike) {
		have, want := f.ppem(), nominal(s.Strike)
		out.Notes = append(out.Notes, fmt.Sprintf("made for %d × %d pixels per em, the strike has %d × %d", have[0], have[1], want[0], want[1]))
	}
	have, err := r.Store.Load(ctx, s.Strike)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Strike, err)
	}
	cells, err := r.goldensFrom(ctx, s, f, have, out)
	if err != nil {
		return nil, err
	}
	if len(cells)+out.Same == 0 {
		return nil, fmt.Errorf("%s: %w: of its glyphs (%d) none is among those selected of %s; %s", f.source, ErrUsage, len(f.cells), s.Strike, f.hint())
	}
	out.Glyphs = len(cells)
	slices.Sort(out.Unmatched)
	if len(cells) == 0 {
		return out, nil
	}
	if err := r.Store.Import(ctx, s.Strike, cells); err != nil {
		return nil, fmt.Errorf("%s: %w", s.Strike, err)
	}
	return out, nil
}

// goldensFrom makes goldens of a font's bitmaps, but for those that the store has already,
// and notes what came of each.
func (r *Run) goldensFrom(ctx context.Context, s *StrikeJob, f *bitmapFont, have *golden.Strike, out *ImportedStrike) (cells []glyph.Cell, err error) {
	stored := map[glyph.Key][32]byte{}
	for i := range have.Cells {
		stored[have.Cells[i].Key] = have.Cells[i].Digest()
	}
	m := r.matcher(s)
	for i := range f.cells {
		c := &f.cells[i]
		ref, ok := m.match(&c.Cell)
		if !ok {
			out.Unmatched = append(out.Unmatched, c.label())
			continue
		}
		if !m.selected[ref.Key] {
			continue
		}
		cell, err := r.fit(ctx, s, f, c, ref)
		if err != nil {
			return nil, err
		}
		if finding := r.disagreement(s, &cell); finding != nil {
			out.Findings = append(out.Findings, *finding)
		}
		if !have.Approved(&cell) {
			out.Waiting++
		}
		if stored[cell.Key] == cell.Digest() {
			out.Same++
			continue
		}
		cells = append(cells, cell)
	}
	return cells, nil
}

// fit makes a golden of a bitmap: the face's key, the device's depth, and where
// the source is silent the place that the glyph has as it is drawn now.
func (r *Run) fit(ctx context.Context, s *StrikeJob, f *bitmapFont, c *bitmapCell, ref glyph.Ref) (glyph.Cell, error) {
	out := glyph.Cell{Ref: ref, Advance: c.Advance, Bitmap: c.Bitmap}
	fc := r.faces[s.Face.Name]
	out.SWidth = int(math.Round(float64(fc.Advance(ref.Index)) * 1000 / 64 / float64(fc.UPEM())))
	depth := 1
	if s.Strike.Mode == glyph.Grey {
		depth = 8
	}
	switch {
	case c.Bitmap.Depth == depth:
	case depth == 1:
		return out, fmt.Errorf("%s: %w: glyph %s is grey and %s is bilevel; import it into a grey device", f.source, ErrUsage, c.label(), s.Strike)
	default:
		out.Bitmap = deepen(&c.Bitmap, depth)
	}
	if c.placed {
		return out, nil
	}
	drawn, err := r.drawOne(ctx, s, ref)
	if err != nil {
		return out, fmt.Errorf("%s: where glyph %s stands is not said, and it cannot be drawn to find out: %w", f.source, c.label(), err)
	}
	now := drawn.Bitmap.Tight()
	out.Bitmap.Left, out.Bitmap.Bottom, out.Advance = now.Left, now.Bottom, drawn.Advance
	return out, nil
}

// deepen brings a bitmap to more bits per pixel, full ink staying full.
func deepen(b *glyph.Bitmap, depth int) glyph.Bitmap {
	out := glyph.NewBitmap(b.Left, b.Bottom, b.Width, b.Height, depth)
	for y := b.Bottom; y < b.Top(); y++ {
		for x := b.Left; x < b.Right(); x++ {
			out.Set(x, y, uint8(int(b.At(x, y))*int(out.Max())/int(b.Max())))
		}
	}
	return out
}

func (r *Run) drawOne(ctx context.Context, s *StrikeJob, ref glyph.Ref) (*glyph.Cell, error) {
	drawn, err := r.draw(ctx, s.only([]glyph.Ref{ref}))
	switch {
	case err != nil:
		return nil, err
	case len(drawn) != 1:
		return nil, fmt.Errorf("the renderer drew %d glyphs for one", len(drawn))
	}
	return &drawn[0].Cell, drawn[0].Err
}

// disagreement is a finding where an advance is a pixel or more away from the
// face's own, scaled and not hinted.
func (r *Run) disagreement(s *StrikeJob, c *glyph.Cell) *Finding {
	fc := r.faces[s.Face.Name]
	linear := float64(glyph.Scale(fc.Advance(c.Index), s.Strike.PPEM().X, fc.UPEM())) / 64
	if math.Abs(float64(c.Advance)-linear) < 1 {
		return nil
	}
	want := glyph.Cell{Ref: c.Ref, Advance: int(math.Round(linear)), Bitmap: c.Bitmap}
	judge := diff.NewJudge(diff.Viewing{DPI: s.Strike.DPI, DistanceMM: r.Plan.DistanceMM})
	rep := judge.Compare(diff.Pair{Golden: &want, Candidate: c, PPEM: s.Strike.PPEM()})
	for _, f := range rep.Findings {
		if f.Kind == diff.Spacing {
			f.Text += fmt.Sprintf(" than the face's %.1f px", linear)
			out := finding(&StrikeRecord{Face: s.Strike.Face, Device: s.Strike.Device, Size: s.Strike.Size.String(), DPI: s.Strike.DPI.String()}, string(c.Key), f)
			return &out
		}
	}
	return nil
}
