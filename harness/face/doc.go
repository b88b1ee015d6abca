// Package face reads font files: [Open] and [Parse] give a [Face]: a [*TrueType]
// for fonts with a glyf table, and a [PostScript] face, [*CFF] or [*Type1], for
// cubic outlines with declared stems.
//
// Lengths are font units and Y grows up. Inputs are untrusted: a font that breaks
// its format is [ErrInvalid], a sound one of another kind [ErrUnsupported], and
// damage inside one glyph is an error of that glyph alone. Checksums are not
// held against a font; shipped ones have wrong ones.
//
// Per table: sfnt.go the container, glyf.go and design.go outlines, metrics.go
// hmtx, vmtx and hdmx, cmap.go and post.go how glyphs are called, zones.go the
// alignment rows, measured from letters.
//
// What becomes of a font: parts.go and drawn_from.go tell what its drawings hang on, revision*.go what of it
// is another than before, lacks.go which tables of its hints are not there.
//
// PostScript faces: type1*.go and cff*.go the two containers, charstring*.go the
// two languages of their glyphs, plotter.go what both draw and declare.
package face
