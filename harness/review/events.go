package review

import (
	"fmt"
	"net/http"
	"strings"
	"sync"
	"time"
)

// bell hands the latest message to everybody who waits for one.
type bell struct {
	mu   sync.Mutex
	text string
	rung chan struct{} // closed at the next message
}

func newBell() *bell { return &bell{rung: make(chan struct{})} }

func (b *bell) ring(text string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.text = text
	close(b.rung)
	b.rung = make(chan struct{})
}

func (b *bell) wait() <-chan struct{} {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.rung
}

func (b *bell) last() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.text
}

// events tells a page of new results and of faults, as server-sent events (WHATWG
// HTML, 9.2), until the page closes or the server ends.
func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	flush := http.NewResponseController(w)
	alive := time.NewTicker(20 * time.Second)
	defer alive.Stop()
	seen := 0
	fault := s.faults.wait()
	for {
		_, version, later := s.desk.Results()
		if version != seen {
			seen = version
			fmt.Fprintf(w, "event: results\ndata: %d\n\n", version)
		}
		if flush.Flush() != nil {
			return
		}
		select {
		case <-r.Context().Done():
			return
		case <-later:
		case <-fault:
			fault = s.faults.wait()
			fmt.Fprintf(w, "event: fault\ndata: %s\n\n", strings.NewReplacer("\n", "; ", "\r", " ").Replace(s.faults.last()))
		case <-alive.C:
			fmt.Fprint(w, ": still here\n\n")
		}
	}
}
