package render

import (
	"strings"
	"sync"
	"time"
	"unicode"
)

// words keeps the end of what a process says on standard error.
type words struct {
	mu  sync.Mutex
	end []byte
}

const maxWords = 300 // bytes

func (w *words) Write(b []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.end = append(w.end, b[max(0, len(b)-maxWords):]...)
	w.end = append(w.end[:0], w.end[max(0, len(w.end)-maxWords):]...)
	return len(b), nil
}

// forget makes room for what is said of the next request.
func (w *words) forget() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.end = w.end[:0]
}

// await gives words that were said before an answer, and come by another pipe, a moment to arrive.
func (w *words) await() {
	for range 20 {
		if w.String() != "" {
			return
		}
		time.Sleep(time.Millisecond)
	}
}

// String is the words on one line, free of control characters.
func (w *words) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	s := strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, string(w.end))
	return strings.Join(strings.Fields(s), " ")
}
