// Package bytecode is the machine that runs TrueType instructions, with the
// behaviour of interpreter version 35 for bilevel output (OpenType, "The
// TrueType instruction set").
//
// [NewFont] runs a face's font program, once; [Font.NewMachine] the control value
// program, once a size; [Machine.Begin] starts a glyph and [Machine.Run] runs its
// programs, each over a [Zone] of points. Lengths are 26.6 pixels, vectors 2.14,
// scales 16.16; Y grows up.
//
// Fonts are untrusted and often break a rule. What to make of that is FreeType's
// choice in every case, so that the two place points alike; lenient_test.go lists
// the cases. limits.go bounds the work.
//
// The files ins_*.go hold the instructions by chapter of the specification, one
// method each; instructions.go says which opcode runs which.
package bytecode
