package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

var exportVerb = verb{
	name: "export", does: "write goldens out: bdf, xbdf (for the X font compiler), art, pbm or png",
	example: "smokeproof export --format png --out 'pictures/{face}/{dpi}/{size}/{glyph}.png'",
	run:     runExport,
}

func runExport(c *call) (int, error) {
	var format, out string
	c.selectionFlags()
	c.flags.StringVar(&format, "format", "bdf", "`FORMAT`: bdf, xbdf (for the X font compiler), art, pbm or png")
	c.flags.StringVar(&out, "out", "", "`FILE`, or a pattern with {face}, {device}, {dpi}, {size}, {glyph}; without it to standard output")
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	f, err := harness.FindExportFormat(format)
	if err != nil {
		return 0, fmt.Errorf("--format: %w", err)
	}
	r, err := c.open()
	if err != nil {
		return 0, err
	}
	defer r.Close()
	files, glyphs, err := r.Export(c.ctx, f, out, c.stdout, func(path string, print func(io.Writer) error) error {
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return fmt.Errorf("export: %w", err)
		}
		return writeTo(path, print)
	})
	if err != nil {
		return 0, err
	}
	if out != "" {
		c.say("%s in %s", review.Counted(glyphs, "glyph"), review.Counted(files, "file"))
	}
	return harness.ExitOK, nil
}
