package golden

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// bytes is the file's text, the same for the same decisions; seal makes the seal of its glyph lines, and is nil
// where there is none.
func (a *approvals) bytes(seal func(lines []byte) string) []byte {
	var head, b bytes.Buffer
	head.WriteString(approvalsHead + "\n")
	for _, n := range slices.Sorted(maps.Keys(a.acts)) {
		fmt.Fprintf(&head, "%s%s %s\n", actPrefix, n, a.acts[n].text())
	}
	a.sort()
	for i := range a.glyphs {
		l := &a.glyphs[i]
		fmt.Fprintf(&b, "%s %d %s %s", EscapeKey(l.key), l.index, l.act.name, l.digest)
		if l.replaced != "" {
			b.WriteString(" " + l.replaced)
		}
		b.WriteByte('\n')
	}
	if seal != nil {
		head.WriteString(sealPrefix + seal(b.Bytes()) + "\n")
	}
	return append(head.Bytes(), b.Bytes()...)
}

// readApprovals reads an approvals file, its lines into the memory of others that are
// no longer used. It finds acts that were changed by hand or that are gone from the
// chain; balance finds the rest.
func readApprovals(data []byte, old []glyphLine) (*approvals, error) {
	a := newApprovals()
	text := string(data) // keys and digests are parts of it
	a.glyphs = slices.Grow(old[:0], strings.Count(text, "\n"))
	for n := 1; text != ""; n++ {
		var line string
		line, text, _ = strings.Cut(text, "\n")
		line = strings.TrimSuffix(line, "\r")
		var err error
		switch {
		case n == 1 && strings.HasPrefix(line, pointerMagic):
			err = errPointer
		case n == 1 && line != approvalsHead && strings.HasPrefix(line, approvalsMagic):
			err = otherVersion(line[len(approvalsMagic):])
		case n == 1 && line != approvalsHead:
			err = fmt.Errorf("begins with %.40q, expected %q", line, approvalsHead)
		case line == approvalsHead:
		case strings.HasPrefix(line, actPrefix):
			err = a.readAct(line[len(actPrefix):])
		case strings.HasPrefix(line, sealPrefix): // a merge leaves both sides' seals, of which neither holds
			a.seal, a.sealed = line[len(sealPrefix):], text
		default:
			err = a.readGlyph(line)
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
	}
	var named, known *act
	for i := range a.glyphs {
		l := &a.glyphs[i]
		if l.act != named {
			named, known = l.act, a.acts[l.act.name]
		}
		if l.act = known; known == nil {
			return nil, fmt.Errorf("glyph %s was decided by act %.40s, which is not in the file: %s", EscapeKey(l.key), named.name, astray)
		}
	}
	for _, x := range a.acts {
		for _, n := range x.after {
			if a.acts[n] == nil {
				return nil, fmt.Errorf("act %s follows act %.40s, which is not in the file: %s", x.name, n, astray)
			}
		}
	}
	a.dropVoid()
	return a, nil
}

// otherVersion is a file that another smokeproof wrote: ErrUnsupported is in the chain.
type otherVersion string

func (v otherVersion) Error() string {
	return fmt.Sprintf("approvals of version %.20q, and this smokeproof reads 2; use the one that wrote them, or remove the file and approve --stored", string(v))
}

func (otherVersion) Is(target error) bool { return target == ErrUnsupported }

// astray says how a file comes not to hold together, and restore what to do.
const (
	astray  = "a line was changed, added or taken out by hand, or a commit picked without the one before it"
	restore = "restore the file from git, and approve here what the picked commit approved"
)

// dropVoid leaves out lines that a later act replaced: git keeps one where a
// neighbour of it was changed on the other branch.
func (a *approvals) dropVoid() {
	if a.single() {
		return
	}
	a.sort()
	a.glyphs = slices.Compact(a.glyphs)
	var void map[glyphLine]bool
	a.crowded(func(ls []glyphLine) {
		for i := range ls {
			for j := range ls {
				if i != j && ls[i].displaces(&ls[j]) && a.precedes(ls[j].act, ls[i].act) {
					if void == nil {
						void = map[glyphLine]bool{}
					}
					void[ls[j]] = true
				}
			}
		}
	})
	if len(void) > 0 {
		a.glyphs = slices.DeleteFunc(a.glyphs, func(l glyphLine) bool { return void[l] })
	}
}

func (a *approvals) readAct(line string) error {
	x, err := parseAct(line)
	if err != nil {
		return err
	}
	had := a.acts[x.name]
	if had == nil {
		a.acts[x.name] = x
	} else if had.text() != x.text() {
		return fmt.Errorf("act %s stands for two decisions", x.name)
	}
	return nil
}

func (a *approvals) readGlyph(line string) error {
	var f [5]string
	n, from := 0, 0
	for i := 0; i < len(line) && n < len(f); i++ {
		if line[i] == ' ' {
			f[n], from = line[from:i], i+1
			n++
		}
	}
	if n < len(f) {
		f[n] = line[from:]
	}
	if n++; n < 4 || n > len(f) {
		if isConflict(line) {
			return errBothSides
		}
		return fmt.Errorf("%.40q is no glyph line of 4 or 5 words", line)
	}
	key, err := UnescapeKey(f[0])
	if err != nil {
		return err
	}
	index, err := strconv.Atoi(f[1])
	if err != nil {
		return fmt.Errorf("%.20q is no glyph index", f[1])
	}
	if n == 5 {
		for w := range strings.SplitSeq(f[4], "+") {
			if _, err := parseTally(w); err != nil {
				return fmt.Errorf("%.40q %w", w, err)
			}
		}
	}
	a.glyphs = append(a.glyphs, glyphLine{key: key, index: index, act: a.named(f[2]), digest: f[3], replaced: f[4]})
	return nil
}

// named is the act of a name, mostly that of the line before; one of the name alone
// where it is not read yet.
func (a *approvals) named(name string) *act {
	if n := len(a.glyphs); n > 0 && a.glyphs[n-1].act.name == name {
		return a.glyphs[n-1].act
	}
	if x := a.acts[name]; x != nil {
		return x
	}
	return &act{name: name}
}
