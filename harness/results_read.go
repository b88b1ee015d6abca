package harness

import "slices"

// Results is the whole of results.json in memory: what review shows.
type Results struct {
	Header
	Strikes  []StrikeRecord `json:"strikes"`
	Changes  []Change       `json:"changes"`
	Findings []Finding      `json:"-"` // those of all changes, then those of the sets, in their order
	Summary  Summary        `json:"summary"`

	file *resultsFile // where Changes leaves some out
}

// ReadResults reads the results.json that a run wrote.
func ReadResults(path string) (*Results, error) {
	f, err := openResults(path)
	if err != nil {
		return nil, err
	}
	r := &Results{Header: f.Header, Strikes: f.Strikes, Summary: f.Summary}
	err = f.Changes(func(c *Change) error {
		r.Changes = append(r.Changes, *c)
		r.Findings = append(r.Findings, c.Findings...)
		return nil
	})
	for _, s := range r.Strikes {
		r.Findings = append(r.Findings, s.Set...)
	}
	return r, err
}

// maxPictured is how many changes ReadFindings keeps the bitmaps of: more than
// a summary shows, and some 30 MB.
const maxPictured = 10_000

// ReadFindings reads only what a summary shows of a results.json: the changes that have
// findings, and the bitmaps of the worst of them. Its memory grows with the number of
// findings and not of glyphs. [Results.Each] still gives all changes, from the file.
func ReadFindings(path string) (*Results, error) {
	f, err := openResults(path)
	if err != nil {
		return nil, err
	}
	res := &Results{Header: f.Header, Strikes: f.Strikes, Summary: f.Summary, file: f}
	var pictured []int // indices of the changes that keep their bitmaps
	err = f.Changes(func(c *Change) error {
		if len(c.Findings) == 0 {
			return nil
		}
		c.Weights, c.Outline = nil, ""
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
	for i := range res.Changes {
		res.Findings = append(res.Findings, res.Changes[i].Findings...)
	}
	for i := range res.Strikes {
		res.Findings = append(res.Findings, res.Strikes[i].Set...)
	}
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
	if r.file != nil {
		return r.file.Changes(yield)
	}
	for i := range r.Changes {
		if err := yield(&r.Changes[i]); err != nil {
			return err
		}
	}
	return nil
}
