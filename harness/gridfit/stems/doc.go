// Package stems fits the outlines of PostScript faces (Type 1, CFF) to the pixel
// grid, on both axes, by the stems and alignment zones that the face declares.
// It takes drawings in 26.6 font units and gives outlines in 26.6 device pixels.
// Y grows up. It does no floating-point arithmetic on positions.
//
// A stem's width in pixels depends on its width in the outline alone, never on
// its place: that is what keeps equal stems equal. Both of its edges stand on
// pixel boundaries. Where hints ask for what cannot be had together, the
// earlier of these wins:
//
//  1. width: a whole number of pixels, at least one (see widths);
//  2. zones: an edge in an alignment zone stands on the zone's row (see zone); a
//     stem with both edges in zones takes both rows, and its width from them;
//  3. a common edge: a stem that shares an edge with one already placed, an
//     alternative to it or a neighbour that touches it, shares the fitted edge;
//  4. counters: the gaps of a group come out equal (see equalCounters);
//  5. order of declaration: each further stem goes where its own centre and its
//     distances from the neighbours already placed ask for, at the least cost.
//
// Alternatives, which hint replacement never puts in force together, do not
// constrain each other.
package stems
