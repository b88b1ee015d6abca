package main

import (
	"fmt"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

var planVerb = verb{
	name: "plan", does: "list the strikes and counts that the plan stands for, and check the plan",
	example: "smokeproof plan --device label",
	run:     runPlan,
}

func runPlan(c *call) (int, error) {
	c.selectionFlags()
	c.flags.BoolVar(&c.json, "json", false, "print for a machine")
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	r, err := c.open()
	if err != nil {
		return 0, err
	}
	defer r.Close()
	type row struct {
		Face   string `json:"face"`
		Device string `json:"device"`
		DPI    string `json:"dpi"`
		Mode   string `json:"mode"`
		Size   string `json:"size"`
		PPEM   string `json:"ppem"`
		Glyphs int    `json:"glyphs"`
	}
	rows, total := []row{}, 0
	for _, s := range r.Strikes() {
		p := s.Strike.PPEM()
		rows = append(rows, row{s.Strike.Face, s.Strike.Device, s.Strike.DPI.String(), s.Strike.Mode.String(),
			s.Strike.Size.String(), fmt.Sprintf("%.3f", float64(p.Y)/64), s.Count()})
		total += s.Count()
	}
	if c.json {
		return harness.ExitOK, c.printJSON(map[string]any{"strikes": rows, "glyphs": total, "notes": r.Notes()})
	}
	for _, w := range rows {
		c.say("%-20s %-12s %9s dpi %-7s %5s pt %8s ppem %6d glyphs", w.Face, w.Device, w.DPI, w.Mode, w.Size, w.PPEM, w.Glyphs)
	}
	c.say("%s, %s", review.Counted(len(rows), "strike"), review.Counted(total, "glyph bitmap"))
	for _, n := range r.Notes() {
		c.say("%s", n)
	}
	return harness.ExitOK, nil
}
