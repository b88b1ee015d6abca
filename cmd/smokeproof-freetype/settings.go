//go:build cgo

package main

import "fmt"

// settings are what the flags choose.
type settings struct {
	hinting     string // "full", "light" or "none"
	interpreter int    // TrueType interpreter version
	hdmx        bool   // advances from hdmx
	strikes     bool   // bitmaps from EBDT and the like
}

func (s settings) check() error {
	switch s.hinting {
	case "full", "light", "none":
	default:
		return fmt.Errorf("--hinting %q is unknown; use full, light or none", s.hinting)
	}
	if s.interpreter != 35 && s.interpreter != 40 {
		return fmt.Errorf("--interpreter %d is unknown; use 35 or 40", s.interpreter)
	}
	return nil
}

// String is the settings part of the worker's identity.
func (s settings) String() string {
	return fmt.Sprintf("hdmx=%t, hinting=%s, interpreter=%d, strikes=%t", s.hdmx, s.hinting, s.interpreter, s.strikes)
}
