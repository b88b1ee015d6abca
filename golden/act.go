package golden

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"net/url"
	"strings"
	"time"
)

// act is one decision of one person over any number of glyphs of a strike.
type act struct {
	name        string   // the start of its digest, in base64
	after       []string // the acts that no other had followed when this one was made, sorted
	tally       tally    // of the glyph lines that it wrote, less those that it replaced
	verdict     Verdict
	when, until time.Time
	severity    string
	face        string // start of the face's digest, hex
	renderer    string
	by, why     string
	seed        [sha256.Size]byte // digest of all but the tally: what its glyph lines are weighed with
}

// nameLength is the least length of an act's name: 36 bits keep the file
// small; a second act that would get the same name gets a longer one.
const nameLength = 6

func newAct(d *Decision, after []string) *act {
	a := &act{
		after: after, verdict: d.Verdict, when: d.When.UTC().Truncate(time.Second), until: d.Until, severity: d.Severity,
		face: hex.EncodeToString(d.FaceDigest[:6]), renderer: d.Renderer.String(), by: d.By, why: d.Why,
	}
	a.seed = sha256.Sum256([]byte(a.words("-")))
	return a
}

// words is the act's line without its name.
func (a *act) words(tally string) string {
	until, after := "-", "-"
	if !a.until.IsZero() {
		until = a.until.UTC().Format(time.DateOnly)
	}
	if len(a.after) > 0 {
		after = strings.Join(a.after, "+")
	}
	return strings.Join([]string{after, tally, string(a.verdict), a.when.Format(time.RFC3339), until,
		word(a.severity), word(a.face), word(a.renderer), word(a.by), word(a.why)}, " ")
}

func (a *act) text() string { return a.words(a.tally.String()) }

func (a *act) digest() string {
	sum := sha256.Sum256([]byte(a.text()))
	return base64.RawURLEncoding.EncodeToString(sum[:])
}

// parseAct reads an act's line without its prefix and finds a changed one.
func parseAct(line string) (*act, error) {
	f := strings.Split(line, " ")
	if len(f) != 11 {
		return nil, fmt.Errorf("an act has 11 words, not %d", len(f))
	}
	a := &act{name: f[0], verdict: Verdict(f[3])}
	if f[1] != "-" {
		a.after = strings.Split(f[1], "+")
	}
	var err error
	if a.tally, err = parseTally(f[2]); err != nil {
		return nil, fmt.Errorf("%.40q %w", f[2], err)
	}
	if a.when, err = time.Parse(time.RFC3339, f[4]); err != nil {
		return nil, fmt.Errorf("%.40q is no time", f[4])
	}
	if f[5] != "-" {
		if a.until, err = time.Parse(time.DateOnly, f[5]); err != nil {
			return nil, fmt.Errorf("%.40q is no day", f[5])
		}
	}
	for i, p := range []*string{&a.severity, &a.face, &a.renderer, &a.by, &a.why} {
		if *p, err = unword(f[6+i]); err != nil {
			return nil, fmt.Errorf("%.40q is badly encoded", f[6+i])
		}
	}
	if len(a.name) < nameLength || !strings.HasPrefix(a.digest(), a.name) || a.text() != line[len(a.name)+1:] {
		return nil, fmt.Errorf("act %.40s does not say what it said when it was signed", a.name)
	}
	a.seed = sha256.Sum256([]byte(a.words("-")))
	return a, nil
}

// word makes any text one word.
func word(s string) string {
	switch s {
	case "":
		return "-"
	case "-":
		return "%2D"
	}
	return url.PathEscape(s)
}

func unword(s string) (string, error) {
	if s == "-" {
		return "", nil
	}
	return url.PathUnescape(s)
}
