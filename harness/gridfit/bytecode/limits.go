package bytecode

// How much work a font can cause.
//
// Programs loop, so a damaged or malicious one could run for ever. The bounds are
// those of FreeType (ttinterp.c, TT_RunIns): what they stop, it stops, and a glyph
// that one of the two finishes the other finishes too.
//
//   - A run of a program takes at most maxSteps instructions.
//   - Rounds of LOOPCALL, and jumps backwards, are each at most Machine.maxLoops,
//     which grows with the points to move and the control values: the heaviest
//     loops of shipped fonts walk over one or the other.
//   - Calls nest maxCalls deep.
//   - SLOOP takes at most 0xFFFF, and its points stand on the stack, whose depth
//     maxp gives; so one instruction's work is bounded by the size of the font.
//
// A composite runs a program per component. So that a thousand components do not
// take a thousand times maxSteps, the programs of one glyph together take at most
// maxGlyphSteps: the heaviest glyph that we know, in a CJK face, takes some 200,000.
// At 100 million instructions a second no glyph takes longer than 40 ms.
const (
	maxSteps      = 1_000_000
	maxGlyphSteps = 4 * maxSteps
	maxCalls      = 32
)

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
