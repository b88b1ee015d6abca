package review

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"smokeproof/harness"
)

type junitSuite struct {
	XMLName  xml.Name    `xml:"testsuite"`
	Name     string      `xml:"name,attr"`
	Tests    int         `xml:"tests,attr"`
	Failures int         `xml:"failures,attr"`
	Errors   int         `xml:"errors,attr"`
	Cases    []junitCase `xml:"testcase"`
}

type junitCase struct {
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
// that could not be drawn; changes below the gate pass.
func WriteJUnit(w io.Writer, res *harness.Results) error {
	s := junitSuite{Name: "smokeproof"}
	for i := range res.Changes {
		c := &res.Changes[i]
		k := junitCase{Class: strikeOf(c), Name: plain(c.Glyph)}
		r := &junitReason{Message: headline(c), Type: c.Status, Text: strings.Join(art(c), "\n")}
		switch {
		case c.Status == "undrawn":
			k.Error = r
			s.Errors++
		case c.Fails(res.Gate):
			k.Failure = r
			s.Failures++
		}
		s.Cases = append(s.Cases, k)
	}
	for _, k := range res.Strikes {
		if k.Equal == k.Glyphs && k.Missing == 0 {
			s.Cases = append(s.Cases, junitCase{Class: fmt.Sprintf("%s %s pt %s dpi %s", plain(k.Face), k.Size, k.DPI, plain(k.Device)), Name: "all glyphs"})
		}
	}
	s.Tests = len(s.Cases)
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	e := xml.NewEncoder(w)
	e.Indent("", " ")
	if err := e.Encode(s); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

func headline(c *harness.Change) string {
	if len(c.Findings) == 0 {
		return "nobody approved this glyph"
	}
	f := c.Findings[0]
	return fmt.Sprintf("%s (%s): %s", f.Finding, f.Severity, plain(f.Text))
}
