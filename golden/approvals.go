package golden

import (
	"bufio"
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"smokeproof/harness/glyph"
)

// The approvals file is text in two parts, each sorted, so that two people who
// approve different glyphs change different lines:
//
//	smokeproof approvals 1
//	= ACT VERDICT WHEN UNTIL SEVERITY FACE RENDERER BY WHY
//	KEY INDEX ACT DIGEST
//
// An act is one decision of one person over any number of glyphs, named by the
// start of the SHA-256 of its line, so that a changed line is found. A glyph
// line says which bitmap the act decided on: the first 96 bits of the cell's
// digest, in base64. Words are percent-encoded; "-" stands for an empty one.
const approvalsHead = "smokeproof approvals 1"

// mark is how many bytes of a digest a glyph line keeps: forging a second
// bitmap for it takes 2^96 tries.
const mark = 12

func encodeMark(digest []byte) string { return base64.RawURLEncoding.EncodeToString(digest[:mark]) }

type approvals struct {
	acts   map[string]*act
	glyphs []glyphLine
}

type act struct {
	verdict     Verdict
	when, until time.Time
	severity    string
	face        string // start of the face's digest, hex
	renderer    string
	by, why     string
}

type glyphLine struct {
	key    glyph.Key
	index  int
	act    string
	digest string
}

func (a *act) text() string {
	until := "-"
	if !a.until.IsZero() {
		until = a.until.UTC().Format(time.DateOnly)
	}
	return strings.Join([]string{string(a.verdict), a.when.UTC().Format(time.RFC3339), until,
		word(a.severity), word(a.face), word(a.renderer), word(a.by), word(a.why)}, " ")
}

func (a *act) name() string {
	sum := sha256.Sum256([]byte(a.text()))
	return base64.RawURLEncoding.EncodeToString(sum[:4]) // 32 bits keep the file small; readAct refuses two that meet
}

// word makes any text one word.
func word(s string) string {
	if s == "" {
		return "-"
	}
	if s == "-" {
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

// add records decisions: a glyph keeps one approval, and one line for each
// bitmap that was rejected or put off.
func (a *approvals) add(ds []Decision) {
	if a.acts == nil {
		a.acts = map[string]*act{}
	}
	for i := range ds {
		d := &ds[i]
		x := &act{verdict: d.Verdict, when: d.When.UTC().Truncate(time.Second), until: d.Until, severity: d.Severity,
			face: hex.EncodeToString(d.FaceDigest[:6]), renderer: d.Renderer.String(), by: d.By, why: d.Why}
		name := x.name()
		a.acts[name] = x
		digest := d.Cell.Digest()
		l := glyphLine{d.Cell.Key, d.Cell.Index, name, encodeMark(digest[:])}
		a.glyphs = slices.DeleteFunc(a.glyphs, func(old glyphLine) bool {
			replaced := a.acts[old.act]
			return old.key == l.key && (old.digest == l.digest ||
				d.Verdict == Approve && replaced != nil && replaced.verdict == Approve)
		})
		a.glyphs = append(a.glyphs, l)
	}
}

func (a *approvals) bytes() []byte {
	var b bytes.Buffer
	b.WriteString(approvalsHead + "\n")
	for _, n := range slices.Sorted(maps.Keys(a.acts)) {
		fmt.Fprintf(&b, "= %s %s\n", n, a.acts[n].text())
	}
	lines := slices.Clone(a.glyphs)
	slices.SortFunc(lines, func(x, y glyphLine) int {
		return cmp.Or(cmp.Compare(x.key, y.key), cmp.Compare(x.act, y.act), cmp.Compare(x.digest, y.digest))
	})
	for _, l := range lines {
		fmt.Fprintf(&b, "%s %d %s %s\n", EscapeKey(l.key), l.index, l.act, l.digest)
	}
	return b.Bytes()
}

// readApprovals reads an approvals file and finds lines that were changed by hand.
func readApprovals(data []byte) (*approvals, error) {
	a := &approvals{acts: map[string]*act{}}
	s := bufio.NewScanner(bytes.NewReader(data))
	s.Buffer(nil, 1<<20)
	for n := 1; s.Scan(); n++ {
		var err error
		switch t := s.Text(); {
		case n == 1 && t != approvalsHead:
			err = fmt.Errorf("begins with %.40q, expected %q", t, approvalsHead)
		case n == 1 || t == approvalsHead:
		case strings.HasPrefix(t, "<<<<<<<"), strings.HasPrefix(t, "======="), strings.HasPrefix(t, ">>>>>>>"):
			err = fmt.Errorf("git left a conflict here; decide it and remove the marks")
		case strings.HasPrefix(t, "= "):
			err = a.readAct(strings.Fields(t[2:]))
		default:
			err = a.readGlyph(strings.Fields(t))
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
	}
	if err := s.Err(); err != nil {
		return nil, err
	}
	for _, l := range a.glyphs {
		if a.acts[l.act] == nil {
			return nil, fmt.Errorf("glyph %s was decided by act %s, which is not in the file", EscapeKey(l.key), l.act)
		}
	}
	return a, nil
}

func (a *approvals) readAct(f []string) error {
	if len(f) != 9 {
		return fmt.Errorf("an act has 9 words, not %d", len(f))
	}
	x := &act{verdict: Verdict(f[1])}
	var err error
	if x.when, err = time.Parse(time.RFC3339, f[2]); err != nil {
		return fmt.Errorf("%.40q is no time", f[2])
	}
	if f[3] != "-" {
		if x.until, err = time.Parse(time.DateOnly, f[3]); err != nil {
			return fmt.Errorf("%.40q is no day", f[3])
		}
	}
	for i, p := range []*string{&x.severity, &x.face, &x.renderer, &x.by, &x.why} {
		if *p, err = unword(f[4+i]); err != nil {
			return fmt.Errorf("%.40q is badly encoded", f[4+i])
		}
	}
	if x.name() != f[0] {
		return fmt.Errorf("act %s does not say what it said when it was signed", f[0])
	}
	if had := a.acts[f[0]]; had != nil && had.text() != x.text() {
		return fmt.Errorf("act %s stands for two decisions", f[0])
	}
	a.acts[f[0]] = x
	return nil
}

func (a *approvals) readGlyph(f []string) error {
	if len(f) != 4 {
		return fmt.Errorf("a glyph line has 4 words, not %d", len(f))
	}
	key, err := UnescapeKey(f[0])
	if err != nil {
		return err
	}
	index, err := strconv.Atoi(f[1])
	if err != nil {
		return fmt.Errorf("%.20q is no glyph index", f[1])
	}
	a.glyphs = append(a.glyphs, glyphLine{key, index, f[2], f[3]})
	return nil
}

// approved maps each glyph to the line that approves its golden: the latest,
// for a merge of two branches may keep a line that one of them replaced.
func (a *approvals) approved() map[glyph.Key]glyphLine {
	out := make(map[glyph.Key]glyphLine, len(a.glyphs))
	for _, l := range a.glyphs {
		act := a.acts[l.act]
		if act.verdict != Approve {
			continue
		}
		if had, ok := out[l.key]; !ok || act.when.After(a.acts[had.act].when) {
			out[l.key] = l
		}
	}
	return out
}
