// Package glyph is the vocabulary that all rooms share: units, strikes, keys,
// bitmaps, outlines. It imports nothing of ours and reads no file.
//
// Units are types. Design lengths are [FUnit]; sizes are [Points]; resolutions
// are [Resolution]; positions on the device grid are fixed.Int26_6 pixels
// before scan conversion and plain ints, whole pixels, after it. Y grows up
// everywhere; only the rows inside a [Bitmap] run top to bottom.
package glyph
