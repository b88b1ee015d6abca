// Package diff says what a reader would see of the difference between the
// approved bitmap of a glyph and the one drawn now, and what it is called. It
// knows no font file and no screen: outlines, stems and zones come as plain
// values of [glyph]. Y grows up; rows and columns count from the origin.
//
// [Judge.Compare] goes through these files, in this order:
//
//	judge.go report.go desk.go          what is compared, what comes of it; the judge's memory
//	plane.go delta.go edit.go           the difference on the device grid, once a common shift is undone
//	box.go part.go topology.go          parts of ink and white, and what an edit does to them
//	limb.go course.go                   strokes in the bitmap: straight ones, and those that lean or bend
//	outline.go stroke.go crest.go       what the face's maker drew, where a face is at hand: strokes, ends
//	named_limb.go                       strokes of both, with the names that a reader gives them
//	vision.go tensor.go importance.go   how much the eye makes of a changed pixel
//	trial.go                            the order in which differences are named, each pixel once
//	findings_*.go                       a family of findings each
//	severity.go sentence.go             their class, and their words
//
// What befalls the whole letter is in findings_whole.go; a pair too large to judge by the
// pixel in flood.go. [Judge.Weights] is the map of importance (weight_map.go), [Overlay] a
// picture of both (overlay.go).
//
// [Judge.Set] and [Judge.Series] hold the glyphs of a strike, and its sizes, beside each
// other (set.go, stroke_class.go, alignment.go, bearings.go, company.go, series.go); [Judge.Alone]
// holds a drawing against its own outline (alone.go, alone_strokes.go, alone_carried.go,
// alone_joins.go, alone_corners.go, form.go, opening.go, contours.go). What marks a letter has
// is in marks.go. Every figure stands in figures.go, but the steps of severity.
package diff
