package review

import (
	"slices"

	"smokeproof/harness"
)

// Gist is results as reports tell them: faces that changed all over, counted, and the other changes.
type Gist struct {
	*harness.Results
	overhauls []*overhaul
	rest      []*harness.Change // worst first
	failing   int               // changes that fail at the gate
	fresh     map[string]int    // of them new, by face
	sayings   []*saying

	throngs map[string]bool
	names   names
	strikes map[harness.StrikeKey]int
	whole   map[harness.StrikeKey]bool
	byFace  map[string]*overhaul
	noted   map[remark][]int // the first names of its glyphs
	said    map[[2]string]*saying
	at      int
}

// ReadGist reads the gist of a results.json. Its memory grows with the changes that are not of a
// face that changed all over.
func ReadGist(path string) (*Gist, error) {
	whole, err := harness.OpenResults(path)
	if err != nil {
		return nil, err
	}
	var g Gist
	if g.throngs, err = whole.Throngs(); err != nil {
		return nil, err
	}
	res, err := harness.ReadFindings(path, func(res *harness.Results, c *harness.Change) (taken bool) {
		if g.Results == nil {
			g.begin(res)
		}
		if g.take(c) {
			return true
		}
		c.Findings = reported(c)
		return false
	})
	if err != nil {
		return nil, err
	}
	if g.Results == nil {
		g.begin(res)
	}
	g.finish()
	return &g, nil
}

// reported are the findings that reports go by: the worst, those of alignment rows, and all where the change
// may yet be one of a face that changed all over.
func reported(c *harness.Change) []harness.Finding {
	if c.Note != "" || c.Status == harness.StatusLooked || len(c.Findings) < 2 {
		return c.Findings
	}
	list := []harness.Finding{c.Findings[0]}
	for _, f := range c.Findings[1:] {
		if slices.Contains(ofARow, f.Finding) {
			list = append(list, f)
		}
	}
	return list
}

// GistOf is the gist of results that are in memory.
func GistOf(res *harness.Results) *Gist {
	var g Gist
	g.throngs, _ = res.Throngs() // nothing of them is in a file
	g.begin(res)
	for i := range res.Changes {
		g.take(&res.Changes[i])
	}
	g.finish()
	return &g
}

// gistOf is the gist of results wherever they are.
func gistOf(res *harness.Results) (*Gist, error) {
	if path := res.Path(); path != "" {
		return ReadGist(path)
	}
	return GistOf(res), nil
}

func (g *Gist) begin(res *harness.Results) {
	g.Results, g.whole = res, wholeStrikes(res, g.throngs)
	g.fresh, g.strikes = map[string]int{}, map[harness.StrikeKey]int{}
	g.byFace, g.noted, g.said = map[string]*overhaul{}, map[remark][]int{}, map[[2]string]*saying{}
	for i := range res.Strikes {
		g.strikes[res.Strikes[i].StrikeKey()] = i
	}
}

// take counts the next change, and says whether there is no more to be told of it.
func (g *Gist) take(c *harness.Change) bool {
	s := g.see(c)
	if c.Fails(g.Gate) {
		g.failing++
		if c.Status == harness.StatusNew {
			g.fresh[c.Face]++
		}
	}
	g.hear(s)
	if had := g.noted[remarkOf(c)]; c.Note != "" && len(had) < leastGlyphs && !slices.Contains(had, s.name) {
		g.noted[remarkOf(c)] = append(had, s.name)
	}
	if !drawnOtherwise(c) || !g.whole[c.StrikeKey()] {
		return false
	}
	g.befell(s)
	return !g.Looked
}

func (g *Gist) see(c *harness.Change) seen {
	g.at++
	return seen{c, g.strikes[c.StrikeKey()], g.at, g.names.number(spoken(c))}
}

// befell counts a change among those of a face that changed all over.
func (g *Gist) befell(s seen) {
	o := g.byFace[s.change.Face]
	if o == nil {
		o = newOverhaul(s.change.Face)
		g.byFace[s.change.Face] = o
	}
	o.add(s, s.change.Fails(g.Gate))
	if g.Looked {
		o.kept = append(o.kept, s.change)
	}
}

// finish lists what was counted, once all changes were taken.
func (g *Gist) finish() {
	for _, c := range worstFirst(g.Results) {
		whole := drawnOtherwise(c) && g.whole[c.StrikeKey()]
		if !whole && drawnOtherwise(c) && g.many(c) {
			g.befell(g.see(c))
			whole = true
		}
		if !whole || g.Looked {
			g.rest = append(g.rest, c)
		}
	}
	for _, o := range g.byFace {
		if !g.Looked || g.many(o.worst.change) || len(causes(g.sorted(o.kept))) > manyCauses {
			g.overhauls = append(g.overhauls, o)
		}
	}
	slices.SortFunc(g.overhauls, func(a, b *overhaul) int { return a.worst.compare(b.worst) })
	for _, o := range g.overhauls {
		o.finish(g.Results)
	}
	if g.Looked {
		told := map[*harness.Change]bool{}
		for _, o := range g.overhauls {
			for _, c := range o.kept {
				told[c] = true
			}
		}
		g.rest = slices.DeleteFunc(g.rest, func(c *harness.Change) bool { return told[c] })
	}
}

// many says that what is remarked of a change is remarked of many glyphs of its face in the same words.
func (g *Gist) many(c *harness.Change) bool {
	return len(g.noted[remarkOf(c)]) == leastGlyphs
}

func (g *Gist) sorted(cs []*harness.Change) []*harness.Change {
	cs = slices.Clone(cs)
	sortWorst(cs)
	return cs
}
