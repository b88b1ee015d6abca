package diff

// Every figure of judgement stands here, with its unit and its source, but for
// the steps of severity, which stand in severity.go. None is set for a letter
// or a face.

// What the eye resolves, at the reading distance.
const (
	acuityArcMin  = 1.0 // arc minutes: gap of the Landolt ring at acuity 1.0: ISO 8596
	vernierArcSec = 10. // arc seconds, displaced edge; about ten times finer than acuity: Hering 1899 (i-Perception 2018 9(3)); 12", trained 6", in comp.fonts, 26 Oct 1989
	coherentGain  = acuityArcMin * 60 / vernierArcSec
)

// The rest is ours, no source.

// How differences weigh and are told apart.
const (
	partedGain  = 10.  // sensitivity added where ink parts or joins strokes
	turnedShare = 0.25 // of full coverage that a grey pixel changes by, past the half, to have turned
	shiftReach  = 3    // pixels that a common shift is looked for; further, a glyph is another drawing
	longestRun  = 64   // pixels; the model gives longer runs the same weight within two parts in a hundred
)

// What counts as a limb: below these a stroke reads as part of a curve or a diagonal.
const (
	ownShare   = 0.5 // of its length that has the very edges of the limb
	stemShare  = 0.3 // of the height of the largest part, at least
	barShare   = 0.2 // of its width, at least: serifs are bars too
	minLimb    = 3   // pixels long, at least
	limbAspect = 1.5 // length over thickness, at least

	bentPx      = 1.0  // pixels that a stroke's middle may leave its chord by and be straight
	speckPixels = 4    // pixels of new ink, up to which it is a speck
	dotShare    = 0.7  // of its box that a dot fills: a disc does, pi/4
	partlyShare = 0.25 // of a counter, and of its smaller side, that a patch fills

	leanDegrees = 22.5 // off upright, up to which a stroke is a stem: italics lean less, no source
)

// When a limb, a serif or an end of the letter has changed.
const (
	lostShare  = 0.4  // of a limb's own lines without ink, and minLimb of them: it is lost
	wholeShare = 0.8  // of them: all of it is
	alongShare = 0.4  // of its length changed: the limb, not a spot on it
	capShare   = 0.75 // of an extreme row that caps of curves make up: the letter ends round
	endShare   = 0.5  // of what differs at an end of the letter, explained by its shift: it moved
)

// When a letter is another one, or another cut.
const (
	anotherShare = 0.05 // of the ink of either side that has none of the other beside it; a single fault does so on one side
	strokeShare  = 0.15 // or in two places, where a stroke that moved far does as much
	besideShare  = 0.15 // or of one side alone, where much of both has changed:
	changedShare = 0.25 // of the ink of either side, at least
	allShare     = 0.75 // of the runs of ink along rows that are longer, or shorter: the letter is bolder, or lighter
	strayShare   = 0.05 // of the change that goes the other way all the same
)

// What the direction of an edge in a bitmap tells.
const (
	oneDirection    = 0.75 // straightness below which an edge is a curve
	straightDegrees = 12.  // off an axis, up to which it is upright or lying
)

// How an outline is read.
const (
	straightSlope = 0.05     // of its length that an edge may lean and be upright
	flatEm        = 0.01     // of the em that a flat end is long at least, and uneven at most
	capEm         = 0.015    // of the em that a round goes on beside its cap
	tipEm         = 0.06     // of the em that the tip of a serif is wide at most, and a stem at least
	overShare     = 1.0 / 3  // of the way from an alignment row to where its rounds reach: what ends beyond reaches over
	gentleFall    = 2.0      // slope, on the whole, by which it falls off there at most
	cliffFall     = 4.0      // and a flat end at least
	overshootEm   = 0.04     // of the em by which rounds may reach further than flat ends
	equalEm       = 0.006    // of the em that equal widths may differ by
	strayPx       = 1.5      // pixels that hints and rounding carry an edge
	astrayEm      = 0.15     // of the em that a stroke is looked for beside its place; further, it is another one
	carriedEm     = 0.3      // of the em that a part is looked for over or under its place
	inLinePx      = 1.0 / 32 // pixels that edges in one line may differ by
	pinholePixels = 3        // pixels of white up to which they are a pinhole between strokes that meet, no counter
	cornerPx      = 0.5      // pixels of white that two pixels keep between them where they touch at a corner
	formSpeck     = 8        // pixels at FormPPEM below which a part or counter is none
)

// How glyphs of a strike are held beside each other.
const (
	classEm     = 0.006 // of the em that the widths of one class span at most
	rowEm       = 0.004 // of the em about an alignment row
	leastOfKind = 4     // members that agree, from which a class has a common width: three of four do by chance
	clearShare  = 0.75  // of its members that agree, from which the others stand out
	bearingPx   = 1.5   // pixels by which a bearing may be off its outline's: half of one each for the place of the stem, the end of its serif and the advance, which are all rounded
)
