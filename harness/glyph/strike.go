package glyph

import (
	"fmt"
	"strings"
)

// Mode is what a device can put on a pixel.
type Mode uint8

const (
	Bilevel Mode = iota // ink or none
	Grey                // coverage 0 to 255
)

// Fill is the rule that turns a closed outline into bilevel pixels.
type Fill uint8

const (
	Center   Fill = iota // the pixel's centre is inside or on the outline (TrueType rules 1 and 2)
	Inside               // the whole pixel is inside
	Touch                // any part of the pixel is inside
	Majority             // at least half of the pixel is inside
)

// Strike is one face at one size and resolution on one device, the OpenType
// word for a set of bitmaps.
type Strike struct {
	Face   string // the plan's name of the face
	Device string // the plan's name of the device
	Size   Points
	DPI    Resolution
	Mode   Mode
}

// PPEM is the strike's size in pixels per em.
func (s Strike) PPEM() PPEM { return PixelsPerEm(s.Size, s.DPI) }

// String names the strike in messages: "larkmoor-text 8 pt 203 dpi (label)".
func (s Strike) String() string {
	return fmt.Sprintf("%s %s pt %s dpi (%s)", s.Face, s.Size, s.DPI, s.Device)
}

var modeNames = [...]string{"bilevel", "grey"}
var fillNames = [...]string{"center", "inside", "touch", "majority"}

func (m Mode) String() string { return modeNames[m] }
func (f Fill) String() string { return fillNames[f] }

// ParseMode reads "bilevel" or "grey".
func ParseMode(s string) (Mode, error) {
	i, err := parseName(s, "mode", modeNames[:])
	return Mode(i), err
}

// ParseFill reads "center", "inside", "touch" or "majority".
func ParseFill(s string) (Fill, error) {
	i, err := parseName(s, "fill rule", fillNames[:])
	return Fill(i), err
}

func parseName(s, what string, names []string) (int, error) {
	for i, n := range names {
		if n == s {
			return i, nil
		}
	}
	return 0, fmt.Errorf("%s %q is unknown; use %s", what, s, strings.Join(names, ", "))
}
