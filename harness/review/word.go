package review

import (
	"strings"
	"unicode"
)

// words holds a word around each letter, of letters that every strike keeps at
// hand: the page and the proofs set them.
var words = map[string]string{
	"a": "stain", "b": "bones", "c": "coast", "d": "stored", "e": "stone", "f": "often", "g": "night", "h": "north", "i": "saint",
	"j": "joins", "k": "tanks", "l": "tails", "m": "smart", "n": "noise", "o": "onset", "p": "spent", "q": "qintar", "r": "train",
	"s": "shore", "t": "treat", "u": "house", "v": "raven", "w": "water", "x": "extra", "y": "story", "z": "zones",
}

// wordAround gives the code points of a word around a character. What is no
// Latin letter stands between letters of its kind, a figure between figures.
func wordAround(code int) []int {
	r := rune(code)
	lower := strings.ToLower(string(r))
	if w := words[lower]; w != "" && code > 0 {
		if unicode.IsUpper(r) {
			w = strings.ToUpper(w)
		}
		return codes(w)
	}
	before, after := "no", "on"
	switch {
	case r >= '0' && r <= '9':
		before, after = "10", "18"
	case unicode.IsUpper(r):
		before, after = "HO", "NE"
	}
	return append(append(codes(before), code), codes(after)...)
}

func codes(s string) []int {
	var out []int
	for _, r := range s {
		out = append(out, int(r))
	}
	return out
}
