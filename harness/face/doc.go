// Package face reads font files: [Open] and [Parse] give a [Face], which for
// fonts with a glyf table is a [*TrueType].
//
// Lengths are font units and Y grows up. Inputs are untrusted: a font that breaks
// its format is [ErrInvalid], a sound one of another kind [ErrUnsupported], and
// damage inside one glyph is an error of that glyph alone. Checksums are not
// held against a font; shipped ones have wrong ones.
//
// Per table: sfnt.go the container, glyf.go and design.go outlines, metrics.go
// hmtx, vmtx and hdmx, cmap.go and post.go how glyphs are called, zones.go the
// alignment rows, measured from letters.
package face
