// Package review turns results into what people read: the bundle with its page,
// the terminal's table, and reports for CI. It knows results only: no plan, no
// font, no golden. Names come from untrusted files and are escaped everywhere.
//
//	order.go                                    changes, worst first
//	cause.go lines.go alike.go                  folded into causes: by kind, along lines, where they are alike
//	alignment_row.go set.go                     causes of a row, and of whole strikes
//	gist.go crowd.go                            results as reports tell them, counted as they are read
//	overhaul.go symptom.go sighting.go          a face that changed all over, what shows of it, in which picture
//	caption.go meaning.go counts.go decided.go  their words
//	art.go picture.go word.go                   a glyph as characters, as pixels, in a word
//	terminal.go markdown.go junit.go sarif.go   reports
//	differences.go                              each change as rows of text
//	bundle.go page.go head.go plates.go         the page on disk and its data
//	throng.go                                   changes that are too many for it, and are read when asked for
//	serve*.go events.go decisions.go            the page served, and what is decided on it
//	proof*.go                                   sheets to print
package review
