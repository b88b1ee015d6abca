package diff

import (
	"fmt"
	"math"
	"strconv"
)

var absentText = map[Kind]string{
	Missing: "approved, but nothing is drawn now",
	Extra:   "drawn, but nothing was approved here",
	Undrawn: "the renderer gave no bitmap",
}

// pixels is "1 px" or "0.35 px".
func pixels(v float64) string {
	return strconv.FormatFloat(hundredths(math.Abs(v)), 'f', -1, 64) + " px"
}

// A signed measure in words: "1 px thicker", "0.5 px lower".
func thickerBy(px float64) string { return pixels(px) + choose(px > 0, " thicker", " thinner") }
func widerBy(px float64) string   { return pixels(px) + choose(px > 0, " wider", " narrower") }
func higherBy(px float64) string  { return pixels(px) + choose(px > 0, " higher", " lower") }

// asideBy tells of a bar how much higher it stands, and of a stem how much further right.
func asideBy(px float64, bar bool) string {
	if bar {
		return higherBy(px)
	}
	return pixels(px) + " further " + choose(px > 0, "right", "left")
}

// hundredths is as fine as a measure is told.
func hundredths(v float64) float64 { return math.Round(v*100) / 100 }

// pixelCount is "1 pixel" or "3 pixels".
func pixelCount(n int) string {
	if n == 1 {
		return "1 pixel"
	}
	return strconv.Itoa(n) + " pixels"
}

// movedText says where to, Y up.
func movedText(what string, m Move) string {
	s := what + " moved"
	if m.DX != 0 {
		s += fmt.Sprintf(" %d px %s", abs(m.DX), choose(m.DX > 0, "right", "left"))
	}
	if m.DX != 0 && m.DY != 0 {
		s += " and"
	}
	if m.DY != 0 {
		s += fmt.Sprintf(" %d px %s", abs(m.DY), choose(m.DY > 0, "up", "down"))
	}
	return s
}

// nameStem names one of the stems of a letter, left to right.
func nameStem(i, n int) string {
	switch {
	case n == 1:
		return "stem"
	case i == 0:
		return "left stem"
	case i == n-1:
		return "right stem"
	case n == 3:
		return "middle stem"
	}
	return fmt.Sprintf("stem %d of %d", i+1, n)
}

// nameBar names a bar by where it lies in the ink.
func nameBar(l limb, bottom, top int) string {
	low, high := l.y0-bottom <= 1, top-l.y1 <= 1
	switch {
	case low && high:
		return "bar" // there is no other ink: a dash
	case low:
		return "bottom bar"
	case high:
		return "top bar"
	}
	return "crossbar"
}

// weightText says what a limb gained or lost.
func weightText(name string, px float64, partly bool) string {
	return name + " " + thickerBy(px) + choose(partly, " over part of its length", "")
}

// short is the name of a stem beside another.
func short(name string) string {
	switch name {
	case "left stem":
		return "left"
	case "right stem":
		return "right"
	case "middle stem":
		return "middle"
	}
	return name
}
