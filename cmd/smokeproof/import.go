package main

import (
	"fmt"
	"os"

	"smokeproof/diff"
	"smokeproof/harness"
	"smokeproof/harness/review"
)

var importVerb = verb{
	name: "import", args: " FILE...", does: "bring bitmaps made elsewhere in as goldens, for somebody to approve",
	example: "smokeproof import Charter14.pcf.gz --face charter --device screen --size 14",
	run:     runImport,
}

func runImport(c *call) (int, error) {
	var names string
	c.selectionFlags()
	c.flags.StringVar(&names, "names", "", "`FILE` that names the glyphs of a PK font: a PostScript encoding vector, or lines of number and name")
	c.flags.BoolVar(&c.json, "json", false, "print for a machine")
	if err := c.parse(); err != nil {
		return 0, err
	}
	if c.flags.NArg() == 0 {
		return 0, fmt.Errorf("no file named: BDF, PCF, PK, a font with strikes, art, or pictures as 'glyphs/{glyph}.png'; see smokeproof import --help")
	}
	o := harness.ImportOptions{Sources: c.flags.Args()}
	if names != "" {
		f, err := os.Open(names)
		if err != nil {
			return 0, fmt.Errorf("--names: %w", err)
		}
		defer f.Close()
		if o.Names, err = harness.ReadGlyphNames(f); err != nil {
			return 0, err
		}
	}
	r, err := c.open()
	if err != nil {
		return 0, err
	}
	defer r.Close()
	return c.importInto(r, o)
}

// importInto imports and says what came of it.
func (c *call) importInto(r *harness.Run, o harness.ImportOptions) (int, error) {
	got, err := r.Import(c.ctx, o)
	if err != nil {
		return 0, err
	}
	status := harness.ExitOK
	findings := []harness.Finding{}
	for _, s := range got.Strikes {
		findings = append(findings, s.Findings...)
	}
	for _, f := range findings {
		if sev, err := diff.ParseSeverity(f.Severity); err != nil || sev >= r.Plan.Gate {
			status = harness.ExitFindings
		}
	}
	if c.json {
		return status, c.printJSON(struct {
			*harness.Imported
			Findings []harness.Finding `json:"findings"`
		}{got, findings})
	}
	waiting := 0
	for _, s := range got.Strikes {
		waiting += s.Waiting
		c.say("%s: %s into %s %s pt %s, %d there already", s.Source, review.Counted(s.Glyphs, "glyph"), s.Face, s.Size, s.Device, s.Same)
		c.sayList("", s.Notes)
		c.sayList("no glyph of the face answers to it", s.Unmatched)
		var lines []string
		for _, f := range s.Findings {
			lines = append(lines, fmt.Sprintf("%s: %s (%s): %s", f.Glyph, f.Finding, f.Severity, f.Text))
		}
		c.sayList("", lines)
	}
	c.sayList("no strike of the plan has this size", got.Left)
	if waiting > 0 {
		c.say("nobody has approved these yet: smokeproof approve --stored --why \"…\"")
	}
	return status, nil
}
