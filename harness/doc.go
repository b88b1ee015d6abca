// Package harness holds hinted type against approved bitmaps: a plan goes in,
// results come out.
//
// A [Plan] lists faces, devices and sizes. [Open] reads its faces and starts
// its renderers; [Run.Check] then draws every glyph of every strike, compares
// it with its golden and hands on, strike by strike, what a reader would see
// of the difference:
//
//	plan, err := harness.LoadPlan("smokeproof.toml")
//	run, err := harness.Open(ctx, plan, harness.Options{})
//	defer run.Close()
//	sum, err := run.Check(ctx, func(s *harness.StrikeResult) error { … })
//
// [Run.Approve] records candidates as goldens. [ResultsWriter] streams results
// to disk, [ReadResults] brings them back for review.
//
// The author of a rasterizer needs no plan. [Hold] stands in an ordinary Go
// test and says: these cells against these goldens.
//
// The files, in the way of the data:
//
//	plan*.go                                a plan, read from TOML with the line of each fault
//	selection.go filter.go                  sets of glyphs; what of a plan a run is narrowed to
//	run.go strike_job.go draw.go            a plan opened: its faces, renderers and strikes; strikes drawn
//	notes.go remarks.go                     what a person should know of its faces, and of what was drawn
//	in_order.go                             strikes worked on side by side, outcomes in plan order
//	check.go since.go set.go                the runs: against goldens, of now or a revision; beside each other
//	look.go forms.go                        and by their own outlines, with no golden
//	comparison.go strike_check.go           one strike's candidates against its goldens
//	strike_result.go                        what it came to, in memory or on disk
//	mistaken.go bare.go former.go           why a glyph is another: drawn as another; not hinted; what its font was
//	twins.go twins_known.go                 glyphs that other faces have too, drawn once
//	compare.go against.go hold.go           the same without a plan: two fonts, a Go test
//	unread.go reproducer.go                 what of a run fails alone
//	cache*.go stamp*.go                     what strikes came to, remembered
//	shard.go job_array.go gather.go         a run shared among machines, and joined
//	summary.go results*.go                  what a run came to: counted, weighed, written and read back
//	picture.go outline_path.go              bitmaps and outlines in results
//	approve.go undecided.go absence.go      candidates into goldens: what there is to decide on, and of what is not there
//	renamed.go                              goldens to glyphs of new names
//	import*.go export.go                    bitmaps made elsewhere, and back
//	desk*.go watch.go surround.go           what stands behind a review page
//
// Data goes one way, and each room imports only what stands before it: the
// faces (harness/face), grid fitting (harness/gridfit), scan conversion
// (harness/raster), renderers (harness/render), then judgement (diff) beside
// the approved bitmaps (golden). Only harness/review stands after this package.
package harness
