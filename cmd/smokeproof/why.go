package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"text/tabwriter"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
	"smokeproof/harness/gridfit/stems"
	"smokeproof/harness/review"
)

// explain prints, for each selected glyph, what decided its positions.
func (c *call) explain(r *harness.Run) (status int, err error) {
	err = r.Explain(c.ctx, func(s *harness.StrikeJob, ref glyph.Ref, why *gridfit.Reasons, err error) error {
		if s.Device.Renderer != "built-in" {
			return fmt.Errorf("--why explains the built-in renderer; device %q has another, leave it out with --device", s.Device.Name)
		}
		if err != nil {
			status = harness.ExitIncomplete
			c.warn("%s: %v", s.Strike, err)
			return nil
		}
		return writeWhy(c.stdout, s.Strike, ref, why)
	})
	return status, err
}

// writeWhy prints one glyph's reasons. Positions grow to the right and up.
func writeWhy(out io.Writer, s glyph.Strike, ref glyph.Ref, why *gridfit.Reasons) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "%s\n", review.Legible(fmt.Sprintf("%s, %s", ref.Key, s)))
	fmt.Fprintf(w, "  size\t%s × %s ppem, %d units per em\n", px(why.PPEM.X), px(why.PPEM.Y), why.UPEM)
	fmt.Fprintf(w, "  advance\tasked %s px, given %s px, drawn %d px\n", px(why.Linear), px(why.Advance), why.Advance.Round())
	fmt.Fprintf(w, "  dropout\t%s\n", dropoutWords(why.Dropout))
	if why.Hints.Sideways != 0 {
		fmt.Fprintf(w, "  sideways\t%s px\n", px(why.Hints.Sideways))
	}
	for _, n := range why.Notes {
		fmt.Fprintf(w, "  note\t%s\n", n)
	}
	writeZones(w, why.Hints.Zones)
	writeStems(w, why.Hints.Stems)
	writeLeft(w, why.Hints.Left)
	fmt.Fprintln(w)
	return w.Flush()
}

func writeZones(w io.Writer, zones []stems.ZoneChoice) {
	if len(zones) == 0 {
		return
	}
	fmt.Fprintf(w, "\n  zone\tflat\trounds to\trow\trounds stand\trow from\n")
	for i, z := range zones {
		kind, rounds, from := "bottom", "by overshoot", "this face"
		if z.Top {
			kind = "top"
		}
		if z.Suppressed {
			rounds = "on the row"
		}
		if z.Family {
			from = "the family"
		}
		fmt.Fprintf(w, "  %d %s\t%s\t%s\t%s\t%s\t%s\n", i+1, kind, px(z.Flat), px(z.Over), px(z.Row), rounds, from)
	}
}

func writeStems(w io.Writer, all []stems.StemChoice) {
	if len(all) == 0 {
		return
	}
	fmt.Fprintf(w, "\n  stem\tunits\tasked px\tgiven px\twidth asked\ttaken for\tgiven\tdecided by\n")
	for _, s := range all {
		by := s.By.String()
		if s.Zone >= 0 {
			by += fmt.Sprintf(" %d", s.Zone+1)
		}
		if s.Lo == s.Hi {
			fmt.Fprintf(w, "  %s\t%s\t%s\t%s\t\t\t\t%s\n", stemKind(s.Axis, s.Ghost, s.Implied), px(s.Lo), px(s.AskLo), px(s.GivenLo), by)
			continue
		}
		fmt.Fprintf(w, "  %s\t%s to %s\t%s to %s\t%s to %s\t%s\t%s\t%s\t%s\n", stemKind(s.Axis, s.Ghost, s.Implied), px(s.Lo), px(s.Hi),
			px(s.AskLo), px(s.AskHi), px(s.GivenLo), px(s.GivenHi), px(s.AskHi-s.AskLo), px(s.TakenFor), px(s.GivenHi-s.GivenLo), by)
	}
}

// writeLeft prints the declared stems that nothing was fitted by.
func writeLeft(w io.Writer, all []stems.LeftOut) {
	if len(all) == 0 {
		return
	}
	fmt.Fprintf(w, "\n  left out\tunits\tbecause\n")
	for _, s := range all {
		units := px(s.Lo)
		if s.Lo != s.Hi {
			units += " to " + px(s.Hi)
		}
		fmt.Fprintf(w, "  %s\t%s\t%s\n", stemKind(s.Axis, s.Ghost, false), units, s.Why)
	}
}

func stemKind(axis glyph.Axis, ghost face.Ghost, implied bool) string {
	edge := map[face.Ghost]string{face.GhostBottom: "bottom edge", face.GhostTop: "top edge"}[ghost]
	switch {
	case implied && edge == "":
		return "upright, undeclared"
	case implied:
		return edge + ", undeclared"
	case edge != "":
		return edge
	case axis == glyph.AxisX:
		return "upright"
	}
	return "bar"
}

func dropoutWords(d glyph.Dropout) string {
	switch d {
	case 0:
		return "0: simple"
	case 1:
		return "1: simple, stubs left out"
	case 4:
		return "4: to the nearer pixel"
	case 5:
		return "5: to the nearer pixel, stubs left out"
	}
	return "off"
}

// px is a 26.6 length with two decimals at most.
func px(v fixed.Int26_6) string {
	return strconv.FormatFloat(math.Round(float64(v)*100/64)/100, 'f', -1, 64)
}
