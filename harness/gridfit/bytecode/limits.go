package bytecode

// How much work a font can cause.
//
// Programs loop, so a damaged or malicious one could run for ever. The bounds on a
// program are those of FreeType (ttinterp.c, TT_RunIns): what they stop, it stops.
//
//   - A run of a program takes at most maxSteps instructions.
//   - Rounds of LOOPCALL, and jumps backwards, are each at most Machine.maxLoops,
//     which grows with the points to move and the control values: the heaviest
//     loops of shipped fonts walk over one or the other.
//   - Calls nest maxCalls deep.
//
// Two bounds of our own are on a glyph, and on the face's own programs for a size:
//
//   - maxGlyphSteps, since a composite runs a program per component, of which there
//     may be a thousand. The heaviest glyph that we know, in a CJK face, takes some
//     200,000 instructions.
//   - maxWork, since some instructions walk over all points, a list on the stack, or
//     a branch not taken: each point, value or byte is a unit, which spend counts.
//
// At 100 million instructions a second, and ten times as many units of work, a glyph
// takes at most a tenth of a second.
const (
	maxSteps      = 1_000_000
	maxGlyphSteps = 4 * maxSteps
	maxCalls      = 32
	maxWork       = 1 << 26
)

// Budget is what the programs of a glyph may take, or have taken: instructions, and
// units of work.
type Budget struct{ steps, work int }

var glyphBudget = Budget{maxGlyphSteps, maxWork}

// Left is what the glyph at work may still take.
func (m *Machine) Left() Budget { return m.budget }

// Less is what was taken since b was left.
func (b Budget) Less(left Budget) Budget { return Budget{b.steps - left.steps, b.work - left.work} }

// Take counts what a program took whose outcome is known; false, and nothing is
// counted, where the glyph has not so much left.
func (m *Machine) Take(b Budget) bool {
	if b.steps > m.budget.steps || b.work > m.budget.work {
		return false
	}
	m.budget = m.budget.Less(b)
	return true
}

// spend counts what an instruction does beyond a fixed amount of work.
func (m *Machine) spend(units int) {
	if m.budget.work -= units; m.budget.work < 0 {
		m.fail("more work than %d points, values and bytes; the program may loop for ever", maxWork)
	}
}

// loopsFor is how many rounds of LOOPCALL, and how many jumps backwards, a
// program may take over so many points, none for the face's own programs.
func (f *Font) loopsFor(points int) int {
	n := 300 + 22*len(f.program.CVT)
	if points > 0 {
		n = max(50, 10*points) + max(50, len(f.program.CVT)/10)
	}
	return min(n, 100*f.program.Glyphs)
}

// twilightFor is how many twilight points a program over so many points of a
// glyph can reach: maxp may promise thousands that a face has no use for.
func (f *Font) twilightFor(points, controlValues int) int {
	return min(f.program.Twilight, max(30, 2*(points+controlValues)))
}
