package harness

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// Each input in turn changes; each time the run must come to what it comes to
// without a cache, and must have drawn for it.
func TestEveryInputIsSeenByTheCache(t *testing.T) {
	bdf, approvals := "golden/face/203/8.bdf", "golden/face/203/8.approvals"
	for _, c := range []struct {
		name   string
		change func(*testing.T, *desk)
	}{
		{name: "size", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "[8]", "[8.5]") }},
		{name: "resolution", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "203", "204") }},
		{name: "resolution of one axis", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "203", `"203,406"`) }},
		{name: "mode", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "bilevel", "grey") }},
		{name: "sideways placement", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "fill =", "sideways = true\nfill =") }},
		{name: "fill", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "center", "majority") }},
		{name: "reading distance", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, "400", "401") }},
		{name: "name of the face", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, `"face"`, `"visage"`) }},
		{name: "name of the device", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, `"label"`, `"ticket"`) }},
		{name: "glyphs of the plan", change: func(t *testing.T, d *desk) { d.replace(t, PlanName, `"all"`, `"U+0041-005A"`) }},
		{name: "glyphs of the filter", change: func(t *testing.T, d *desk) {
			var err error
			d.filter.Glyphs, err = ParseSelection("A,B")
			require.NoError(t, err)
		}},
		{name: "a golden's row", change: func(t *testing.T, d *desk) { d.replace(t, bdf, "BITMAP\n3", "BITMAP\n7") }},
		{name: "a golden's advance", change: func(t *testing.T, d *desk) { d.replace(t, bdf, "DWIDTH 1", "DWIDTH 2") }},
		{name: "no goldens", change: func(t *testing.T, d *desk) { require.NoError(t, os.Remove(filepath.Join(d.dir, bdf))) }},
		{name: "no approvals", change: func(t *testing.T, d *desk) { require.NoError(t, os.Remove(filepath.Join(d.dir, approvals))) }},
		{name: "another decision", change: func(t *testing.T, d *desk) { decideOnce(t, d) }},
		{name: "other goldens", change: func(t *testing.T, d *desk) {
			d.replace(t, PlanName, "[[face]]", "[golden]\nfolder = \"elsewhere\"\n[[face]]")
		}},
		{name: "the program", change: func(_ *testing.T, d *desk) {
			d.opened = func(r *Run) {
				if r.cache != nil {
					r.cache.program = "another build"
				}
			}
		}},
		{name: "version of the renderer", change: func(_ *testing.T, d *desk) {
			d.opened = func(r *Run) { r.devices["label"].id.Version = "next" }
		}},
		{name: "settings of the renderer", change: func(_ *testing.T, d *desk) {
			d.opened = func(r *Run) { r.devices["label"].id.Settings = "interpreter=40" }
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := newDesk(t)
			c.change(t, d)
			drawn, glyphs := d.holds(t)
			require.Equal(t, glyphs, drawn)
		})
	}
}

// decideOnce puts a decision about another bitmap into the approvals.
func decideOnce(t *testing.T, d *desk) {
	s := glyph.Strike{Face: "face", Device: "label", Size: glyph.Pt(8), DPI: glyph.Dots(203)}
	c := glyph.Cell{Ref: glyph.Ref{Key: "A", Name: "A", Code: 'A', Index: 36}, Advance: 99}
	require.NoError(t, golden.Open(filepath.Join(d.dir, "golden")).Record(context.Background(), s,
		[]golden.Decision{{Cell: c, Verdict: golden.Reject, By: "a test", Why: "too wide", When: time.Unix(1e9, 0)}}))
}

func TestTheGateIsWeighedAnewWithoutDrawing(t *testing.T) {
	d := newDesk(t)
	d.write(t, deskFont, withoutFpgm(larkmoor(t)))
	before, _, _ := d.check(t, d.cache)
	require.Equal(t, ExitFindings, before.Exit)
	d.replace(t, PlanName, "severity = \"major\"", "severity = \"critical\"")
	drawn, _ := d.holds(t)
	require.Zero(t, drawn)
}

func TestProcessRenderersAreNotRemembered(t *testing.T) {
	d := newDesk(t)
	d.opened = func(r *Run) { r.Plan.Devices[0].Renderer = "process" }
	for range 2 {
		sum, _, drawn := d.check(t, d.cache)
		require.Equal(t, sum.Glyphs, drawn)
	}
}

func TestACacheThatCannotBeWrittenIsNoFault(t *testing.T) {
	d := newDesk(t)
	file := filepath.Join(d.dir, "a-file")
	require.NoError(t, os.WriteFile(file, nil, 0o666))
	sum, _, drawn := d.check(t, filepath.Join(file, "below"))
	require.Equal(t, ExitOK, sum.Exit)
	require.Equal(t, sum.Glyphs, drawn)
}
