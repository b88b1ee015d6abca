package render

import (
	"bytes"
	"errors"
	"fmt"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// readAnswer reads a BDF document and finds the requested glyphs in it; a glyph
// that the document leaves out is absent from the map. A strict answer holds
// the requested keys and no other; a lenient one, from a program that knows
// nothing of requests, may hold more, and may know a glyph by code point alone.
func readAnswer(doc []byte, job *Job, refs []glyph.Ref, strict bool) (map[glyph.Key]glyph.Cell, error) {
	if begins := bytes.TrimSpace(doc); len(begins) == 0 {
		return nil, errors.New("it printed nothing; a BDF document goes to standard output")
	} else if !bytes.HasPrefix(begins, []byte("STARTFONT")) {
		first, _, _ := bytes.Cut(begins, []byte("\n"))
		return nil, fmt.Errorf("it begins with %.80q and not with STARTFONT; words of its own belong on standard error", bytes.TrimSpace(first))
	}
	font, err := golden.ReadBDF(bytes.NewReader(doc))
	if err != nil {
		return nil, err
	}
	if font.Ragged != "" {
		return nil, errors.New(font.Ragged)
	}
	if err := ofSize(font, job.Strike); err != nil {
		return nil, err
	}
	byKey := make(map[glyph.Key]glyph.Ref, len(refs))
	byCode := make(map[rune]glyph.Ref, len(refs))
	for _, r := range refs {
		byKey[r.Key] = r
		if r.Code != glyph.NoCode {
			byCode[r.Code] = r
		}
	}
	cells := make(map[glyph.Key]glyph.Cell, len(refs))
	for _, c := range font.Cells {
		ref, asked := byKey[c.Key]
		if !asked && !strict {
			ref, asked = byCode[c.Code]
		}
		_, twice := cells[ref.Key]
		switch {
		case !asked && strict:
			return nil, fmt.Errorf("it drew glyph %q, which nobody asked for; STARTCHAR repeats the key of the request", c.Key)
		case !asked, twice && !strict:
			continue
		case twice:
			return nil, fmt.Errorf("it drew glyph %q twice", c.Key)
		}
		if err := plausible(&c, job.Strike); err != nil {
			return nil, err
		}
		c.Ref, c.Bitmap = ref, c.Bitmap.Tight()
		cells[ref.Key] = c
	}
	return cells, nil
}

// ofSize refuses a document of another size or resolution than was asked for: its glyphs may
// pass for those of the strike.
func ofSize(font *golden.Font, s glyph.Strike) error {
	said := []int{int(font.Size), int(font.DPI.X), int(font.DPI.Y)}
	for i, asked := range []int{int(s.Size), int(s.DPI.X), int(s.DPI.Y)} {
		if !roundedFrom(asked, said[i]) {
			return fmt.Errorf("it has SIZE %s %s %s and was asked for %s %s %s; draw what the request says, and write that size",
				font.Size, font.DPI.X, font.DPI.Y, s.Size, s.DPI.X, s.DPI.Y)
		}
	}
	return nil
}

// roundedFrom says that a number in thousandths is the one asked for, or that one rounded to fewer
// decimals, up or down: writers of BDF know whole numbers alone, as a rule.
func roundedFrom(asked, said int) bool {
	for unit := 1; unit <= 1000; unit *= 10 {
		if said == asked-asked%unit || said == (asked+unit-1)/unit*unit {
			return said > 0
		}
	}
	return false
}

// plausible refuses a cell that no glyph of the strike can be: more than 32 em
// from the origin in any direction, or of another depth than the mode has.
func plausible(c *glyph.Cell, s glyph.Strike) error {
	want := 1
	if s.Mode == glyph.Grey {
		want = 8
	}
	b, ppem := &c.Bitmap, s.PPEM()
	if b.Depth != want {
		return fmt.Errorf("glyph %q has %d bits per pixel; a %s strike has %d, the fourth field of SIZE", c.Key, b.Depth, s.Mode, want)
	}
	x, y := 32*(int(ppem.X)/64+1), 32*(int(ppem.Y)/64+1)
	far := max(abs(b.Left), abs(b.Right()), abs(c.Advance)) > x || max(abs(b.Bottom), abs(b.Top())) > y
	if far {
		return fmt.Errorf("glyph %q is absurd: box %d×%d at (%d, %d), advance %d, in a strike of %d×%d ppem",
			c.Key, b.Width, b.Height, b.Left, b.Bottom, c.Advance, int(ppem.X)/64, int(ppem.Y)/64)
	}
	return nil
}

func abs(v int) int { return max(v, -v) }
