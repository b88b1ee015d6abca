// Package diff says what a reader would see of the difference between the
// approved bitmap of a glyph and the one drawn now, and what it is called. It
// knows no font file and no screen: outlines, stems and zones come as plain
// values of [glyph]. Y grows up; rows and columns count from the origin.
//
// [Judge.Compare] goes through these files, in this order:
//
//	delta.go                the difference on the device grid, once a common shift is undone
//	vision.go importance.go how much the eye makes of a changed pixel
//	part.go topology.go     parts of ink and white, and what a change does to them
//	structure.go course.go  strokes in the bitmap: straight ones, and those that lean or bend
//	outline.go              strokes as the face's maker drew them, where a face is at hand
//	standing.go             both together, with the names that a reader gives them
//	findings.go             the order in which differences are named, each pixel once
//	findings_*.go           a family of findings each; what befalls the whole letter in findings_whole.go
//	severity.go sentence.go their class, and the sentence
//
// [Judge.Set] and [Judge.Series] hold the glyphs of a strike, and its sizes,
// beside each other (set.go, series.go); [Judge.Alone] holds a drawing against
// its own outline (alone.go, alone_joins.go, form.go). Every figure stands in figures.go, but
// the steps of severity. [Judge.Weights] is the map of importance.
package diff
