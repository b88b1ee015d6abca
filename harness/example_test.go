package harness_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// Approve a face once, then check it: nothing has changed.
func Example() {
	dir, err := os.MkdirTemp("", "smokeproof")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	if err := os.WriteFile(filepath.Join(dir, "go.ttf"), goregular.TTF, 0o666); err != nil {
		panic(err)
	}
	plan, err := harness.ParsePlan(filepath.Join(dir, harness.PlanName), []byte(`
[[face]]
name = "go"
file = "go.ttf"
glyphs = "U+0041-005A"

[[device]]
name = "label"
dots_per_mm = 8
sizes = [8, 10]
`))
	if err != nil {
		panic(err)
	}
	ctx := context.Background()
	run, err := harness.Open(ctx, plan, harness.Options{})
	if err != nil {
		panic(err)
	}
	defer run.Close()
	done, err := run.Approve(ctx, harness.ApproveOptions{By: "Ada Marsh", Why: "first set"})
	if err != nil {
		panic(err)
	}
	sum, err := run.Check(ctx, func(*harness.StrikeResult) error { return nil })
	if err != nil {
		panic(err)
	}
	fmt.Println(done.Approved, "approved")
	fmt.Println(sum.Equal, "of", sum.Glyphs, "equal, exit", sum.Exit)
	// Output:
	// 52 approved
	// 52 of 52 equal, exit 0
}

// A rasterizer of one's own: what it drew is approved once, then each test holds
// what it draws against that.
func ExampleHold() {
	goldens, err := os.MkdirTemp("", "golden")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(goldens)
	strike := glyph.Strike{Face: "text", Device: "label", Size: glyph.Pt(8), DPI: glyph.Dots(203)}
	draw := func(width int) []glyph.Cell { // here: a stem, its left edge a pixel from the origin
		b := glyph.NewBitmap(1, 0, width, 8, 1)
		for y := range 8 {
			for x := range width {
				b.Set(1+x, y, 1)
			}
		}
		return []glyph.Cell{{Ref: glyph.Ref{Key: "l", Name: "l", Code: 'l', Index: 1}, Advance: 5, Bitmap: b}}
	}
	var seen []golden.Decision
	for _, c := range draw(2) {
		seen = append(seen, golden.Decision{Cell: c, Verdict: golden.Approve, By: "Ada Marsh", Why: "seen under the loupe", When: time.Now()})
	}
	if err := golden.Open(goldens).Record(context.Background(), strike, seen); err != nil {
		panic(err)
	}

	t := testOutput{} // in a test: its *testing.T
	fmt.Println(harness.Hold(t, goldens, strike, draw(2), harness.HoldOptions{Gate: diff.Minor}))
	fmt.Println(harness.Hold(t, goldens, strike, draw(3), harness.HoldOptions{Gate: diff.Major}))
	// Output:
	// true
	// text 8 pt 203 dpi (label): l: stem-weight (major): stem 1 px thicker
	//   ##+
	//   ##+
	//   ##+
	//   ##+
	//   ##+
	//   ##+
	//   ##+
	//   ##+
	// false
}

type testOutput struct{}

func (testOutput) Errorf(format string, args ...any) { fmt.Printf(format+"\n", args...) }
