package glyph

// Cell is one glyph drawn in one strike: its bitmap, placed about the origin,
// and its advance. Goldens and candidates are both cells.
type Cell struct {
	Ref
	Advance int // device pixels to the next origin, as the hints left it
	SWidth  int // unhinted advance in thousandths of the em (BDF's SWIDTH)
	Bitmap  Bitmap
}

// Identity says who drew: it goes into approvals and results.
type Identity struct {
	Name     string `json:"name"`
	Version  string `json:"version"`
	Settings string `json:"settings"` // "key=value" pairs, sorted, joined by ", "
}

// String is "built-in 1 (fill=center, interpreter=35)".
func (i Identity) String() string {
	s := i.Name
	if i.Version != "" {
		s += " " + i.Version
	}
	if i.Settings != "" {
		s += " (" + i.Settings + ")"
	}
	return s
}
