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
	Plates    []int             `json:"plates"`  // file of each family
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
	family, member                 int
}

func (r headRow) MarshalJSON() ([]byte, error) {
	return json.Marshal([]any{r.face, r.device, r.size, r.dpi, r.glyph, r.code, r.status, r.severity, r.kind,
		math.Round(r.score*100) / 100, r.lost, r.gained, r.verdict, r.until, r.digest, r.over, r.family, r.member})
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
	head     head
	whole    func(*harness.Change) (*harness.Change, error)
	families []*family
	files    [][]*family // families of each plates file
	words    []harness.Letters
}

// family is one glyph of a face on a device: its changes by size, and the sizes
// at which it stands as approved.
type family struct {
	changes  []*harness.Change
	standing []harness.Standing
}

// platesFile is about how many changes share a file: a ramp comes in one read.
const platesFile = 64

func layOut(g *Gist, res *harness.Results, around *harness.Surround) *sheet {
	if around == nil {
		around = &harness.Surround{}
	}
	s := &sheet{whole: res.Whole, head: head{Words: words, Means: meaning, Numbers: isNumber.String(), Gate: res.Gate, Looked: res.Looked, Decidable: res.Decidable(), Of: of(res), Advice: otherNames(res), Sides: sides(&res.Header), Summary: res.Summary, Rows: []headRow{}, Plates: []int{}, Strikes: [][3]int{}, Overhauls: []overhaulText{}}}
	places := s.layFamilies(res, around.Ramps)
	changes, rows := worstFirst(res), map[*harness.Change]int{}
	for i, c := range changes {
		rows[c] = i
		r := s.row(c)
		r.family, r.member = places[c][0], places[c][1]
		s.head.Rows = append(s.head.Rows, r)
	}
	s.head.Causes = causeTexts(causes(changes), rows)
	for _, o := range g.overhauls {
		s.head.Overhauls = append(s.head.Overhauls, o.told(&res.Header))
	}
	s.words = around.Letters
	for _, l := range around.Letters {
		s.head.Strikes = append(s.head.Strikes, [3]int{s.head.Faces.number(l.Face), s.head.Devices.number(l.Device), s.head.Sizes.number(l.Size)})
	}
	return s
}

// causeText is a cause as the page shows it.
type causeText struct {
	Kind int    `json:"kind"` // a number that causes of one kind share
	Text string `json:"text"` // its reason, or what its worst is, in short; none where nothing is found
	Rows []int  `json:"rows"`
}

func causeTexts(list []*cause, rows map[*harness.Change]int) []causeText {
	kinds := map[kind]int{}
	out := []causeText{}
	for _, c := range list {
		if _, ok := kinds[c.kind]; !ok {
			kinds[c.kind] = len(kinds)
		}
		t := causeText{Kind: kinds[c.kind]}
		t.Text = shortly(c.worst())
		for _, m := range c.members {
			t.Rows = append(t.Rows, rows[m])
		}
		out = append(out, t)
	}
	return out
}

// shortly is why a change is what it is, else what it is; "" where nothing is found.
func shortly(c *harness.Change) string {
	text := reason(c)
	if len(c.Findings) > 0 && (text == "" || c.Status == harness.StatusLooked) {
		text = plain(c.Findings[0].Text)
	}
	text, _, _ = strings.Cut(text, ";")
	text, _, _ = strings.Cut(text, ":")
	return text
}

func (s *sheet) row(c *harness.Change) headRow {
	h := &s.head
	return headRow{
		face: h.Faces.number(c.Face), device: h.Devices.number(c.Device), size: h.Sizes.number(c.Size), dpi: h.DPIs.number(c.DPI),
		glyph: h.Glyphs.number(c.Glyph), code: c.Code, status: c.Status, severity: gravity(c.Severity),
		kind: h.Kinds.number(firstFinding(c)), score: c.Score, lost: c.Lost, gained: c.Gained,
		verdict: c.Verdict, until: c.Until, digest: c.Digest, over: c.Over,
	}
}

// layFamilies groups changes by glyph and puts families into files. It gives
// each change its family and its place within.
func (s *sheet) layFamilies(res *harness.Results, standing []harness.Standing) map[*harness.Change][2]int {
	type key struct{ face, device, glyph string }
	byKey := map[key]*family{}
	var keys []key
	for i := range res.Changes {
		c := &res.Changes[i]
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
	places := map[*harness.Change][2]int{}
	full := platesFile
	for _, k := range keys {
		f := byKey[k]
		slices.SortStableFunc(f.changes, func(a, b *harness.Change) int { return cmp.Compare(leading(a.Size), leading(b.Size)) })
		if full >= platesFile {
			s.files = append(s.files, nil)
			full = 0
		}
		for i, c := range f.changes {
			places[c] = [2]int{len(s.families), i}
		}
		last := len(s.files) - 1
		s.files[last] = append(s.files[last], f)
		s.families = append(s.families, f)
		s.head.Plates = append(s.head.Plates, last)
		full += len(f.changes)
	}
	return places
}
