// Package stems fits the outlines of PostScript faces (Type 1, CFF) to the pixel
// grid, on both axes, by the stems and alignment zones that the face declares.
// It takes drawings in 26.6 font units and gives outlines in 26.6 device pixels.
// Y grows up. It does no floating-point arithmetic on positions.
//
// First it sorts out which declared stems are stems at all. One needs an edge of
// the drawing at both of its own, square to it, or its middle in common with a
// contour, or be a bar with an edge in a zone, and ink between: a bar that begins where
// ink ends, and ends where it begins, is white. A short one that shares an edge with a
// longer is a serif's, which the longer one carries along (see sheer), but for a dot. The
// others are left out. A plain upright stem that no hint lies over is taken in as well,
// after all declared ones (see findUndeclared), and the balls of a mark that has no stem
// (see takeBalls).
//
// A stem's width in pixels depends on its width in the outline alone, never on
// its place: that is what keeps equal stems equal; one that is declared twice, a unit or
// two askew, has one width (see breadth). Both of its edges stand on pixel boundaries.
// Where hints ask for what cannot be had together, the earlier of these wins:
//
//  1. width: a whole number of pixels, at least one (see widths), and of the balls of a
//     mark as many as they are high (see takeBalls); only a stem of four pixels or more
//     gives up one of them, for a counter beside it or for an edge that it has in common
//     with a thinner one or with two wider ones (see open, yield, endWithWider), and
//     between two zones a dot or an accent does, down to one pixel, and a bar one pixel
//     (see slim);
//  2. zones: an edge in an alignment zone stands on the zone's row (see zone), but in a
//     pattern of dots (see findPattern); a stem with both edges in zones takes both rows, and
//     its width from them;
//  3. a common edge: a stem that shares an edge with one already placed, an
//     alternative to it or a neighbour that touches it, shares the fitted edge, and
//     an alternative in nearly the same place takes that place (see join); but no
//     upright stem goes to where it strays by more than a pixel;
//  4. counters: the gaps of a group that are alike as drawn come out equal (see addGroup and
//     equalCounters); of one that no hint declares only where both bearings and every bar
//     stay within a pixel;
//  5. order of declaration, edge hints last: each further stem goes where its own
//     centre, its distances from the neighbours already placed and the stems that share
//     an edge with it ask for, at the least cost; and once more when all are placed, so
//     that counters stay open (see relax), and rows of upright stems stray least (see
//     makeRoom). A counter is what two stems have between them that face each other
//     (see beside); of two that a bar has no room for, the one at a zone's row stays open.
//     No bar passes the row of an edge further out that a zone holds (see held).
//
// Then every stretch of outline is moved by the stems in force there, and by those
// in force near it that contradict none of these (see chart). A stem that a zone
// puts out of order with the drawing is left out there (see crosses), and so is one
// that overlaps or reverses those before it. An extreme in a zone stands on the
// zone's row whatever stem contradicts it, and serifs stay at their scaled distance
// from their stem (see excursions) and mirror images of each other (see
// pairSerifs). Straight upright edges of a stem stand where it stands, whatever hints are
// in force at their ends (see keepUpright). Points between edges are interpolated, and
// what no hint holds keeps off the row beside another contour's edge (see keepWhite).
//
// Alternatives, which hint replacement never puts in force together, do not
// constrain each other. Fitter.Choices tells what was placed, where, by which rule,
// and what was left out and why.
package stems
