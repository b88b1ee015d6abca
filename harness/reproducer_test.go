package harness

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// breaking stands in for the built-in renderer and breaks down on one glyph.
type breaking struct {
	render.Renderer
	on glyph.Key
}

func (b breaking) Draw(ctx context.Context, job *render.Job, yield func(*render.Drawn) error) error {
	return b.Renderer.Draw(ctx, job, func(d *render.Drawn) error {
		if d.Cell.Key == b.on {
			d.Err = &render.Breakdown{Cause: "index out of range", Stack: "the stack"}
		}
		return yield(d)
	})
}

func TestAPanicInOneGlyphLeavesAReproducerAndCostsThatGlyph(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"regular": goregular.TTF})
	approveAll(t, plan)
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(t.Context(), p, Options{Filter: Filter{Devices: []string{"laser"}}})
	require.NoError(t, err)
	defer r.Close()
	r.devices["laser"].Renderer = breaking{r.builtIn, "A"}
	_, err = r.Check(t.Context(), func(*StrikeResult) error { return nil })
	require.NoError(t, err)
	require.Zero(t, r.Reproducers(), "nobody has said where to keep them")
	folder := filepath.Join(t.TempDir(), "reproducers")
	r.KeepReproducers(folder)
	sum, err := r.Check(t.Context(), func(*StrikeResult) error { return nil })
	require.NoError(t, err)
	require.Equal(t, 1, sum.Undrawn)
	require.Equal(t, sum.Glyphs-1, sum.Equal)
	require.Equal(t, ExitIncomplete, sum.Exit)

	kept, err := filepath.Glob(filepath.Join(folder, "*"))
	require.NoError(t, err)
	require.Len(t, kept, 1)
	what, err := os.ReadFile(filepath.Join(kept[0], "what.txt"))
	require.NoError(t, err)
	require.Contains(t, string(what), "index out of range")
	require.Contains(t, string(what), "the stack")

	alone, err := LoadPlan(filepath.Join(kept[0], PlanName))
	require.NoError(t, err, "the plan that stands in the folder can be used")
	again, err := Open(t.Context(), alone, Options{})
	require.NoError(t, err)
	defer again.Close()
	require.Len(t, again.Strikes(), 1)
	require.Len(t, again.Strikes()[0].Glyphs(), 1)
	require.Equal(t, glyph.Key("A"), again.Strikes()[0].Glyphs()[0].Key)
	require.Equal(t, r.Strikes()[0].Strike.PPEM(), again.Strikes()[0].Strike.PPEM())
}

func TestAPanicInTheJudgementCostsThatGlyph(t *testing.T) {
	c := newComparison(glyph.Strike{Face: "f", Device: "d", Size: glyph.Pt(8), DPI: glyph.Dots(300)}, 400)
	c.design = func(glyph.Ref) *glyph.Design { panic("no such contour") }
	cell := func(advance int) glyph.Cell {
		b := glyph.NewBitmap(0, 0, 2, 2, 1)
		b.Set(0, 0, 1)
		return glyph.Cell{Ref: glyph.Ref{Key: "A", Name: "A"}, Advance: advance, Bitmap: b}
	}
	g := cell(3)
	d := &render.Drawn{Cell: cell(4)}
	c.guard(d, &g, func() { c.glyph(&g, true, d) })
	require.Equal(t, 1, c.out.Undrawn)
	require.Zero(t, c.out.Changed)
	require.Contains(t, c.out.Changes[0].Findings[0].Text, "its judgement: this program broke down: no such contour")
}

func TestAPanicInTheJudgementLeavesWhatWasJudged(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"regular": goregular.TTF})
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(t.Context(), p, Options{Filter: Filter{Devices: []string{"laser"}}})
	require.NoError(t, err)
	defer r.Close()
	folder := filepath.Join(t.TempDir(), "reproducers")
	r.KeepReproducers(folder)
	c := r.judging(t.Context(), &r.Strikes()[0])
	c.design = func(glyph.Ref) *glyph.Design { panic("no such contour") }
	g := glyph.Cell{Ref: glyph.Ref{Key: "A", Name: "A", Code: 'A', Index: 36}, Advance: 3, Bitmap: glyph.NewBitmap(0, 0, 2, 2, 1)}
	d := &render.Drawn{Cell: g}
	d.Cell.Advance = 4
	c.guard(d, &g, func() { c.glyph(&g, true, d) })
	require.Equal(t, 1, r.Reproducers())
	for name, holds := range map[string]string{"golden.bdf": "DWIDTH 3 0", "candidate.bdf": "DWIDTH 4 0", "what.txt": "compare golden.bdf candidate.bdf", PlanName: "#36"} {
		kept, err := filepath.Glob(filepath.Join(folder, "*", name))
		require.NoError(t, err)
		require.Len(t, kept, 1, name)
		data, err := os.ReadFile(kept[0])
		require.NoError(t, err)
		require.Contains(t, string(data), holds, name)
	}
}
