package diff_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/diff"
	"smokeproof/harness/glyph"
)

var (
	planURing  = plan{ink: [][4]int{{0, 0, 20, 80}, {80, 0, 100, 80}, {20, 0, 80, 20}, {30, 90, 70, 110}}, white: [][4]int{{40, 95, 60, 105}}}
	planDouble = plan{ink: [][4]int{{0, 0, 100, 60}, {10, 80, 20, 120}, {50, 80, 60, 120}}}
	planNear   = plan{ink: [][4]int{{0, 0, 100, 60}, {10, 66, 20, 86}, {50, 66, 60, 86}}}
	planTonos  = plan{ink: [][4]int{{20, 0, 100, 60}, {50, 60, 70, 120}, {20, 80, 30, 110}}}
	planCased  = plan{ink: [][4]int{{0, 0, 100, 20}, {0, 100, 100, 120}, {0, 20, 20, 100}, {80, 20, 100, 100}, {40, 50, 50, 80}}}
)

// alone judges a letter of a plan by its own outline.
func alone(p plan, code rune, c *glyph.Cell) []diff.Finding {
	return at(300).Alone(c, p.design(), p.form(code), tenPPEM)
}

func TestPartsThatRunTogetherAreOneFinding(t *testing.T) {
	for _, c := range []struct {
		reason string
		plan   plan
		code   rune
		ink    [4]int
		text   string
	}{
		{"the ring touches both stems, which shuts the white between them in", planURing, 'Ů', [4]int{0, 8, 10, 9},
			"upper accent runs into the letter; the outline holds them 1.4 px apart"},
		{"over what is no letter there is no accent", planURing, '%', [4]int{0, 8, 10, 9},
			"upper part runs into the rest; the outline holds them 1.4 px apart"},
		{"two accents touch, and not the letter", planDouble, 'ő', [4]int{2, 9, 5, 10},
			"two upper accents run together; the outline holds them 3.0 px apart"},
		{"both touch, and the letter", planDouble, 'ő', [4]int{1, 6, 6, 9}, "3 parts run together; the outline holds them apart"},
		{"nearer to it than a pixel", planNear, 'ő', [4]int{1, 6, 6, 7}, "3 parts run together; the outline holds them 0.5 px apart at most"},
		{"nor over a letter of the basic alphabet", planURing, 'U', [4]int{0, 8, 10, 9},
			"upper part runs into the rest; the outline holds them 1.4 px apart"},
		{"an accent at the shoulder of its letter, within its box", planTonos, 'Ώ', [4]int{3, 9, 5, 10},
			"accent runs into the letter; the outline holds them 2.0 px apart"},
		{"a part that stands in another", planCased, '®', [4]int{2, 6, 4, 7},
			"inner part runs into the rest; the outline holds them 2.0 px apart"},
	} {
		found := alone(c.plan, c.code, at10(c.plan, 1, c.ink))
		require.Len(t, found, 1, "%s: %+v", c.reason, found)
		require.Equal(t, diff.Bridge, found[0].Kind, c.reason)
		require.Equal(t, c.text, found[0].Text, c.reason)
	}
}

func TestWhatIsOneInTheDrawingWeighsByHowMuchOfIt(t *testing.T) {
	score := func(p plan, ink [4]int) float64 {
		found := alone(p, 'a', at10(p, 1, ink))
		require.Len(t, found, 1)
		require.Equal(t, diff.Bridge, found[0].Kind)
		require.Equal(t, diff.Critical, found[0].Severity)
		return found[0].Score
	}
	two, three := score(planDouble, [4]int{2, 9, 5, 10}), score(planDouble, [4]int{1, 6, 6, 9})
	shut := score(planH, [4]int{2, 0, 8, 1})
	require.Greater(t, three, two, "three parts that run together, and two")
	require.Greater(t, shut, three, "the foot of a letter closed, and accents that touch")
}

// At 300 dpi and 400 mm a pixel is 0.73 minutes of arc; a join is major from 0.3 and
// critical from 0.5, as README's table says.
func TestAGapOfLessThanAPixelWeighsByItsWidth(t *testing.T) {
	for _, c := range []struct {
		reason   string
		gap      int // tenths of a pixel
		rows     int // of ink without white
		severity diff.Severity
	}{
		{"two pixels of white lost weigh as one", 20, 12, diff.Critical},
		{"one that hints had room for", 10, 11, diff.Critical},
		{"half a pixel, which rounding may take", 6, 11, diff.Major},
		{"less than any pixel can show", 3, 10, diff.Minor},
	} {
		dotted := plan{ink: [][4]int{{0, 0, 20, 80}, {0, 80 + c.gap, 20, 100 + c.gap}}}
		found := alone(dotted, 'i', drawn(strings.Repeat("##\n", c.rows)))
		require.Len(t, found, 1, c.reason)
		require.Equal(t, diff.Bridge, found[0].Kind, c.reason)
		require.Equal(t, c.severity, found[0].Severity, "%s: %s", c.reason, found[0].Text)
	}
}

func TestAPartReachesAsFarAsHintsCarryIt(t *testing.T) {
	dot := func(low int) *glyph.Cell {
		return at10(plan{ink: [][4]int{{0, 0, 20, 80}, {0, low, 20, low + 20}}}, 0)
	}
	for low, far := range map[int]bool{90: false, 100: false, 110: false, 120: false, 130: false, 140: true} {
		found := alone(planI, 'i', dot(low))
		if !far {
			require.Empty(t, found, "%d units up, for 100 in the outline", low)
			continue
		}
		require.Len(t, found, 2, "%d units up: %+v", low, found)
		require.ElementsMatch(t, []diff.Kind{diff.Missing, diff.Break}, []diff.Kind{found[0].Kind, found[1].Kind})
	}
}

// The outline of an n whose feet leave so many tenths of a pixel at 10 ppem between them; in
// the drawing the feet meet.
func TestStrokesThatRunTogetherWeighByTheOpeningThatTheOutlineLeaves(t *testing.T) {
	for _, c := range []struct {
		reason   string
		open     int
		severity diff.Severity
		text     string
	}{
		{"two pixels of white lost weigh as one", 20, diff.Critical, "which the outline leaves open"},
		{"a pixel that hints had room for", 12, diff.Critical, "which the outline leaves open"},
		{"half a pixel, which rounding may take", 6, diff.Major, "which the outline leaves open by 0.6 px"},
		{"less than any pixel can show", 3, diff.Minor, "which the outline leaves open by 0.3 px"},
	} {
		n := plan{ink: [][4]int{{0, 0, 20, 80}, {80, 0, 100, 80}, {20, 60, 80, 80}, {20, 0, 50 - c.open/2, 20}, {50 + (c.open+1)/2, 0, 80, 20}}}
		found := alone(n, 'n', at10(n, 1, [4]int{2, 0, 8, 2}))
		require.Len(t, found, 1, c.reason)
		require.Equal(t, diff.Bridge, found[0].Kind, c.reason)
		require.Equal(t, c.severity, found[0].Severity, "%s: %s", c.reason, found[0].Text)
		require.Equal(t, "strokes run together and shut 24 pixels of white in, "+c.text, found[0].Text, c.reason)
	}
}

func TestAnAccentThatHintsCarriedIntoAnotherIsNotGone(t *testing.T) {
	barred := plan{ink: [][4]int{{0, 0, 60, 60}, {10, 80, 20, 100}, {40, 80, 50, 100}, {0, 120, 60, 130}}}
	c := at10(barred, 0, [4]int{0, 12, 6, 13})
	for x := range 6 {
		c.Bitmap.Set(x, 10, 1)
	}
	found := alone(barred, 'ǖ', c)
	require.Len(t, found, 1, "%+v", found)
	require.Equal(t, "3 parts run together; the outline holds them apart", found[0].Text)
}

// Pixels that touch at a corner keep half of the white that the outline leaves there.
func TestPartsThatTouchAtACornerWeighLess(t *testing.T) {
	ring := func(gap int) plan { // a mark between two stems, its foot so many units above their tops
		return plan{ink: [][4]int{{0, 0, 20, 80}, {80, 0, 100, 80}, {20, 0, 80, 20}, {20, 80 + gap, 80, 100 + gap}}}
	}
	corner := [][4]int{{2, 8, 8, 10}}
	for _, c := range []struct {
		reason   string
		gap      int // tenths of a pixel
		ink      [][4]int
		severity diff.Severity
		text     string
	}{
		{"at a corner, where there was no room for a pixel of white", 8, corner, diff.Minor, "upper accent touches the letter at a corner; the outline holds them 0.9 px apart"},
		{"at a corner, where there was", 10, corner, diff.Major, "upper accent touches the letter at a corner; the outline holds them 1.0 px apart"},
		{"along a side", 9, [][4]int{{2, 8, 8, 10}, {1, 8, 2, 9}}, diff.Critical, "upper accent runs into the letter; the outline holds them 0.9 px apart"},
	} {
		bare := plan{ink: [][4]int{{0, 0, 20, 80}, {80, 0, 100, 80}, {20, 0, 80, 20}}}
		found := alone(ring(c.gap), 'Ů', at10(bare, 1, c.ink...))
		require.Len(t, found, 1, "%s: %+v", c.reason, found)
		require.Equal(t, c.text, found[0].Text, c.reason)
		require.Equal(t, c.severity, found[0].Severity, c.reason)
	}
}

// A dot that hints carried far is searched in what it runs into, and not in the letter under it.
func TestADotThatHintsCarriedIntoAnAccentIsNotGone(t *testing.T) {
	tonos := plan{ink: [][4]int{{20, 0, 60, 80}, {0, 100, 20, 120}, {60, 100, 80, 120}, {30, 130, 50, 160}}}
	under := plan{ink: [][4]int{{20, 0, 60, 80}}}
	found := alone(tonos, 'ΐ', at10(under, 1, [4]int{3, 13, 5, 16}, [4]int{0, 13, 2, 14}, [4]int{6, 13, 8, 14}, [4]int{2, 14, 6, 15}))
	require.Len(t, found, 1, "%+v", found)
	require.Equal(t, "3 parts run together; the outline holds them apart", found[0].Text)
	found = alone(tonos, 'ΐ', at10(under, 1, [4]int{3, 13, 5, 16}))
	require.Len(t, found, 2, "neither dot is drawn: %+v", found)
	require.Equal(t, "upper dot has no ink; in the outline it covers 4.1 square pixels", found[0].Text)
}

// At small sizes hints leave a pixel of a dot, and put it against the round of the letter, in whose overshoot it then
// lies.
func TestADotOfAPixelThatTouchesARoundIsNotGone(t *testing.T) {
	dotted := func(dots ...[4]int) plan { return plan{ink: append([][4]int{{0, 37, 60, 120}}, dots...)} }
	above := plan{ink: [][4]int{{0, 0, 60, 83}, {22, 97, 39, 114}}}
	one, two := dotted([4]int{22, 6, 39, 23}), dotted([4]int{2, 6, 19, 23}, [4]int{42, 6, 59, 23})
	const gone = "lower dot has no ink; in the outline it covers 2.8 square pixels"
	for _, c := range []struct {
		reason string
		plan   plan
		code   rune
		ink    [][4]int
		texts  []string
	}{
		{"a dot", one, 'ḅ', [][4]int{{2, 3, 3, 4}}, []string{"lower dot runs into the rest; the outline holds them 1.4 px apart"}},
		{"two of them", two, 'ṳ', [][4]int{{1, 3, 2, 4}, {5, 3, 6, 4}}, []string{"3 parts run together; the outline holds them apart"}},
		{"one of two", two, 'ṳ', [][4]int{{1, 3, 2, 4}}, []string{"lower dot runs into the rest; the outline holds them 1.4 px apart", gone}},
		{"a dot over a round", above, 'ṫ', [][4]int{{2, 8, 3, 9}}, []string{"upper dot runs into the rest; the outline holds them 1.4 px apart"}},
		{"ink that comes from further off", plan{ink: [][4]int{{0, 37, 100, 120}, {42, 6, 59, 23}}}, 'ḅ', [][4]int{{0, 3, 5, 4}}, []string{gone}},
		{"nothing", one, 'ḅ', nil, []string{gone}},
	} {
		var texts []string
		body := plan{ink: c.plan.ink[:1]}
		for _, f := range alone(c.plan, c.code, at10(body, 1, c.ink...)) {
			texts = append(texts, f.Text)
		}
		require.Equal(t, c.texts, texts, c.reason)
	}
}
