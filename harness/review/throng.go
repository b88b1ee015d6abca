package review

import (
	"cmp"
	"slices"

	"smokeproof/harness"
)

// throng is the changes of faces that have too many to lie on the page one by one (harness.Results.Throngs). The
// page has the worst of each kind and reads the others when somebody asks for them; of these it is known where
// they stand, in some 50 bytes each.
type throng struct {
	members []member // as they are met; by face, device, glyph and size once they are laid
	causes  []*throngCause
	byKind  map[kind]*throngCause
	starts  []int     // the first member of each plates file, and the end of the last
	rests   [][]int32 // members of each rest file
}

func newThrong() throng { return throng{byKind: map[kind]*throngCause{}} }

// member is a change of a throng. Names are numbers in the tables of the head.
type member struct {
	spot                harness.Spot
	face, device, glyph int32
	points              float32 // its size
	cause               int32
	place               place
}

// place is where the pictures of a change lie: in which plates file, the which glyph, the which of its changes.
type place struct{ file, glyph, change int32 }

// throngCause is what of a throng is of one kind.
type throngCause struct {
	kind           kind
	number         int // among the causes
	n              int
	score          float64 // of all
	held           []met   // the worst, in order
	files          []int   // that have the others
	glyphs         numberSet
	sizes, devices []int // numbers of names
}

const (
	mostHeld = 24   // changes of a cause on the page: two rows under the loupe
	restRows = 4096 // changes of a rest file
)

// meet takes the next change of a throng; row has its names.
func (t *throng) meet(c met, row headRow) {
	x := t.causeOf(c.Change)
	x.n++
	x.score += c.Score
	x.glyphs.add(row.glyph)
	x.sizes, x.devices = with(x.sizes, row.size), with(x.devices, row.device)
	x.hold(c)
	t.members = append(t.members, member{
		spot: c.spot, face: int32(row.face), device: int32(row.device), glyph: int32(row.glyph),
		points: float32(leading(c.Size)), cause: int32(x.number),
	})
}

// causeOf is the cause of a change. Of so many that is what was found, and not the lines on which it may lie; a
// reason, which may be one for the whole face, makes no cause of all.
func (t *throng) causeOf(c *harness.Change) *throngCause {
	k := kindOf(c)
	if len(c.Findings) > 0 {
		k = foundKind(c)
	}
	x := t.byKind[k]
	if x == nil {
		x = &throngCause{kind: k, number: len(t.causes)}
		t.byKind[k] = x
		t.causes = append(t.causes, x)
	}
	return x
}

// hold keeps a change if it is one of the worst.
func (x *throngCause) hold(c met) {
	at, _ := slices.BinarySearchFunc(x.held, c, func(o, c met) int { return cmp.Or(harness.Worse(c.Change, o.Change), -1) })
	if at == mostHeld {
		return
	}
	x.held = slices.Insert(x.held[:min(len(x.held), mostHeld-1)], at, c)
}

// weight is what the cause is ordered by among others.
func (x *throngCause) weight() harness.Weight {
	return x.held[0].Weight().With(x.score - x.held[0].Score)
}

// text is the cause as the page shows it.
func (x *throngCause) text(kind int, rows map[*harness.Change]int) causeText {
	worst := x.held[0].Change
	t := causeText{Kind: kind, Text: shortly(worst)}
	if len(worst.Findings) > 0 {
		t.Text = cutShort(plain(worst.Findings[0].Text))
	}
	for _, h := range x.held {
		t.Rows = append(t.Rows, rows[h.Change])
	}
	if n := x.n - len(x.held); n > 0 {
		t.Rest = &restText{N: n, Files: x.files, Glyphs: x.glyphs.n, Sizes: x.sizes, Devices: x.devices}
	}
	return t
}

// heaviestFirst lists the causes in order.
func (t *throng) heaviestFirst() []*throngCause {
	return slices.SortedStableFunc(slices.Values(t.causes), func(a, b *throngCause) int { return b.weight().Compare(a.weight()) })
}

// lay puts the members into plates files, of which there are some already, and into rest files, and tells where
// the pictures of those lie that are on the page.
func (t *throng) lay(files int, places map[*harness.Change]place) {
	slices.SortFunc(t.members, func(a, b member) int {
		return cmp.Or(cmp.Compare(a.face, b.face), cmp.Compare(a.device, b.device), cmp.Compare(a.glyph, b.glyph),
			cmp.Compare(a.points, b.points), a.spot.Compare(b.spot))
	})
	onPage := map[harness.Spot]*harness.Change{}
	for _, x := range t.causes {
		for _, h := range x.held {
			onPage[h.spot] = h.Change
		}
	}
	others := make([][]int32, len(t.causes))
	var at place
	for i := range t.members {
		m := &t.members[i]
		switch {
		case i > 0 && m.sibling(&t.members[i-1]):
			at.change++
		case i == 0 || i-t.starts[len(t.starts)-1] >= platesFile:
			at = place{file: int32(files + len(t.starts))}
			t.starts = append(t.starts, i)
		default:
			at.glyph, at.change = at.glyph+1, 0
		}
		m.place = at
		if c := onPage[m.spot]; c != nil {
			places[c] = at
		} else {
			others[m.cause] = append(others[m.cause], int32(i))
		}
	}
	t.starts = append(t.starts, len(t.members))
	for i, list := range others {
		for part := range slices.Chunk(list, restRows) {
			t.causes[i].files = append(t.causes[i].files, len(t.rests))
			t.rests = append(t.rests, part)
		}
	}
}

// sibling says that two members are of one glyph on one device.
func (m *member) sibling(o *member) bool {
	return m.face == o.face && m.device == o.device && m.glyph == o.glyph
}

// changes are those on the page.
func (t *throng) changes() (list []*harness.Change) {
	for _, x := range t.causes {
		for _, h := range x.held {
			list = append(list, h.Change)
		}
	}
	return list
}

// plates is how many plates files there are.
func (t *throng) plates() int { return max(len(t.starts)-1, 0) }

// families are those of the n-th plates file.
func (t *throng) families(n int) (list []*family) {
	of := t.members[t.starts[n]:t.starts[n+1]]
	for i := range of {
		if i == 0 || !of[i].sibling(&of[i-1]) {
			list = append(list, &family{ofThrong: true})
		}
		f := list[len(list)-1]
		f.changes = append(f.changes, met{spot: of[i].spot})
	}
	return list
}
