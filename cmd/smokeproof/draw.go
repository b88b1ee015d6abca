package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

var drawVerb = verb{
	name: "draw", does: "draw glyphs now, with no golden: as art, pbm, png or bdf",
	example: "smokeproof draw --font Face.ttf --size 8 --dpi 300 --glyphs H,o",
	run:     runDraw,
}

func runDraw(c *call) (int, error) {
	var font, dpi, mode, fill, format, out, why string
	var index int
	c.selectionFlags()
	c.flags.StringVar(&font, "font", "", "draw this font `FILE`; without it, what the plan selects")
	c.flags.IntVar(&index, "index", 0, "face `N` within a collection, from 0")
	c.flags.StringVar(&dpi, "dpi", "300", "resolution: a number, or `X,Y`")
	c.flags.StringVar(&mode, "mode", "bilevel", "`MODE`: bilevel or grey")
	c.flags.StringVar(&fill, "fill", "center", "fill `RULE`: center, inside, touch or majority")
	c.flags.StringVar(&format, "format", "art", "`FORMAT`: art, bdf, xbdf (for the X font compiler), pbm or png; pbm and png take one glyph")
	c.flags.StringVar(&out, "out", "", "write to `FILE`; without it to standard output")
	c.flags.StringVar(&why, "why", "", "instead of drawing, tell what decided each position in these `GLYPHS`: zones, stems, dropout, advance")
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	f, err := harness.FindExportFormat(format)
	if err != nil {
		return 0, fmt.Errorf("--format: %w", err)
	}
	if why != "" {
		if c.glyphs != "" {
			return 0, errors.New("--why names the glyphs itself; leave --glyphs out")
		}
		c.glyphs = why
	}
	r, err := c.openDraw(font, index, dpi, mode, fill)
	if err != nil {
		return 0, err
	}
	defer r.Close()
	if why != "" {
		return c.explain(r)
	}
	complete := true
	print := func(w io.Writer) (err error) {
		complete, err = c.draw(r, f, w)
		return err
	}
	if out == "" {
		err = print(c.stdout)
	} else {
		err = writeTo(out, print)
	}
	if !complete {
		return harness.ExitIncomplete, err
	}
	return harness.ExitOK, err
}

// draw writes what a run draws, and says whether that is all of it.
func (c *call) draw(r *harness.Run, f *harness.ExportFormat, w io.Writer) (complete bool, err error) {
	b := bufio.NewWriter(w)
	complete = true
	strikes := 0
	err = r.Draw(c.ctx, func(s *harness.StrikeJob, ds []render.Drawn) error {
		if strikes++; strikes > 1 && f.Name != "art" {
			return fmt.Errorf("format %s takes one strike; narrow with --face, --device, --size", f.Name)
		}
		cells := []glyph.Cell{}
		for i := range ds {
			if ds[i].Err != nil {
				complete = false
				c.warn("%s: %s: %v", s.Strike, ds[i].Cell.Key, ds[i].Err)
				continue
			}
			cells = append(cells, ds[i].Cell)
		}
		c.tellNotes(s.Strike, ds)
		return f.Write(b, s.Strike, cells)
	})
	if err != nil {
		return complete, err
	}
	return complete, b.Flush()
}

// tellNotes says what is wrong with glyphs that were drawn all the same: once, where
// it is the same for many.
func (c *call) tellNotes(s glyph.Strike, ds []render.Drawn) {
	told := map[string]bool{}
	for i := range ds {
		if ds[i].Note == nil || told[ds[i].Note.Error()] {
			continue
		}
		told[ds[i].Note.Error()] = true
		c.warn("%s: %s: %v", s, ds[i].Cell.Key, ds[i].Note)
	}
}

// openDraw opens what is to be drawn: a plan's selection, or a plan of one font
// made up from flags.
func (c *call) openDraw(font string, index int, dpi, mode, fill string) (*harness.Run, error) {
	if font == "" {
		if err := c.goWith("--font; a plan has its own", "index", "dpi", "mode", "fill"); err != nil {
			return nil, err
		}
		return c.open()
	}
	if len(c.sizes) == 0 {
		return nil, fmt.Errorf("no size; say --size 8")
	}
	res, err := glyph.ParseResolution(dpi)
	if err != nil {
		return nil, err
	}
	d := harness.Device{Name: "draw", DPI: res, Renderer: "built-in"}
	if d.Mode, err = glyph.ParseMode(mode); err != nil {
		return nil, err
	}
	if d.Fill, err = glyph.ParseFill(fill); err != nil {
		return nil, err
	}
	if d.Sizes, err = c.points(); err != nil {
		return nil, err
	}
	f := harness.PlanFace{Name: strings.TrimSuffix(filepath.Base(font), filepath.Ext(font)), File: font, Rel: font, Index: index}
	p := &harness.Plan{Path: font, DistanceMM: harness.DefaultDistanceMM, Faces: []harness.PlanFace{f}, Devices: []harness.Device{d}}
	return c.openPlan(p)
}
