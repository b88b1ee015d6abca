// Package gridfit moves outline points so that they fall well on the pixel
// grid: an outline and its hints go in, a fitted outline in 26.6 device pixels
// comes out. Y grows up. Results are integers throughout.
package gridfit
