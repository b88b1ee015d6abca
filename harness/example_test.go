package harness_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/harness"
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
