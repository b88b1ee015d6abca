package diff

import (
	"unicode"

	"smokeproof/harness/glyph"
)

// companyOf names the glyphs that a reader sees side by side with one: letters
// of its script, figures, punctuation, or signs of its Unicode category. An
// arrow need not be as heavy as a letter. Glyphs without a character keep
// company with each other.
func companyOf(code rune) string {
	switch {
	case code == glyph.NoCode:
		return "unencoded"
	case unicode.IsLetter(code):
		for name, table := range unicode.Scripts {
			if unicode.Is(table, code) {
				return name
			}
		}
	case unicode.IsDigit(code):
		return "figures"
	case unicode.IsPunct(code), unicode.Is(unicode.Sc, code):
		return "punctuation"
	}
	return "signs"
}

// aligned says that a glyph keeps to alignment rows: letters, figures and
// punctuation do. Signs and accents by themselves stand where they look well, and
// so do raised letters and modifiers.
func aligned(code rune) bool {
	return code == glyph.NoCode || unicode.IsLetter(code) && !unicode.In(code, unicode.Other_Lowercase, unicode.Lm) ||
		unicode.IsDigit(code) || unicode.IsPunct(code)
}
