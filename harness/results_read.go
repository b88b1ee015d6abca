package harness

import (
	"cmp"
	"slices"
)

// Results is the whole of results.json, or all but its changes, which stay in the file: what review shows.
type Results struct {
	Header
	Strikes []StrikeRecord `json:"strikes"`
	Changes []Change       `json:"changes"`
	Summary Summary        `json:"summary"`

	file *resultsFile // where Changes leaves some out, or all
}

// ReadResults reads the results.json that a run wrote.
func ReadResults(path string) (*Results, error) {
	f, err := openResults(path)
	if err != nil {
		return nil, err
	}
	r, said := &Results{Header: f.Header, Strikes: f.Strikes, Summary: f.Summary}, Words{}
	err = f.Changes(func(c *Change) error {
		said.Share(c)
		r.Changes = append(r.Changes, *c)
		return nil
	})
	return r, err
}

// OpenResults reads all of a results.json but its changes. [Results.Each] gives these from the file.
func OpenResults(path string) (*Results, error) {
	f, err := openResults(path)
	if err != nil {
		return nil, err
	}
	return &Results{Header: f.Header, Strikes: f.Strikes, Summary: f.Summary, file: f}, nil
}

// Spot is where a change of some results stands.
type Spot struct {
	at   int64 // in the file without its line's end, else among Changes
	size int   // of the line; 0 where there is no file
}

// Compare orders spots as the changes stand.
func (s Spot) Compare(o Spot) int { return cmp.Compare(s.at, o.at) }

// At is the change at a spot, with all that it has.
func (r *Results) At(s Spot) (*Change, error) {
	if r.file == nil {
		return &r.Changes[s.at], nil
	}
	return r.file.at(s)
}

// Path is the file that has what the results leave out; "" where they are all in memory.
func (r *Results) Path() string {
	if r.file == nil {
		return ""
	}
	return r.file.path
}

// maxPictured is how many changes ReadFindings keeps the bitmaps of: more than
// a summary shows, and some 30 MB.
const maxPictured = 10_000

// ReadFindings reads only what a summary shows of a results.json: the changes that have
// findings, and the bitmaps of the worst of them. take sees each change first, beside all but the changes
// of its results; what it has taken is not kept besides. [Results.Each] still gives all changes, from the file.
func ReadFindings(path string, take func(*Results, *Change) (taken bool)) (*Results, error) {
	f, err := openResults(path)
	if err != nil {
		return nil, err
	}
	res, said := &Results{Header: f.Header, Strikes: f.Strikes, Summary: f.Summary, file: f}, Words{}
	var pictured []int // indices of the changes that keep their bitmaps
	err = f.Changes(func(c *Change) error {
		if take(res, c) || len(c.Findings) == 0 {
			return nil
		}
		c.Weights, c.Outline = nil, ""
		said.Share(c)
		pictured = append(pictured, len(res.Changes))
		res.Changes = append(res.Changes, *c)
		if len(pictured) >= 2*maxPictured {
			pictured = res.blankAllBut(maxPictured, pictured)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	res.blankAllBut(maxPictured, pictured)
	return res, nil
}

// blankAllBut keeps the bitmaps of the n worst of some changes.
func (r *Results) blankAllBut(n int, of []int) []int {
	slices.SortStableFunc(of, func(a, b int) int { return Worse(&r.Changes[b], &r.Changes[a]) })
	for _, i := range of[min(n, len(of)):] {
		r.Changes[i].Golden, r.Changes[i].Candidate = nil, nil
	}
	return of[:min(n, len(of))]
}

// Each gives every change of the run, also those that ReadFindings left out of Changes.
func (r *Results) Each(yield func(*Change) error) error {
	return r.EachAt(func(c *Change, _ Spot) error { return yield(c) })
}

// EachAt gives every change with the spot where it stands.
func (r *Results) EachAt(yield func(*Change, Spot) error) error {
	if r.file != nil {
		return r.file.EachAt(yield)
	}
	for i := range r.Changes {
		if err := yield(&r.Changes[i], Spot{at: int64(i)}); err != nil {
			return err
		}
	}
	return nil
}

// EachFinding gives the findings of all changes, then those of the sets, in their order.
func (r *Results) EachFinding(yield func(*Finding) error) error {
	all := func(list []Finding) error {
		for i := range list {
			if err := yield(&list[i]); err != nil {
				return err
			}
		}
		return nil
	}
	err := r.Each(func(c *Change) error { return all(c.Findings) })
	for i := 0; err == nil && i < len(r.Strikes); i++ {
		err = all(r.Strikes[i].Set)
	}
	return err
}

// Words holds one copy of each text that changes share.
type Words map[string]string

// Share makes a change, which is to be kept, share its texts.
func (w Words) Share(c *Change) {
	for _, s := range []*string{&c.Face, &c.Device, &c.Size, &c.DPI, &c.Mode, &c.Glyph, (*string)(&c.Status),
		&c.Verdict, &c.Until, &c.DecidedBy, &c.DecidedWhy, &c.Severity, &c.Astray, &c.ApprovedSince, &c.ApprovedOf, &c.Note} {
		*s = w.one(*s)
	}
	for i := range c.Findings {
		f := &c.Findings[i]
		for _, s := range []*string{&f.Face, &f.Device, &f.Size, &f.DPI, &f.Glyph, &f.Finding, &f.Severity, &f.Place.What, &f.Text, &f.Side} {
			*s = w.one(*s)
		}
	}
}

func (w Words) one(s string) string {
	if had, ok := w[s]; ok {
		return had
	}
	w[s] = s
	return s
}
