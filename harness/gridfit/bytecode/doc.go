// Package bytecode is the machine that runs TrueType instructions, with the
// behaviour of interpreter version 35 for bilevel output (OpenType, "The
// TrueType instruction set").
//
// A [Machine] belongs to one face: [New] runs the font program, [Machine.SetSize]
// the control value program, [Machine.Run] a glyph's program over a [Zone] of
// points. Lengths are 26.6 pixels, vectors 2.14, scales 16.16; Y grows up.
// The files are named for what they hold; instructions are grouped by chapter
// of the specification.
package bytecode
