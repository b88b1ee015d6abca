package review

import "smokeproof/diff"

// meaning says in a few words what each finding is, for who has not met it.
var meaning = map[string]string{
	string(diff.StemLost):      "an upright stroke is gone",
	string(diff.StemWeight):    "an upright stroke is thicker or thinner",
	string(diff.StemUneven):    "stems that are equal in the outline are not equal in pixels",
	string(diff.BarLost):       "a horizontal stroke is gone",
	string(diff.BarWeight):     "a horizontal stroke is thicker or thinner",
	string(diff.Break):         "a stroke is parted",
	string(diff.Bridge):        "two strokes run together",
	string(diff.CounterClosed): "the white inside a letter is filled",
	string(diff.SerifUneven):   "the halves of a serif differ",
	string(diff.Height):        "an alignment row stands higher or lower",
	string(diff.Overshoot):     "a round reaches farther past its alignment row, or less far",
	string(diff.Round):         "pixels changed on a curve",
	string(diff.Diagonal):      "pixels changed in the stairs of a diagonal",
	string(diff.Edge):          "pixels changed on a straight edge",
	string(diff.Moved):         "a glyph or a stroke stands elsewhere, its shape unchanged",
	string(diff.Spacing):       "the advance or a bearing changed",
	string(diff.Missing):       "a glyph, or a part of one, is gone",
	string(diff.Extra):         "a glyph, or a part of one, that the golden lacks",
	string(diff.Undrawn):       "the renderer could not draw the glyph",
}
