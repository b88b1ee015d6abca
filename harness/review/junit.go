package review

import (
	"cmp"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"smokeproof/harness"
)

type junitCase struct {
	XMLName xml.Name     `xml:"testcase"`
	Class   string       `xml:"classname,attr"`
	Name    string       `xml:"name,attr"`
	Failure *junitReason `xml:"failure"`
	Error   *junitReason `xml:"error"`
}

type junitReason struct {
	Message string `xml:"message,attr"`
	Type    string `xml:"type,attr"`
	Text    string `xml:",chardata"`
}

// WriteJUnit writes JUnit XML: a case for each glyph that changed and one for each
// clean strike. A failure is a change at the gate or a glyph nobody approved, an error one
// that could not be drawn or a strike whose goldens could not be read; changes below the gate pass.
func WriteJUnit(w io.Writer, res *harness.Results) error {
	tests, failures, errs := 0, 0, 0
	err := eachCase(res, func(k *junitCase) error {
		tests++
		if k.Failure != nil {
			failures++
		}
		if k.Error != nil {
			errs++
		}
		return nil
	})
	if err != nil {
		return err
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	e := xml.NewEncoder(w)
	e.Indent("", " ")
	suite := xml.StartElement{Name: xml.Name{Local: "testsuite"}}
	for _, a := range [][2]string{{"name", "smokeproof"}, {"tests", fmt.Sprint(tests)}, {"failures", fmt.Sprint(failures)}, {"errors", fmt.Sprint(errs)}} {
		suite.Attr = append(suite.Attr, xml.Attr{Name: xml.Name{Local: a[0]}, Value: a[1]})
	}
	if err := e.EncodeToken(suite); err != nil {
		return err
	}
	if err := eachCase(res, func(k *junitCase) error { return e.Encode(k) }); err != nil {
		return err
	}
	if err := e.EncodeToken(suite.End()); err != nil {
		return err
	}
	if err := e.Close(); err != nil {
		return err
	}
	_, err = io.WriteString(w, "\n")
	return err
}

// eachCase makes the cases one by one: a run may have a million.
func eachCase(res *harness.Results, yield func(*junitCase) error) error {
	err := res.Each(func(c *harness.Change) error {
		k := caseOf(c.Face, c.Device, plain(c.Glyph), c.Size)
		r := &junitReason{Message: headline(c), Type: string(c.Status), Text: strings.Join(told(c), "\n")}
		switch {
		case c.Status == harness.StatusUndrawn:
			k.Error = r
		case c.Fails(res.Gate):
			k.Failure = r
		}
		return yield(&k)
	})
	for i := 0; err == nil && i < len(res.Summary.Unread); i++ {
		why := Legible(res.Summary.Unread[i])
		strike, _, _ := strings.Cut(why, ": ")
		err = yield(&junitCase{Class: "goldens", Name: "unread, " + strike, Error: &junitReason{Message: why, Type: "unread"}})
	}
	for i := 0; err == nil && i < len(res.Strikes); i++ {
		k := &res.Strikes[i]
		if err = setCases(k, res.Gate, yield); err != nil {
			break
		}
		if k.Equal == k.Glyphs && k.Missing == 0 {
			all := caseOf(k.Face, k.Device, "all glyphs", k.Size)
			err = yield(&all)
		}
	}
	return err
}

// caseOf names a case so that readers of JUnit list it by face and device, as they part a class at its last
// dot (common practice, no source), and know it again in the next run.
func caseOf(face, device, what, size string) junitCase {
	return junitCase{Class: plain(face) + "." + plain(device), Name: fmt.Sprintf("%s, %s pt", what, size)}
}

// told is what a person needs who sees nothing but the case: all that was found, and the pixels.
func told(c *harness.Change) []string {
	var lines []string
	for _, f := range c.Findings {
		lines = append(lines, fmt.Sprintf("%s %s: %s", f.Severity, f.Finding, plain(f.Text)))
	}
	pixels := art(c)
	if c.Golden != nil && len(pixels) > 0 {
		lines = append(lines, overlayKey)
	}
	return append(lines, pixels...)
}

// setCases makes a case of each finding of a strike as a set.
func setCases(k *harness.StrikeRecord, gate string, yield func(*junitCase) error) error {
	for i := range k.Set {
		f := &k.Set[i]
		c := caseOf(k.Face, k.Device, "set, "+plain(f.Glyph)+" "+f.Finding, k.Size)
		if f.Fails(gate) {
			c.Failure = &junitReason{Message: fmt.Sprintf("%s (%s): %s", f.Finding, f.Severity, plain(f.Text)), Type: "set"}
		}
		if err := yield(&c); err != nil {
			return err
		}
	}
	return nil
}

const neverApproved = "nobody approved this glyph"

func headline(c *harness.Change) string {
	switch {
	case c.ByHand():
		return "nobody approved the bitmap in the golden folder: smokeproof approve --stored keeps it"
	case len(c.Findings) == 0:
		return cmp.Or(reason(c), neverApproved)
	}
	f := c.Findings[0]
	said := choose(c.Status == harness.StatusNew && c.Astray == "", neverApproved+"; ", "") + fmt.Sprintf("%s (%s): %s", f.Finding, f.Severity, plain(f.Text))
	if why := reason(c); why != "" {
		said += "; " + why
	}
	return said
}
