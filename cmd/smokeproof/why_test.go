package main

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/gridfit"
	"smokeproof/harness/gridfit/stems"
)

// No face of ours has stems that must be left out.
func TestWhyListsTheStemsLeftOutWithTheReason(t *testing.T) {
	why := &gridfit.Reasons{Hints: stems.Choices{Left: []stems.LeftOut{
		{Axis: glyph.AxisX, Lo: fixed.I(187), Hi: fixed.I(259), Why: stems.Serif},
		{Axis: glyph.AxisY, Lo: fixed.I(680), Hi: fixed.I(789), Why: stems.Crossed},
		{Axis: glyph.AxisY, Ghost: face.GhostTop, Lo: fixed.I(700), Hi: fixed.I(700), Why: stems.Contradicted},
	}}}
	var out bytes.Buffer
	require.NoError(t, writeWhy(&out, glyph.Strike{}, glyph.Ref{Key: "u"}, why))
	require.Regexp(t, `left out +units +because
  upright +187 to 259 +it is short and shares an edge with a stem
  bar +680 to 789 +it contradicts a zone
  top edge +700 +it contradicts other stems
`, out.String())
}
