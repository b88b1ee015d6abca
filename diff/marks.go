package diff

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Combining classes of marks (Unicode 15, table "Canonical Combining Class Values").
const (
	attachedBelow = 202
	attachedRight = 216
	below         = 220
	above         = 230
	doubleBelow   = 233
	iotaBelow     = 240
)

// markNames are marks that letters are mostly drawn in one piece with.
var markNames = map[rune]string{'\u0327': "cedilla", '\u0328': "ogonek", '\u031B': horn}

const horn = "horn"

// markAt names the mark that reaches further than a letter at its top or bottom; "" where the
// letter itself ends there. A dot is one, as over i, and so is a horn.
func markAt(code rune, top bool) string {
	letters := norm.NFD.String(string(code))
	for i, r := range letters {
		if i == 0 {
			continue
		}
		switch class := norm.NFD.PropertiesString(letters[i:]).CCC(); {
		case class == attachedRight && top:
			return markNames[r]
		case class == above && top && !asApostrophe(letters):
			return "upper accent"
		case !top && (class == attachedBelow || class == below || class == doubleBelow || class == iotaBelow):
			return choose(markNames[r] != "", markNames[r], "lower accent")
		}
	}
	if top && unicode.Is(unicode.Soft_Dotted, code) {
		return "upper dot"
	}
	return ""
}

// accented says that a letter has marks, as Unicode takes it apart.
func accented(code rune) bool {
	return strings.ContainsFunc(norm.NFD.String(string(code)), func(r rune) bool { return unicode.Is(unicode.Mn, r) })
}

// endsOtherwise says that what ends at the top or bottom of a letter keeps to no row of the face:
// a mark, an apostrophe that may be taller than its letter, or a slash.
func endsOtherwise(code rune, top bool) bool {
	return markAt(code, top) != "" || top && asApostrophe(norm.NFD.String(string(code))) || slashed(code)
}

// asApostrophe says that a caron is drawn as an apostrophe at the side of its letter: d, l, t and L
// (common practice, no source).
func asApostrophe(letters string) bool {
	switch letters {
	case "d\u030C", "l\u030C", "t\u030C", "L\u030C":
		return true
	}
	return false
}

// slashed are letters whose slash goes on past them, and ends where it looks well.
func slashed(code rune) bool {
	switch code {
	case 'Ø', 'ø', 'Ǿ', 'ǿ', 'Ⱥ', 'Ȼ', 'ȼ', 'Ⱦ', 'Ɇ', 'ɇ', 'ⱥ', 'ⱦ':
		return true
	}
	return false
}
