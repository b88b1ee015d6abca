package main

import (
	"errors"
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
	name: "compare", args: " GOLDEN CANDIDATE", does: "score two bitmap fonts, BDF or PCF, without a plan",
	example: "smokeproof compare approved.bdf drawn.bdf --font Face.ttf",
	run:     runCompare,
}

func runCompare(c *call) (int, error) {
	var font, gate, weights string
	var index int
	var distance float64
	c.flags.StringVar(&font, "font", "", "outline `FONT` of the face, for stems and zones as its maker drew them")
	c.flags.IntVar(&index, "index", 0, "face `N` within a collection, from 0")
	c.flags.StringVar(&gate, "gate", "major", "`SEVERITY` at which to fail: trace, minor, major or critical")
	c.flags.Float64Var(&distance, "distance", harness.DefaultDistanceMM, "reading distance in `MM`")
	c.flags.StringVar(&weights, "weights", "", "print the importance map of one `GLYPH` instead, 0 to 9 a pixel")
	c.glyphsFlag()
	c.flags.BoolVar(&c.json, "json", false, "print findings and summary for a machine")
	c.flags.BoolVar(&c.quiet, "quiet", false, "print errors only")
	if err := c.parse(); err != nil {
		return 0, err
	}
	if c.flags.NArg() != 2 {
		return 0, fmt.Errorf("compare takes two bitmap fonts, got %d; see smokeproof compare --help", c.flags.NArg())
	}
	o := harness.CompareOptions{DistanceMM: distance}
	var err error
	if o.Gate, err = diff.ParseSeverity(gate); err != nil {
		return 0, fmt.Errorf("--gate: %w", err)
	}
	if o.Glyphs, err = harness.ParseSelection(c.glyphs); err != nil {
		return 0, fmt.Errorf("--glyphs: %w", err)
	}
	if c.flags.Changed("index") && font == "" {
		return 0, errors.New("--index goes with --font")
	}
	if font != "" {
		if o.Face, err = face.Open(font, index); err != nil {
			return 0, err
		}
	}
	a, err := readFont(c.flags.Arg(0))
	if err != nil {
		return 0, err
	}
	b, err := readFont(c.flags.Arg(1))
	if err != nil {
		return 0, err
	}
	if weights != "" {
		return 0, c.printWeights(a, b, glyph.Key(weights), &o)
	}
	res, err := harness.Compare(a, b, o)
	if err != nil {
		return 0, err
	}
	return res.Summary.Exit, c.tell(res, "--json lists all")
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
	if _, no := face.Open(path, 0); no == nil {
		return nil, fmt.Errorf("%s is an outline font, and compare takes bitmap fonts; draw it first: smokeproof draw --font %s --size 8 --dpi 300 --format bdf --out golden.bdf", path, shellWord(path))
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
