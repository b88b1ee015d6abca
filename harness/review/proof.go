package review

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"smokeproof/harness"
	"smokeproof/harness/glyph"
)

// Paper is the size of a proof's sheet in millimetres.
type Paper struct{ Width, Height int }

// A4 is the sheet of ISO 216.
var A4 = Paper{210, 297}

// ParsePaper reads "a4", "letter" or "104x150", in millimetres.
func ParsePaper(s string) (Paper, error) {
	switch s {
	case "a4":
		return A4, nil
	case "letter":
		return Paper{216, 279}, nil
	}
	var p Paper
	var rest string
	if n, _ := fmt.Sscanf(s, "%dx%d%s", &p.Width, &p.Height, &rest); n != 2 || p.Width < 60 || p.Height < 60 || p.Width > 1200 || p.Height > 1200 {
		return p, fmt.Errorf("paper %q is unknown; use a4, letter or WIDTHxHEIGHT in mm, 60 to 1200", s)
	}
	return p, nil
}

// Proofs is what WriteProofs made.
type Proofs struct {
	Strikes int
	Sheets  int
	Grey    []string // strikes left out: a sheet of one bit a pixel cannot hold them
}

// WriteProofs writes sheets to print and to lay under a loupe: for every face on
// a bilevel device a PDF of its strikes with changes, and each of its sheets as PBM
// and PNG, one bit a pixel at the device's own resolution, nothing resampled. Files
// are named by number; sheets.txt says what each number is.
func WriteProofs(ctx context.Context, dir string, res *harness.Results, around *harness.Surround, paper Paper) (*Proofs, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("proofs: %w", err)
	}
	if err := dropStale(dir, nil, "proof-[0-9]*.pdf", "proof-[0-9]*.pbm", "proof-[0-9]*.png"); err != nil {
		return nil, fmt.Errorf("proofs: %w", err)
	}
	strikes, grey := bilevel(proofStrikes(res, around))
	out := &Proofs{Strikes: len(strikes), Grey: grey}
	var list strings.Builder
	for i, p := range proofs(strikes) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		sheets, err := p.set(paper)
		if err != nil {
			return nil, fmt.Errorf("proofs: %s: %w", p.title(), err)
		}
		out.Sheets += len(sheets)
		name := fmt.Sprintf("proof-%03d", i+1)
		fmt.Fprintf(&list, "%s: %s; sheets: %d\n", name, p.title(), len(sheets))
		files := []bundleFile{{name + ".pdf", func(w io.Writer) error { return writePDF(w, sheets) }}}
		for i, s := range sheets {
			page := fmt.Sprintf("%s-%02d", name, i+1)
			files = append(files, bundleFile{page + ".pbm", s.writePBM}, bundleFile{page + ".png", s.writePNG})
		}
		for _, f := range files {
			if err := f.write(dir); err != nil {
				return nil, fmt.Errorf("proofs: %s: %w", f.name, err)
			}
		}
	}
	names := bundleFile{"sheets.txt", func(w io.Writer) error { _, err := io.WriteString(w, list.String()); return err }}
	return out, names.write(dir)
}

// bilevel leaves out the strikes that are grey, and names them.
func bilevel(strikes []*proofStrike) (out []*proofStrike, grey []string) {
	for _, st := range strikes {
		if c := st.changes[0]; c.Mode == glyph.Grey.String() {
			grey = append(grey, strikeOf(c))
		} else {
			out = append(out, st)
		}
	}
	return out, grey
}

// proof is the strikes of one face on one device at one resolution, sizes ascending:
// they share sheets.
type proof []*proofStrike

func proofs(strikes []*proofStrike) []proof {
	type key struct{ face, device, dpi string }
	at := map[key]int{}
	var out []proof
	for _, st := range strikes {
		c := st.changes[0]
		k := key{c.Face, c.Device, c.DPI}
		i, ok := at[k]
		if !ok {
			i, at[k] = len(out), len(out)
			out = append(out, nil)
		}
		out[i] = append(out[i], st)
	}
	for _, p := range out {
		slices.SortStableFunc(p, func(a, b *proofStrike) int { return cmp.Compare(leading(a.size()), leading(b.size())) })
	}
	return out
}

func (p proof) title() string {
	c := p[0].changes[0]
	var list []string
	for _, st := range p {
		list = append(list, st.size())
	}
	return fmt.Sprintf("%s, %s at %s dpi, %s", plain(c.Face), sizes(list), c.DPI, plain(c.Device))
}

// proofStrike is the changes of one strike and the letters that stand in it.
type proofStrike struct {
	changes []*harness.Change // worst first
	byCode  map[int]*harness.Change
	letters map[int]*harness.Picture
}

func (st *proofStrike) size() string { return st.changes[0].Size }

// proofStrikes are those with changes, in the order of the results.
func proofStrikes(res *harness.Results, around *harness.Surround) []*proofStrike {
	byKey := map[harness.StrikeKey]*proofStrike{}
	var out []*proofStrike
	for i := range res.Changes {
		c := &res.Changes[i]
		k := c.StrikeKey()
		if byKey[k] == nil {
			byKey[k] = &proofStrike{byCode: map[int]*harness.Change{}, letters: map[int]*harness.Picture{}}
			out = append(out, byKey[k])
		}
		byKey[k].changes = append(byKey[k].changes, c)
		byKey[k].byCode[c.Code] = c
	}
	for i := range around.Letters {
		l := &around.Letters[i]
		st := byKey[harness.StrikeKey{Face: l.Face, Device: l.Device, Size: l.Size}]
		for j := range l.Cells {
			if st != nil {
				st.letters[l.Cells[j].Code] = &l.Cells[j].Picture
			}
		}
	}
	for _, st := range out {
		slices.SortStableFunc(st.changes, func(a, b *harness.Change) int { return harness.Worse(b, a) })
	}
	return out
}

// sort is one letter of a word: its golden and candidate, either of which may be
// missing, and whether they differ.
type sort struct {
	golden, candidate *harness.Picture
	changed           bool
}

// word sets a changed glyph among its neighbours; letters that the strike lacks
// are left out.
func (st *proofStrike) word(c *harness.Change) []sort {
	var out []sort
	for _, code := range wordAround(c.Code) {
		x := st.byCode[code]
		if code == c.Code {
			x = c
		}
		if x != nil {
			out = append(out, sort{x.Golden, x.Candidate, true})
		} else if p := st.letters[code]; p != nil {
			out = append(out, sort{p, p, false})
		}
	}
	return out
}

// advance is that of a side, else of the other: both lines keep their places.
func (s sort) advance(candidate bool) int {
	a, b := s.golden, s.candidate
	if candidate {
		a, b = b, a
	}
	if a == nil {
		a = b
	}
	if a == nil {
		return 0
	}
	return a.Advance
}
