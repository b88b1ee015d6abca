package review

import (
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"strings"

	"smokeproof/harness"
)

// head is what the page reads first: a row a change, no pictures. Names stand
// in tables and rows name them by number.
type head struct {
	Gate      string            `json:"gate"`
	Looked    bool              `json:"looked"` // there is no golden side
	Decidable bool              `json:"decidable"`
	Of        string            `json:"of"`     // what was drawn, and held against what
	Advice    string            `json:"advice"` // what to do before all decisions; "" where there is nothing
	Sides     [2]string         `json:"sides"`  // what golden and candidate are called
	Summary   harness.Summary   `json:"summary"`
	Version   int               `json:"version"` // of a served page's results
	By        string            `json:"by"`      // who decides, where the server knows
	Faces     names             `json:"faces"`
	Devices   names             `json:"devices"`
	Sizes     names             `json:"sizes"`
	DPIs      names             `json:"dpis"`
	Glyphs    names             `json:"glyphs"`
	Kinds     names             `json:"kinds"` // findings and statuses
	Means     map[string]string `json:"means"` // of findings
	Rows      []headRow         `json:"rows"`  // worst first
	Causes    []causeText       `json:"causes"`
	Overhauls []overhaulText    `json:"overhauls"`
	Strikes   [][3]int          `json:"strikes"` // face, device, size of each words file
	Words     map[string]string `json:"words"`   // around each letter
	Numbers   string            `json:"numbers"` // the pattern of names that are only a number
}

// headRow is a change in the order that row in page/data.js reads.
type headRow struct {
	face, device, size, dpi, glyph int
	code                           int
	status                         harness.Status
	severity                       int // place in severities, or -1
	kind                           int
	score                          float64
	lost, gained                   int
	verdict, until                 string
	digest, over                   string
	place                          place
}

func (r headRow) MarshalJSON() ([]byte, error) {
	return json.Marshal([]any{r.face, r.device, r.size, r.dpi, r.glyph, r.code, r.status, r.severity, r.kind,
		math.Round(r.score*100) / 100, r.lost, r.gained, r.verdict, r.until, r.digest, r.over, r.place.file, r.place.glyph, r.place.change})
}

// names is a table of strings, each once.
type names struct {
	list []string
	at   map[string]int
}

func (n *names) number(s string) int {
	if i, ok := n.at[s]; ok {
		return i
	}
	if n.at == nil {
		n.at = map[string]int{}
	}
	n.at[s] = len(n.list)
	n.list = append(n.list, s)
	return len(n.list) - 1
}

func (n names) MarshalJSON() ([]byte, error) { return json.Marshal(append([]string{}, n.list...)) }

// sheet is results laid out for the page: its head, and what is read on demand.
type sheet struct {
	head   head
	res    *harness.Results
	files  [][]*family // families of each plates file; those of the throng follow
	throng throng
	order  []ranked // all changes
	words  []harness.Letters
}

// family is one glyph of a face on a device: its changes by size, and the sizes
// at which it stands as approved.
type family struct {
	changes  []met
	standing []harness.Standing
	ofThrong bool
}

// met is a change that lies on the page, and where all of it stands.
type met struct {
	*harness.Change
	spot harness.Spot
}

// platesFile is about how many changes share a file: a ramp comes in one read.
const platesFile = 64

func layOut(g *Gist, res *harness.Results, around *harness.Surround) (*sheet, error) {
	if around == nil {
		around = &harness.Surround{}
	}
	s := &sheet{res: res, throng: newThrong(), words: around.Letters, head: head{Words: words, Means: meaning, Numbers: isNumber.String(), Gate: res.Gate, Looked: res.Looked, Decidable: res.Decidable(), Of: of(res), Advice: otherNames(res), Sides: sides(&res.Header), Summary: res.Summary, Rows: []headRow{}, Strikes: [][3]int{}, Overhauls: []overhaulText{}}}
	apart, err := s.meet()
	if err != nil {
		return nil, err
	}
	places := s.layFamilies(apart, around.Ramps)
	s.throng.lay(len(s.files), places)
	var alone []*harness.Change
	for i := range apart {
		alone = append(alone, apart[i].Change)
	}
	sortWorst(alone)
	changes, rows := slices.Concat(alone, s.throng.changes()), map[*harness.Change]int{}
	sortWorst(changes)
	for i, c := range changes {
		rows[c] = i
		s.head.Rows = append(s.head.Rows, s.row(c, places[c]))
	}
	s.head.Causes = s.causeTexts(causes(alone), rows)
	for _, o := range g.overhauls {
		s.head.Overhauls = append(s.head.Overhauls, o.told(&res.Header))
	}
	for _, l := range around.Letters {
		s.head.Strikes = append(s.head.Strikes, [3]int{s.head.Faces.number(l.Face), s.head.Devices.number(l.Device), s.head.Sizes.number(l.Size)})
	}
	return s, nil
}

// meet reads all changes, and gives those that are of no throng, of results in a file no more of each than its
// row and its cause ask for.
func (s *sheet) meet() (apart []met, err error) {
	throngs, err := s.res.Throngs()
	if err != nil {
		return nil, err
	}
	said, brief := harness.Words{}, s.res.Path() != ""
	if sum := &s.res.Summary; brief { // room for as many as it says, within reason: growing would take it twice
		room := min(max(sum.Changed+sum.New+sum.Missing+sum.Undrawn, 0), 1<<20)
		s.order, s.throng.members = make([]ranked, 0, room), make([]member, 0, room)
	}
	err = s.res.EachAt(func(c *harness.Change, spot harness.Spot) error {
		s.order = append(s.order, ranked{spot, c.Weight()})
		if brief {
			c.Findings = reported(c)
			c.Golden, c.Candidate, c.Weights, c.Outline = nil, nil, nil, ""
		}
		if throngs[c.Face] {
			s.throng.meet(met{c, spot}, s.row(c, place{}))
			return nil
		}
		if brief {
			said.Share(c)
		}
		apart = append(apart, met{c, spot})
		return nil
	})
	sortRanked(s.order)
	return apart, err
}

// plates is how many plates files there are.
func (s *sheet) plates() int { return len(s.files) + s.throng.plates() }

// families are those of the n-th plates file.
func (s *sheet) families(n int) []*family {
	if n < len(s.files) {
		return s.files[n]
	}
	return s.throng.families(n - len(s.files))
}

// causeText is a cause as the page shows it.
type causeText struct {
	Kind int       `json:"kind"` // a number that causes of one kind share
	Text string    `json:"text"` // its reason, or what its worst is, in short; none where nothing is found
	Rows []int     `json:"rows"`
	Rest *restText `json:"rest,omitempty"`
}

// restText tells of the changes of a cause that are not among the rows, and what there is in all.
type restText struct {
	N       int   `json:"n"`
	Files   []int `json:"files"`
	Glyphs  int   `json:"glyphs"`
	Sizes   []int `json:"sizes"`
	Devices []int `json:"devices"`
}

// causeTexts lists causes of changes that are looked at one by one, and those of the throng between them.
func (s *sheet) causeTexts(list []*cause, rows map[*harness.Change]int) []causeText {
	kinds := map[kind]int{}
	out := []causeText{}
	crowded := s.throng.heaviestFirst()
	for _, c := range list {
		for len(crowded) > 0 && crowded[0].weight().Compare(c.weight()) > 0 {
			out, crowded = append(out, crowded[0].text(numberOf(kinds, crowded[0].kind), rows)), crowded[1:]
		}
		t := causeText{Kind: numberOf(kinds, c.kind), Text: shortly(c.worst())}
		for _, m := range c.members {
			t.Rows = append(t.Rows, rows[m])
		}
		out = append(out, t)
	}
	for _, x := range crowded {
		out = append(out, x.text(numberOf(kinds, x.kind), rows))
	}
	return out
}

func numberOf(kinds map[kind]int, k kind) int {
	if _, ok := kinds[k]; !ok {
		kinds[k] = len(kinds)
	}
	return kinds[k]
}

// shortly is why a change is what it is, else what it is; "" where nothing is found.
func shortly(c *harness.Change) string {
	text := reason(c)
	if len(c.Findings) > 0 && (text == "" || c.Status == harness.StatusLooked) {
		text = plain(c.Findings[0].Text)
	}
	return cutShort(text)
}

func cutShort(text string) string {
	text, _, _ = strings.Cut(text, ";")
	text, _, _ = strings.Cut(text, ":")
	return text
}

func (s *sheet) row(c *harness.Change, at place) headRow {
	h := &s.head
	return headRow{
		face: h.Faces.number(c.Face), device: h.Devices.number(c.Device), size: h.Sizes.number(c.Size), dpi: h.DPIs.number(c.DPI),
		glyph: h.Glyphs.number(c.Glyph), code: c.Code, status: c.Status, severity: gravity(c.Severity),
		kind: h.Kinds.number(firstFinding(c)), score: c.Score, lost: c.Lost, gained: c.Gained,
		verdict: c.Verdict, until: c.Until, digest: c.Digest, over: c.Over, place: at,
	}
}

// layFamilies groups changes by glyph and puts families into files. It tells the place of each.
func (s *sheet) layFamilies(apart []met, standing []harness.Standing) map[*harness.Change]place {
	type key struct{ face, device, glyph string }
	byKey := map[key]*family{}
	var keys []key
	for _, c := range apart {
		k := key{c.Face, c.Device, c.Glyph}
		if byKey[k] == nil {
			byKey[k] = &family{}
			keys = append(keys, k)
		}
		byKey[k].changes = append(byKey[k].changes, c)
	}
	for _, st := range standing {
		if f := byKey[key{st.Face, st.Device, st.Glyph}]; f != nil {
			f.standing = append(f.standing, st)
		}
	}
	places := map[*harness.Change]place{}
	full := platesFile
	for _, k := range keys {
		f := byKey[k]
		slices.SortStableFunc(f.changes, func(a, b met) int { return cmp.Compare(leading(a.Size), leading(b.Size)) })
		if full >= platesFile {
			s.files = append(s.files, nil)
			full = 0
		}
		last := len(s.files) - 1
		for i, c := range f.changes {
			places[c.Change] = place{int32(last), int32(len(s.files[last])), int32(i)}
		}
		s.files[last] = append(s.files[last], f)
		full += len(f.changes)
	}
	return places
}
