package harness

import (
	"cmp"
	"maps"
	"slices"
)

// MostApart is how many changes are looked at one by one. Of a face with more, a person looks at the worst of
// each kind, and decides on the others with them.
const MostApart = 20_000

// Throngs names the faces with the most changes, so many of them that the others have MostApart at most.
func (r *Results) Throngs() (map[string]bool, error) {
	n, all, err := r.byFace()
	faces := slices.SortedFunc(maps.Keys(n), func(a, b string) int { return cmp.Or(cmp.Compare(n[b], n[a]), cmp.Compare(a, b)) })
	throngs := map[string]bool{}
	for _, f := range faces {
		if all <= MostApart {
			break
		}
		throngs[f] = true
		all -= n[f]
	}
	return throngs, err
}

// byFace counts the changes of each face, by its strikes where these tell.
func (r *Results) byFace() (n map[string]int, all int, err error) {
	n = map[string]int{}
	if r.file == nil || r.Looked {
		err = r.Each(func(c *Change) error {
			n[c.Face]++
			all++
			return nil
		})
		return n, all, err
	}
	for i := range r.Strikes {
		s := &r.Strikes[i]
		changes := s.Changed + s.New + s.Missing + s.Undrawn
		n[s.Face] += changes
		all += changes
	}
	return n, all, nil
}
