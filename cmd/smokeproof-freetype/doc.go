// Smokeproof-freetype draws glyphs with FreeType, as a worker of smokeproof's
// renderer protocol. It is a program of its own because it needs cgo; a plan
// names it with renderer = "freetype".
//
// By default it draws bilevel strikes with hints, TrueType interpreter 35, and
// from outlines alone: a font's own advances (hdmx) and bitmaps (EBDT) are left
// aside, since both would hide what the hints do.
package main
