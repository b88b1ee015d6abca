package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"smokeproof/diff"
	"smokeproof/golden"
	"smokeproof/harness"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

var compareVerb = verb{
	name: "compare", args: " GOLDEN CANDIDATE", does: "hold one font against another without a plan: two of bitmaps, BDF or PCF, or what two of outlines draw",
	example: "smokeproof compare approved.bdf drawn.bdf --font Face.ttf\n  smokeproof compare released/Face.ttf Face.ttf --dpi 203 --size 6,8",
	run:     runCompare,
}

// compareFlags say what is compared, and where to.
type compareFlags struct {
	font, gate, weights, out string
	dpi                      []string
	index                    int
	distance                 float64
}

func (c *call) compareFlags() *compareFlags {
	var f compareFlags
	c.flags.StringVar(&f.font, "font", "", "of bitmaps: outline `FONT` of the face, for stems and zones as its maker drew them")
	c.flags.IntVar(&f.index, "index", 0, "face `N` within a collection, from 0")
	c.flags.StringArrayVar(&f.dpi, "dpi", nil, "of outlines: a device of this resolution, a number or `X,Y`, in place of label and laser; may be repeated")
	c.flags.StringSliceVar(&c.sizes, "size", nil, "of outlines: only these sizes in `PT`, separated by commas")
	c.flags.StringVar(&f.gate, "gate", "major", "`SEVERITY` at which to fail: trace, minor, major or critical")
	c.flags.Float64Var(&f.distance, "distance", harness.DefaultDistanceMM, "reading distance in `MM`")
	c.flags.StringVar(&f.weights, "weights", "", "print the importance map of one `GLYPH` instead, 0 to 9 a pixel")
	c.flags.StringVar(&f.out, "out", filepath.Join("out", "compare"), "`DIR` for the page")
	c.glyphsFlag()
	c.flags.BoolVar(&c.json, "json", false, "print findings and summary for a machine, and write no page")
	c.flags.BoolVar(&c.quiet, "quiet", false, "print errors only")
	return &f
}

func (f *compareFlags) options(glyphs string) (o harness.CompareOptions, err error) {
	o.DistanceMM = f.distance
	if o.Gate, err = diff.ParseSeverity(f.gate); err != nil {
		return o, fmt.Errorf("--gate: %w", err)
	}
	if o.Glyphs, err = harness.ParseSelection(glyphs); err != nil {
		return o, fmt.Errorf("--glyphs: %w", err)
	}
	return o, nil
}

func runCompare(c *call) (int, error) {
	f := c.compareFlags()
	if err := c.parse(); err != nil {
		return 0, err
	}
	if c.flags.NArg() != 2 {
		return 0, fmt.Errorf("compare takes two fonts, got %d; see smokeproof compare --help", c.flags.NArg())
	}
	o, err := f.options(c.glyphs)
	if err != nil {
		return 0, err
	}
	old, now := c.flags.Arg(0), c.flags.Arg(1)
	if outlineFont(old) && outlineFont(now) {
		if err := c.goWith("two bitmap fonts", "font", "weights"); err != nil {
			return 0, err
		}
		return c.compareOutlines(old, now, f, &o)
	}
	return c.compareBitmaps(old, now, f, &o)
}

func (c *call) compareBitmaps(old, now string, f *compareFlags, o *harness.CompareOptions) (int, error) {
	if f.font == "" {
		if err := c.goWith("--font, or with two outline fonts", "index"); err != nil {
			return 0, err
		}
	}
	if err := c.goWith("two outline fonts; bitmap fonts have their own", "dpi", "size"); err != nil {
		return 0, err
	}
	var err error
	if f.font != "" {
		if o.Face, err = face.Open(f.font, f.index); err != nil {
			return 0, err
		}
	}
	a, err := readFont(old)
	if err != nil {
		return 0, err
	}
	b, err := readFont(now)
	if err != nil {
		return 0, err
	}
	if f.weights != "" {
		return 0, c.printWeights(a, b, glyph.Key(f.weights), o)
	}
	res, err := harness.Compare(a, b, *o)
	if err != nil {
		return 0, err
	}
	res.Against = old
	res.Faces = []harness.FaceRecord{{Name: a.Name, File: now}}
	err = c.show(res, f.out, func(context.Context, *harness.Results) (*harness.Surround, error) {
		return harness.SurroundOf(res, a)
	})
	if err != nil {
		return harness.ExitIncomplete, err
	}
	return res.Summary.Exit, nil
}

func readFont(path string) (*golden.Font, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	font, err := golden.ReadFont(f)
	if err == nil {
		return font, nil
	}
	if outlineFont(path) {
		return nil, fmt.Errorf("%s is an outline font, and the other is of bitmaps; draw it first: smokeproof draw --font %s --size 8 --dpi 300 --format bdf --out golden.bdf", path, shellWord(path))
	}
	return nil, fmt.Errorf("%s: %w", filepath.Base(path), err)
}

// printWeights draws importance as digits, 9 the heaviest; ink stands in
// brackets.
func (c *call) printWeights(a, b *golden.Font, key glyph.Key, o *harness.CompareOptions) error {
	m, cell, err := harness.CompareWeights(a, b, key, *o)
	if err != nil {
		return err
	}
	top := 0.0
	for _, w := range m.W {
		top = max(top, w)
	}
	for row := range m.Height {
		for col := range m.Width {
			digit := 0
			if top > 0 {
				digit = int(m.W[row*m.Width+col] / top * 9)
			}
			form := " %d "
			if cell.Bitmap.At(m.Left+col, m.Bottom+m.Height-1-row) != 0 {
				form = "[%d]"
			}
			fmt.Fprintf(c.stdout, form, digit)
		}
		fmt.Fprintln(c.stdout)
	}
	return nil
}
