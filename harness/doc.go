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
// Data goes one way, and each room imports only what stands before it: the
// faces (harness/face), grid fitting (harness/gridfit), scan conversion
// (harness/raster), renderers (harness/render), then judgement (diff) beside
// the approved bitmaps (golden). Only harness/review stands after this package.
package harness
