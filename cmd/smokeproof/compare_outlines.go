package main

import (
	"fmt"
	"path/filepath"
	"slices"

	"smokeproof/harness"
	"smokeproof/harness/face"
)

// outlineFont says that a file is a font of outlines that can be drawn.
func outlineFont(path string) bool {
	_, err := face.Open(path, 0)
	return err == nil
}

// compareOutlines draws two fonts at the usual sizes, and holds the second against the first.
func (c *call) compareOutlines(old, now string, dpi []string, index int, o *harness.CompareOptions) (int, error) {
	p, err := c.planOf([]string{now}, dpi, index)
	if err != nil {
		return 0, err
	}
	p.Gate, p.DistanceMM = o.Gate, o.DistanceMM
	r, err := c.openWithin(p)
	if err != nil {
		return 0, err
	}
	defer r.Close()
	past := *p
	past.Faces = slices.Clone(p.Faces)
	past.Faces[0].File, past.Faces[0].Rel = old, filepath.ToSlash(old)
	before, err := c.openFiltered(&past)
	if err != nil {
		return 0, err
	}
	defer before.Close()
	res := &harness.Results{Header: *r.Header(version())}
	res.Plan = "" // which nobody has written
	bar := c.progress(r)
	sum, err := r.Against(c.ctx, before, func(s *harness.StrikeResult) error {
		bar.add(s)
		res.Strikes = append(res.Strikes, s.StrikeRecord)
		res.Changes = append(res.Changes, s.Changes...)
		for i := range s.Changes {
			res.Findings = append(res.Findings, s.Changes[i].Findings...)
		}
		return nil
	})
	bar.finish()
	if c.ctx.Err() != nil {
		return harness.ExitIncomplete, fmt.Errorf("interrupted after %d of %d strikes", len(res.Strikes), len(r.Strikes()))
	}
	if err != nil {
		return harness.ExitIncomplete, err
	}
	res.Summary = *sum
	return sum.Exit, c.tell(res, "--json lists all")
}
