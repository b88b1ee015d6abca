package face

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/glyph"
	"smokeproof/harness/infile"
)

// OtherAdvance is a glyph to which the AFM file beside a Type 1 font gives
// another advance than the font does. Text is set by the one and printed by the
// other, so its lines come out longer or shorter.
type OtherAdvance struct {
	Key       glyph.Key
	Font, AFM fixed.Int26_6 // font units
}

// OtherAdvances lists the glyphs whose advance in the AFM file is another one,
// by more than the half unit that such files round away. The font's own advance
// is what is drawn with. It is empty where no AFM file lies beside the font.
func (f *Type1) OtherAdvances() []OtherAdvance {
	var all []OtherAdvance
	for i, r := range f.refs {
		afm, ok := f.afm[r.Name]
		if !ok {
			continue
		}
		own := f.Advance(i)
		afm = afm * fixed.Int26_6(f.upem) / 1000
		if d := own - afm; d > 32 || d < -32 {
			all = append(all, OtherAdvance{r.Key, own, afm})
		}
	}
	return all
}

// maxAFM is the largest AFM file read: 65,535 glyphs take under 5 MB, kerning
// as much again.
const maxAFM = 16 << 20

// readAFMBeside reads the AFM file of the same name as the font, if there is one.
func (f *Type1) readAFMBeside(font string) error {
	path := strings.TrimSuffix(font, filepath.Ext(font)) + ".afm"
	data, err := infile.Read(path, maxAFM)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("font metrics: %w", err)
	}
	if f.afm, err = readAFM(data); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return nil
}

// readAFM gives advances by glyph name (TN5004, section 5: WX or W0X in lines
// of character metrics), in thousandths of the em, as the unit of such files is.
func readAFM(data []byte) (map[string]fixed.Int26_6, error) {
	if !bytes.HasPrefix(data, []byte("StartFontMetrics")) {
		return nil, fmt.Errorf("%w: an AFM file that does not begin with StartFontMetrics", ErrInvalid)
	}
	advances := map[string]fixed.Int26_6{}
	lines := bufio.NewScanner(bytes.NewReader(data))
	for n := 1; lines.Scan(); n++ {
		line := lines.Text()
		if !strings.HasPrefix(line, "C ") && !strings.HasPrefix(line, "CH ") {
			continue
		}
		var name string
		advance, known := 0.0, false
		for field := range strings.SplitSeq(line, ";") {
			switch w := strings.Fields(field); {
			case len(w) < 2:
			case w[0] == "N":
				name = w[1]
			case w[0] == "WX" || w[0] == "W0X":
				v, err := strconv.ParseFloat(w[1], 64)
				if err != nil || !(v > -1<<15 && v < 1<<15) {
					return nil, fmt.Errorf("%w: AFM line %d: advance %q", ErrInvalid, n, w[1])
				}
				advance, known = v, true
			}
		}
		if known && name != "" {
			advances[name] = fixed.Int26_6(advance * 64)
		}
	}
	if err := lines.Err(); err != nil {
		return nil, fmt.Errorf("%w: AFM: %w", ErrInvalid, err)
	}
	return advances, nil
}
