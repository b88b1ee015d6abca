package harness

import (
	"cmp"
	"fmt"
	"slices"
	"sync"

	"smokeproof/harness/render"
)

// remarks counts what renderers remark of glyphs that they draw all the same, as
// hints that stop half-way, by face.
type remarks struct {
	mu    sync.Mutex
	count map[remark]int
}

type remark struct{ face, text string }

func (r *remarks) add(face string, d *render.Drawn) {
	if d.Note == nil {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.count == nil {
		r.count = map[remark]int{}
	}
	r.count[remark{face, d.Note.Error()}]++
}

// Remarks tells, a line for each remark and the most frequent first, what renderers
// remarked of the drawings of this run so far. Hints that fail do not show where the
// golden was drawn with the same fault.
func (r *Run) Remarks() []string {
	r.remarks.mu.Lock()
	defer r.remarks.mu.Unlock()
	all := make([]remark, 0, len(r.remarks.count))
	for k := range r.remarks.count {
		all = append(all, k)
	}
	slices.SortFunc(all, func(a, b remark) int {
		return cmp.Or(cmp.Compare(r.remarks.count[b], r.remarks.count[a]), cmp.Compare(a.face, b.face), cmp.Compare(a.text, b.text))
	})
	lines := make([]string, len(all))
	for i, k := range all {
		lines[i] = fmt.Sprintf("face %q: drawings: %d, %s", k.face, r.remarks.count[k], k.text)
	}
	return lines
}
