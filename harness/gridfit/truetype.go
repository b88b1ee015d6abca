package gridfit

import (
	"fmt"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit/bytecode"
)

// NewTrueType runs a face's control value program for a size, and before the first
// size its font program. The fraction of the ppem stays in the scale, unless bit 3 of
// head.flags asks for a whole one; instructions see the nearest whole ppem.
//
// Where one of the face's own programs fails, glyphs are drawn unhinted and say so:
// the letter is still there, and check shows what it lost. FreeType draws none of
// them. Where the program switches glyph programs off, glyphs are unhinted as well,
// but as their maker wants them.
func NewTrueType(f *face.TrueType, p glyph.PPEM) Fitter { return NewTrueTypeFrom(nil, f, p) }

// NewTrueTypeFrom is NewTrueType in the memory of a Fitter that is no longer used, nil
// if there is none: memory never touched before costs more than what is done in it.
func NewTrueTypeFrom(old Fitter, f *face.TrueType, p glyph.PPEM) Fitter {
	t, ok := old.(*trueType)
	if !ok {
		t = &trueType{}
	}
	t.reuse(f)
	f.Derived(func() any { return newTrueTypeHints(f) }).(*trueTypeHints).at(p, t)
	return t
}

// trueTypeHints are what the font program made of a face.
type trueTypeHints struct {
	face  *face.TrueType
	font  *bytecode.Font
	err   error   // why the font program failed
	recur []int32 // see recurring
}

// twilightSpare is what FreeType adds to the twilight points that maxp promises
// (ttobjs.c, tt_size_init_bytecode), and leastFunctions what it allows any face
// (ttload.c, tt_face_load_maxp).
const (
	twilightSpare  = 4
	leastFunctions = 64
)

func newTrueTypeHints(f *face.TrueType) *trueTypeHints {
	m := f.Maxp()
	h := &trueTypeHints{face: f, recur: recurring(f)}
	h.font, h.err = bytecode.NewFont(bytecode.Program{
		Fpgm: f.Fpgm(), Prep: f.Prep(), CVT: f.CVT(), Glyphs: m.NumGlyphs,
		Storage: m.MaxStorage, Twilight: m.MaxTwilightPoints + twilightSpare, Stack: m.MaxStackElements,
		Functions: max(m.MaxFunctionDefs, leastFunctions), Instructions: m.MaxInstructionDefs,
	})
	return h
}

// at readies a fitter for a size.
func (h *trueTypeHints) at(p glyph.PPEM, t *trueType) {
	t.recur = h.recur
	p = Size(h.face, p)
	nx, ny := p.Nominal()
	t.size = bytecode.Size{
		ScaleX: bytecode.DivFix(int32(p.X), int32(h.face.UPEM())), ScaleY: bytecode.DivFix(int32(p.Y), int32(h.face.UPEM())),
		PPEMX: nx, PPEMY: ny,
	}
	err := h.err
	if err == nil {
		t.machine, err = h.font.NewMachine(t.size)
	}
	if err != nil {
		t.machine, t.failed = nil, fmt.Errorf("drawn without hints: %w", err)
	}
	t.hinted = err == nil && !t.machine.Off()
}

// trueType fits the glyphs of a face by their instructions at one size.
type trueType struct {
	face    *face.TrueType
	recur   []int32 // see recurring
	size    bytecode.Size
	machine *bytecode.Machine // nil where failed says why
	failed  error
	hinted  bool

	read   reading
	glyphs []*face.Glyph // as read, by depth of nesting
	loaded int           // glyphs and parts of the one at work
	whole  assembly
	ends   []int // of the zone of a composite
	zone   bytecode.Zone
	fault  error // the first of the glyph's programs

	known   []int32  // by glyph, its place in parts, or 0
	parts   []part   // components; the first is none
	kept    assembly // their points
	dropout int      // the mode that the last program asked for
	out     Fitted
}

// Fit fits one glyph. An instruction that cannot run ends its program where it
// stands; what that had moved stays moved, as in FreeType (ttgload.c, TT_Hint_Glyph),
// and the glyph comes with a warning.
func (t *trueType) Fit(index int) (*Fitted, error) {
	t.loaded, t.fault = 0, nil
	t.whole.cut(mark{})
	if t.machine != nil {
		t.machine.Begin()
		t.dropout = t.machine.Dropout()
	}
	origin, err := t.load(index, 0)
	if err != nil {
		return nil, err
	}
	left := origin[0].X
	o := &t.out
	o.Outline.Points = t.whole.points(o.Outline.Points, left)
	o.Outline.Ends, o.Outline.Modes, o.Outline.Recurs = t.whole.ends, t.whole.modes, t.whole.recur
	o.Advance = fixed.Int26_6(origin[1].X - left)
	o.Dropout, o.Warning = glyph.DropoutType1, t.failed
	if t.machine != nil {
		o.Dropout = glyph.Dropout(min(t.dropout, 7))
	}
	if t.fault != nil {
		o.Warning = fmt.Errorf("drawn as far as its hints go: %w", t.fault)
	}
	return o, nil
}

// phantoms are the four points that stand for a glyph's origin, advance, top and
// bottom (OpenType, "Instructing TrueType glyphs"), in font units or 26.6 px.
type phantoms [4]bytecode.Vec

// load adds a glyph's points to the whole.
func (t *trueType) load(index, depth int) (phantoms, error) {
	if t.loaded++; depth > maxDepth || t.loaded > maxParts {
		return phantoms{}, fmt.Errorf("%w: glyph %d: its components nest deeper than %d or are more than %d; they may be circular", face.ErrInvalid, index, maxDepth, maxParts)
	}
	if depth > 0 {
		if p := t.part(index); p != nil && t.again(p) {
			return p.own, nil
		}
	}
	if depth == len(t.glyphs) {
		t.glyphs = append(t.glyphs, &face.Glyph{})
	}
	g, err := t.read.of(index, t.glyphs[depth])
	if err != nil {
		return phantoms{}, err
	}
	if len(t.whole.X)+len(g.X) > maxPoints || len(t.whole.ends)+len(g.Ends) > maxPoints {
		return phantoms{}, fmt.Errorf("%w: glyph %d: more than %d points or contours", face.ErrInvalid, index, maxPoints)
	}
	design := t.phantoms(index, g)
	switch {
	case len(g.Components) > 0:
		return t.composite(index, g, t.scaled(design), depth)
	case len(g.X) > 0 && depth > 0:
		return t.component(index, g, design), nil
	case len(g.X) > 0:
		return t.simple(index, g, design), nil
	}
	return t.scaled(design), nil
}

func (t *trueType) phantoms(index int, g *face.Glyph) phantoms {
	advance, lsb := t.face.HMetrics(index)
	height, tsb := t.face.VMetrics(index, g.YMax)
	x, y := int32(g.XMin-lsb), int32(g.YMax+tsb)
	return phantoms{{X: x}, {X: x + int32(advance)}, {Y: y}, {Y: y - int32(height)}}
}

func (t *trueType) scaled(p phantoms) phantoms {
	for i, v := range p {
		p[i] = t.scale(v)
	}
	return p
}

func (t *trueType) scale(v bytecode.Vec) bytecode.Vec {
	return bytecode.Vec{X: bytecode.MulFix(v.X, t.size.ScaleX), Y: bytecode.MulFix(v.Y, t.size.ScaleY)}
}

// simple scales a glyph's points, runs its program over them and adds them.
func (t *trueType) simple(index int, g *face.Glyph, design phantoms) phantoms {
	z, n := &t.zone, len(g.X)
	z.Resize(n + len(design))
	z.Ends = g.Ends
	copy(z.OnCurve, g.On)
	for i, v := range design {
		z.Unscaled.X[n+i], z.Unscaled.Y[n+i] = v.X, v.Y
	}
	setOut(g.X, z.Unscaled.X, z.Original.X, z.Current.X, t.size.ScaleX)
	setOut(g.Y, z.Unscaled.Y, z.Original.Y, z.Current.Y, t.size.ScaleY)
	t.hint(index, g.Instructions, false)
	first := len(t.whole.ends)
	own := t.whole.add(z, t.recur[index])
	if t.hinted && len(g.Instructions) > 0 {
		// FreeType marks the first contour with SCANTYPE's mode, whether SCANCTRL
		// is on or off (ttgload.c, TT_Hint_Glyph).
		t.whole.modes[first] = glyph.Dropout(t.machine.ScanType() & 7)
	}
	return own
}

// setOut takes over a glyph's coordinates along one axis and scales them, and the
// phantom points' behind them.
func setOut(design []glyph.FUnit, unscaled, original, current []bytecode.F26Dot6, scale int32) {
	for i, v := range design {
		unscaled[i] = int32(v)
	}
	original, current = original[:len(unscaled)], current[:len(unscaled)]
	for i, v := range unscaled {
		v = bytecode.MulFix(v, scale)
		original[i], current[i] = v, v
	}
}

// hint rounds the phantom points and runs a glyph's program over the zone.
func (t *trueType) hint(index int, program []byte, composite bool) {
	if !t.hinted {
		return
	}
	z := &t.zone
	n := len(z.OnCurve) - len(phantoms{})
	for _, c := range []*int32{&z.Current.X[n], &z.Current.X[n+1], &z.Current.Y[n+2], &z.Current.Y[n+3]} {
		*c = (*c + 32) &^ 63
	}
	if err := t.machine.Run(z, program, index, composite); err != nil && t.fault == nil {
		t.fault = err
	}
	t.dropout = t.machine.Dropout()
}
