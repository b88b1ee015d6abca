package golden

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// bytes is the file's text, the same for the same decisions.
func (a *approvals) bytes() []byte {
	var b bytes.Buffer
	b.WriteString(approvalsHead + "\n")
	for _, n := range slices.Sorted(maps.Keys(a.acts)) {
		fmt.Fprintf(&b, "%s%s %s\n", actPrefix, n, a.acts[n].text())
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
	return b.Bytes()
}

// readApprovals reads an approvals file. It finds acts that were changed by
// hand or that are gone from the chain; balance finds the rest.
func readApprovals(data []byte) (*approvals, error) {
	a := newApprovals()
	var names []string // of each glyph line's act
	s := bufio.NewScanner(bytes.NewReader(data))
	s.Buffer(nil, 1<<20)
	for n := 1; s.Scan(); n++ {
		var err error
		switch t := s.Text(); {
		case n == 1 && t != approvalsHead:
			err = fmt.Errorf("begins with %.40q, expected %q", t, approvalsHead)
		case n == 1 || t == approvalsHead:
		case strings.HasPrefix(t, actPrefix):
			err = a.readAct(t[len(actPrefix):])
		default:
			var name string
			name, err = a.readGlyph(t)
			names = append(names, name)
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
	}
	if err := s.Err(); err != nil {
		return nil, err
	}
	for i := range a.glyphs {
		l := &a.glyphs[i]
		if l.act = a.acts[names[i]]; l.act == nil {
			return nil, fmt.Errorf("glyph %s was decided by act %.40s, which is not in the file", EscapeKey(l.key), names[i])
		}
	}
	for _, x := range a.acts {
		for _, n := range x.after {
			if a.acts[n] == nil {
				return nil, fmt.Errorf("act %s follows act %.40s, which is not in the file", x.name, n)
			}
		}
	}
	a.dropVoid()
	return a, nil
}

// dropVoid leaves out lines that a later act replaced: git keeps one where a
// neighbour of it was changed on the other branch.
func (a *approvals) dropVoid() {
	a.sort()
	a.glyphs = slices.Compact(a.glyphs)
	void := map[glyphLine]bool{}
	a.crowded(func(ls []glyphLine) {
		for i := range ls {
			for j := range ls {
				if i != j && ls[i].displaces(&ls[j]) && a.precedes(ls[j].act, ls[i].act) {
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
	if had := a.acts[x.name]; had != nil && had.text() != x.text() {
		return fmt.Errorf("act %s stands for two decisions", x.name)
	}
	a.acts[x.name] = x
	return nil
}

func (a *approvals) readGlyph(line string) (act string, err error) {
	f := strings.Split(line, " ")
	if len(f) != 4 && len(f) != 5 {
		if strings.HasPrefix(line, "<<<<<<<") || strings.HasPrefix(line, "=======") || strings.HasPrefix(line, ">>>>>>>") {
			return "", errors.New("git left a conflict here; keep the lines of both sides and remove the marks")
		}
		return "", fmt.Errorf("a glyph line has 4 or 5 words, not %d", len(f))
	}
	key, err := UnescapeKey(f[0])
	if err != nil {
		return "", err
	}
	index, err := strconv.Atoi(f[1])
	if err != nil {
		return "", fmt.Errorf("%.20q is no glyph index", f[1])
	}
	l := glyphLine{key: key, index: index, digest: f[3]}
	if len(f) == 5 {
		if _, err := parseTally(f[4]); err != nil {
			return "", fmt.Errorf("%.40q %w", f[4], err)
		}
		l.replaced = f[4]
	}
	a.glyphs = append(a.glyphs, l)
	return f[2], nil
}
