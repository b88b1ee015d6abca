package main

import (
	"fmt"
	"path/filepath"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

var lookVerb = verb{
	name: "look", args: " [FONT...]", does: "name the faults of a font by its own outlines, with no plan and nothing approved",
	example: "smokeproof look Face.ttf\n  smokeproof look Face.ttf --dpi 203 --size 6,8 --glyphs U+0020-007E",
	run:     runLook,
}

func runLook(c *call) (int, error) {
	var dpi []string
	var out string
	var index int
	c.selectionFlags()
	c.flags.StringArrayVar(&dpi, "dpi", nil, "with FONT: a device of this resolution, a number or `X,Y`, in place of label and laser; may be repeated")
	c.flags.IntVar(&index, "index", 0, "with FONT: face `N` within a collection, from 0")
	c.flags.StringVar(&out, "out", "", "`DIR` for the results and their page; without it out/look")
	c.flags.BoolVar(&c.json, "json", false, "print findings and summary for a machine")
	if err := c.parse(); err != nil {
		return 0, err
	}
	r, err := c.openLook(c.flags.Args(), dpi, index)
	if err != nil {
		return 0, err
	}
	defer r.Close()
	if c.flags.NArg() > 0 {
		c.warnOf(r.Notes())
	}
	if out == "" {
		out = filepath.Join(filepath.Dir(r.Plan.Path), "out", "look")
	}
	header := r.Header(version())
	header.Looked = true
	sum, err := c.record(r, header, out, r.Look)
	if err != nil {
		return harness.ExitIncomplete, err
	}
	c.warnOf(r.Remarks())
	if err := c.tellLook(r, out); err != nil {
		return harness.ExitIncomplete, err
	}
	return sum.Exit, nil
}

// openLook opens the plan, or one made up for the fonts named.
func (c *call) openLook(fonts, dpi []string, index int) (*harness.Run, error) {
	if len(fonts) == 0 {
		if err := c.goWith("a font; a plan has its own", "dpi", "index"); err != nil {
			return nil, err
		}
		if c.plan == "" {
			if _, err := harness.FindPlan("."); err != nil {
				return nil, fmt.Errorf("no font to look at: name one, or work where a plan is; %w", err)
			}
		}
		return c.open()
	}
	p, err := c.planOf(fonts, dpi, index)
	if err != nil {
		return nil, err
	}
	return c.openWithin(p)
}

// planOf makes up a plan for fonts, with the devices and sizes asked for.
func (c *call) planOf(fonts, dpi []string, index int) (*harness.Plan, error) {
	text, err := planText(".", fonts)
	if err != nil {
		return nil, err
	}
	p, err := harness.ParsePlan(harness.PlanName, []byte(text))
	if err != nil {
		return nil, err
	}
	for i := range p.Faces {
		p.Faces[i].Index = index
		if isCollection(fonts[i]) && !c.flags.Changed("index") {
			c.warn("%s is a collection: this is its first face; --index looks at another", fonts[i])
		}
	}
	if len(dpi) > 0 {
		if p.Devices, err = c.devicesOf(dpi, p.Devices[0]); err != nil {
			return nil, err
		}
	}
	sizes, err := c.points()
	if err != nil {
		return nil, err
	}
	for i := range p.Devices {
		if sizes != nil {
			p.Devices[i].Sizes = sizes
		}
	}
	c.sizes = nil // a device need not have had them
	return p, nil
}

// openWithin opens a plan made up for fonts, within the budget.
func (c *call) openWithin(p *harness.Plan) (*harness.Run, error) {
	r, err := c.openPlan(p)
	if err != nil || c.flags.Changed("glyphs") || !c.budget(p, r.Strikes()) {
		return r, err
	}
	if err := r.Close(); err != nil {
		return nil, err
	}
	return c.openPlan(p)
}

// devicesOf are devices like one, of other resolutions.
func (c *call) devicesOf(dpi []string, d harness.Device) (all []harness.Device, err error) {
	for i, text := range dpi {
		if d.Name = "draw"; i > 0 {
			d.Name = fmt.Sprintf("draw%d", i+1)
		}
		if d.DPI, err = glyph.ParseResolution(text); err != nil {
			return nil, fmt.Errorf("--dpi: %w", err)
		}
		if d.DPI.X != d.DPI.Y {
			c.warn("--dpi %s is one device, with %s dpi across and %s along; two devices have a --dpi each", text, d.DPI.X, d.DPI.Y)
		}
		all = append(all, d)
	}
	return all, nil
}

// tellLook writes the page and tells the person.
func (c *call) tellLook(r *harness.Run, out string) error {
	res, err := harness.ReadResults(filepath.Join(out, harness.ResultsName))
	if err != nil {
		return err
	}
	return c.show(res, out, r.Surround)
}
