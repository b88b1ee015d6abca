//go:build !amd64

package raster

const vectors = false

func (m *meets) findInPairs(*precision) {}
