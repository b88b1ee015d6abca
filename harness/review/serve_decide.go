package review

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"

	"smokeproof/harness"
)

// request is a decisions file as the page sends it, with the decision that stood
// when each was made: "" or "reject 2027-01-31".
type request struct {
	Decisions
	Saw []string `json:"saw"`
}

// outcome is what the page is told of a decision or an undo.
type outcome struct {
	Done int      `json:"done"`
	Left []string `json:"left"`
	Undo int      `json:"undo"`
}

func (s *Server) decide(w http.ResponseWriter, r *http.Request) {
	var q request
	if !read(w, r, &q) {
		return
	}
	seen, err := q.seen()
	if err != nil {
		fail(w, fmt.Errorf("%w: %w", harness.ErrUsage, err))
		return
	}
	d, err := s.desk.Decide(uncancelled(r), q.By, seen)
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, outcome{d.Done, d.Left, d.Act})
}

// uncancelled lets what is written be written whole, though the page close meanwhile.
func uncancelled(r *http.Request) context.Context { return context.WithoutCancel(r.Context()) }

func (q *request) seen() ([]harness.Seen, error) {
	if len(q.Saw) != len(q.Decisions.Decisions) {
		return nil, fmt.Errorf("%d decisions, but %d were seen", len(q.Decisions.Decisions), len(q.Saw))
	}
	var out []harness.Seen
	for i, d := range q.Decisions.Decisions {
		h, err := d.Harness()
		if err != nil {
			return nil, err
		}
		standing, until, _ := strings.Cut(q.Saw[i], " ")
		out = append(out, harness.Seen{Decision: h, Over: d.Over, Standing: standing, Stands: until})
	}
	return out, nil
}

func (s *Server) undo(w http.ResponseWriter, r *http.Request) {
	var q struct {
		ID int    `json:"id"`
		By string `json:"by"`
	}
	if !read(w, r, &q) {
		return
	}
	d, err := s.desk.Undo(uncancelled(r), q.By, q.ID)
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, outcome{Done: d.Done, Left: d.Left})
}

func read(w http.ResponseWriter, r *http.Request, into any) bool {
	if r.Header.Get("Content-Type") != "application/json" {
		http.Error(w, "send application/json", http.StatusUnsupportedMediaType)
		return false
	}
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		http.Error(w, "not a decision: "+err.Error(), http.StatusBadRequest)
		return false
	}
	return true
}
