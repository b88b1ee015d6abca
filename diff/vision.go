package diff

import "math"

// contrastSensitivity is A(f) of Mannos & Sakrison 1974, f in cycles a degree;
// its peak is 0.981 at 7.89.
func contrastSensitivity(f float64) float64 {
	return 2.6 * (0.0192 + 0.114*f) * math.Exp(-math.Pow(0.114*f, 1.1))
}

// oblique is Daly's orientation term, 1 along the axes, 0.78 at 45 degrees;
// frequency is divided by it.
func oblique(theta float64) float64 { return 0.11*math.Cos(4*theta) + 0.89 }

// eye is a reader before one device.
type eye struct {
	minutesX, minutesY float64 // arc minutes that a pixel subtends
	nyquist            float64 // cycles a degree of one line a pixel
	area               float64 // of a pixel, in square arc minutes
	lying, upright     float64 // sensitivity at 0 and at 90 degrees,
	diagonal           float64 // and at 45: so are most pixels
}

func newEye(v Viewing) eye {
	angle := func(dpi float64) float64 { return math.Atan(25.4/dpi/v.DistanceMM) * 180 / math.Pi * 60 }
	e := eye{minutesX: angle(v.DPI.X.Float()), minutesY: angle(v.DPI.Y.Float())}
	e.area = e.minutesX * e.minutesY
	e.nyquist = 60 / (2 * math.Sqrt(e.area))
	e.lying, e.upright, e.diagonal = e.sensitivityAt(0), e.sensitivityAt(math.Pi/2), e.sensitivityAt(math.Pi/4)
	return e
}

// sensitivity is that to one pixel of an edge at the angle theta to an axis.
func (e *eye) sensitivity(theta float64) float64 {
	switch theta {
	case 0:
		return e.lying
	case math.Pi / 2:
		return e.upright
	case math.Pi / 4:
		return e.diagonal
	}
	return e.sensitivityAt(theta)
}

func (e *eye) sensitivityAt(theta float64) float64 {
	return max(contrastSensitivity(e.nyquist/oblique(theta)), 1e-9) // never nothing at all
}
