package harness

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// maxNumber bounds the numbers of a names file.
const maxNumber = 1 << 16

// ReadGlyphNames reads which glyph name each number stands for: a PostScript
// encoding vector, "/Name [ /A /B … ] def" (PLRM 3, 5.3), or lines of a number
// (decimal, octal as 0101 or hex as 0x41) and a name. '%' and '#' begin comments.
func ReadGlyphNames(r io.Reader) (map[int]string, error) {
	var lines []string
	s := bufio.NewScanner(r)
	for s.Scan() {
		t := s.Text()
		if i := strings.IndexAny(t, "%#"); i >= 0 {
			t = t[:i]
		}
		lines = append(lines, t)
	}
	if err := s.Err(); err != nil {
		return nil, fmt.Errorf("names: %w", err)
	}
	text := strings.Join(lines, "\n")
	if _, vector, ok := strings.Cut(text, "["); ok {
		return encodingVector(vector)
	}
	out := map[int]string{}
	for i, t := range lines {
		f := strings.Fields(t)
		if len(f) == 0 {
			continue
		}
		if len(f) != 2 {
			return nil, fmt.Errorf("names: %w: line %d: %.40q is no number and a name", ErrUsage, i+1, t)
		}
		n, err := strconv.ParseUint(f[0], 0, 32)
		if err != nil || n >= maxNumber {
			return nil, fmt.Errorf("names: %w: line %d: %.20q is no number of a glyph", ErrUsage, i+1, f[0])
		}
		out[int(n)] = f[1]
	}
	return out, nil
}

func encodingVector(text string) (map[int]string, error) {
	text, _, ok := strings.Cut(text, "]")
	if !ok {
		return nil, fmt.Errorf("names: %w: the encoding vector has no ]", ErrUsage)
	}
	out := map[int]string{}
	for i, n := range strings.Fields(strings.ReplaceAll(text, "/", " ")) {
		if i >= maxNumber {
			return nil, fmt.Errorf("names: %w: the encoding vector has more than %d names", ErrUsage, maxNumber)
		}
		if n != ".notdef" {
			out[i] = n
		}
	}
	return out, nil
}
