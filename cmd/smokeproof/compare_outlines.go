package main

import (
	"fmt"
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
func (c *call) compareOutlines(old, now string, f *compareFlags, o *harness.CompareOptions) (int, error) {
	p, err := c.planOf([]string{now}, f.dpi, f.index)
	if err != nil {
		return 0, err
	}
	p.Gate, p.DistanceMM, p.Faces[0].Rel = o.Gate, o.DistanceMM, now
	r, err := c.openWithin(p)
	if err != nil {
		return 0, err
	}
	defer r.Close()
	past := *p
	past.Faces = slices.Clone(p.Faces)
	past.Faces[0].File, past.Faces[0].Rel, past.Faces[0].Name = old, old, old
	before, err := c.openFiltered(&past)
	if err != nil {
		return 0, err
	}
	defer before.Close()
	c.warnOf(append(before.Notes(), r.Notes()...))
	revisions := r.Revisions(before)
	res, err := c.against(r, before, revisions)
	if err != nil {
		return harness.ExitIncomplete, err
	}
	c.warnOf(append(before.Remarks(), r.Remarks()...))
	if !c.json {
		c.say("what differs in the fonts: %s", revisions[p.Faces[0].Name].Differences())
	}
	if err := c.show(res, f.out, r.Surround); err != nil {
		return harness.ExitIncomplete, err
	}
	return res.Summary.Exit, nil
}

// against gathers what a run comes to beside another.
func (c *call) against(r, before *harness.Run, revisions map[string]*face.Revision) (*harness.Results, error) {
	res := &harness.Results{Header: *r.Header(version())}
	res.Plan, res.Against = "", before.Plan.Faces[0].Rel // nobody has written the plan
	bar := c.progress(r)
	sum, err := r.Against(c.ctx, before, revisions, func(s *harness.StrikeResult) error {
		bar.add(s)
		res.Strikes = append(res.Strikes, s.StrikeRecord)
		res.Changes = append(res.Changes, s.Changes...)
		return nil
	})
	bar.finish()
	if c.ctx.Err() != nil {
		return nil, fmt.Errorf("interrupted after %d of %d strikes", len(res.Strikes), len(r.Strikes()))
	}
	if err != nil {
		return nil, err
	}
	res.Summary = *sum
	return res, nil
}
