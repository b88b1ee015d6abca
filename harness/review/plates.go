package review

import (
	"encoding/json"
	"io"
	"strconv"

	"smokeproof/harness"
)

// plate is one change as a plates file holds it.
type plate struct {
	Golden    *picture   `json:"g,omitempty"`
	Candidate *picture   `json:"c,omitempty"`
	Weights   *weights   `json:"w,omitempty"`
	Outline   string     `json:"o,omitempty"`
	Findings  []sentence `json:"f"`
	Reason    string     `json:"r,omitempty"` // where one is known
	Size      string     `json:"z,omitempty"` // of a throng, whose changes may be on no row
}

// picture marshals as [left, bottom, width, height, depth, advance, rows].
type picture harness.Picture

func (p picture) MarshalJSON() ([]byte, error) {
	return json.Marshal([]any{p.Left, p.Bottom, p.Width, p.Height, p.Depth, p.Advance, p.Rows})
}

// weights marshals as [left, bottom, width, height, bytes].
type weights harness.Weights

func (w weights) MarshalJSON() ([]byte, error) {
	return json.Marshal([]any{w.Left, w.Bottom, w.Width, w.Height, w.Bytes})
}

// sentence marshals as [finding, severity, text, measure in px, place].
type sentence harness.Finding

func (f sentence) MarshalJSON() ([]byte, error) {
	return json.Marshal([]any{f.Finding, f.Severity, f.Text, f.MeasurePx, [4]int{f.Place.X0, f.Place.Y0, f.Place.X1, f.Place.Y1}})
}

// writePlates writes a plates file: a script, for a page on disk may read
// nothing else. json.Marshal escapes what could end a script.
func (s *sheet) writePlates(w io.Writer, n int) error {
	type entry struct {
		Changes  []plate `json:"changes"`
		Standing [][]any `json:"standing"`
	}
	list := []entry{}
	for _, f := range s.families(n) {
		e := entry{Standing: [][]any{}}
		for _, m := range f.changes {
			c, err := s.res.At(m.spot)
			if err != nil {
				return err
			}
			p := plateOf(c)
			if f.ofThrong {
				p.Size = c.Size
			}
			e.Changes = append(e.Changes, p)
		}
		for _, st := range f.standing {
			e.Standing = append(e.Standing, []any{st.Size, picture(st.Picture)})
		}
		list = append(list, e)
	}
	return writeCall(w, "plates", n, list)
}

func plateOf(c *harness.Change) plate {
	p := plate{Golden: (*picture)(c.Golden), Candidate: (*picture)(c.Candidate), Weights: (*weights)(c.Weights), Outline: c.Outline, Findings: []sentence{}, Reason: reason(c)}
	if tooLarge(c.Golden, c.Candidate) {
		p.Golden, p.Candidate, p.Weights, p.Outline = nil, nil, nil, ""
	}
	for _, x := range c.Findings {
		p.Findings = append(p.Findings, sentence(x))
	}
	return p
}

// writeRest writes rows of a throng that the page's head does not have.
func (s *sheet) writeRest(w io.Writer, n int) error {
	list := []headRow{}
	for _, i := range s.throng.rests[n] {
		m := &s.throng.members[i]
		c, err := s.res.At(m.spot)
		if err != nil {
			return err
		}
		list = append(list, s.row(c, m.place))
	}
	return writeCall(w, "rest", n, list)
}

// writeWords writes the letters of a strike that changed glyphs are set among.
func (s *sheet) writeWords(w io.Writer, n int) error {
	list := [][]any{}
	for _, b := range s.words[n].Cells {
		list = append(list, []any{b.Code, picture(b.Picture)})
	}
	return writeCall(w, "words", n, list)
}

func writeCall(w io.Writer, name string, n int, list any) error {
	data, err := json.Marshal(list)
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, "arrived(\""+name+"\","+strconv.Itoa(n)+","+string(data)+")\n")
	return err
}
