package diff

import "strings"

// part is a piece of ink that hangs together, 8-connected: a dot, an accent,
// the letter under it.
type part struct {
	box
	pixels []int
}

// parts is all that a drawing is made of: parts of ink, and parts of white,
// 4-connected, the first of which is the outside.
type parts struct{ ink, white []part }

// parts takes a drawing apart, in the memory of that side of the desk.
func (p *plane) parts(d *desk, side int) parts {
	list, s := p.join(d)
	size, found := cleared(&d.sizes, len(d.joined)), cleared(&d.found, len(d.joined))
	for i := range list {
		l := &list[i]
		l.part = d.root(l.part)
		size[l.part] += l.x1 - l.x0
	}
	all := parts{make([]part, 0, s.ink), make([]part, 0, s.white)}
	room := cleared(&d.partPixels[side], len(p.v))
	for _, l := range list {
		of := choose(l.ink, &all.ink, &all.white)
		if found[l.part] == 0 {
			n := size[l.part]
			*of = append(*of, part{pixels: room[:0:n], box: p.nowhere()})
			room, found[l.part] = room[n:], len(*of)
		}
		q := &(*of)[found[l.part]-1]
		q.grow(box{l.x0, l.y, l.x1, l.y + 1})
		for x := l.x0; x < l.x1; x++ {
			q.pixels = append(q.pixels, l.y*p.w+x)
		}
	}
	return all
}

// counters are the parts of white that ink closes round about.
func (p *parts) counters() []part { return p.white[min(1, len(p.white)):] }

func (p *parts) shape() shape { return shape{len(p.ink), len(p.white)} }

// body is the largest part of ink; nil where there is none.
func (p *parts) body() *part {
	if len(p.ink) == 0 {
		return nil
	}
	return &p.ink[largest(p.ink)]
}

func largest(list []part) int {
	n := 0
	for i := range list {
		if len(list[i].pixels) > len(list[n].pixels) {
			n = i
		}
	}
	return n
}

// nameParts says where each part is among all of a drawing, and which are dots or accents: parts
// over or under a letter that has marks, or at its shoulder. The largest is the letter then.
func nameParts(list []part, advance int, code rune) []string {
	names := make([]string, len(list))
	main := 0
	if len(list) > 0 {
		main = largest(list)
	}
	for i := range list {
		names[i] = choose(list[i].dot(advance), "dot", "part")
		if len(list) == 2 || i != main {
			names[i] = list[i].beside(&list[choose(i == main, 1-i, main)]) + names[i]
		}
		switch place, isPart := strings.CutSuffix(names[i], "part"); {
		case !accented(code):
		case i == main:
			names[i] = "letter"
		case isPart && (place == "" || place == "upper " || place == "lower "):
			names[i] = place + "accent"
		}
	}
	return names
}

// dot says that a part is about as wide as tall and solid, as a disc is, and
// smaller than a letter.
func (p *part) dot(advance int) bool {
	w, h := p.width(), p.height()
	return max(w, h) <= min(w, h)*3/2 && float64(len(p.pixels)) >= dotShare*float64(w*h) && 3*max(w, h) <= 2*advance
}

// beside says on which side of another part's box the middle of this one lies, or
// that this one lies within it.
func (p *part) beside(q *part) string {
	x, y := p.x0+p.x1, p.y0+p.y1
	switch {
	case y >= 2*q.y1:
		return "upper "
	case y <= 2*q.y0:
		return "lower "
	case x <= 2*q.x0:
		return "left "
	case x >= 2*q.x1:
		return "right "
	case p.x0 > q.x0 && p.x1 < q.x1 && p.y0 > q.y0 && p.y1 < q.y1:
		return "inner "
	}
	return ""
}
