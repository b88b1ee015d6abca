package render

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"sync"
	"time"

	"smokeproof/harness/glyph"
)

// workerSeat keeps one worker running and replaces it after a fault.
type workerSeat struct {
	process *Process
	w       *worker // nil before the first request and after a fault
}

func (s *workerSeat) splits() bool { return true }

func (s *workerSeat) lastWords() string {
	if s.w == nil {
		return ""
	}
	return s.w.words.String()
}

func (s *workerSeat) close() {
	if s.w != nil {
		s.w.end()
		s.w = nil
	}
}

// ready starts a worker where there is none. A worker that cannot start or
// introduce itself draws nothing more: that is no fault of a glyph.
func (s *workerSeat) ready(ctx context.Context) error {
	if s.w != nil {
		return nil
	}
	var err error
	for range attempts {
		if err = s.start(ctx); err == nil {
			return nil
		}
		var f *fault
		if !errors.As(err, &f) || !f.killed {
			break
		}
	}
	return err
}

func (s *workerSeat) start(ctx context.Context) error {
	w, err := startWorker(s.process.options)
	if err != nil {
		return err
	}
	id, err := w.greet(ctx, s.process.options.Timeout)
	if err == nil {
		err = s.process.introduce(id)
	}
	if err != nil {
		return w.blame(err)
	}
	s.w = w
	return nil
}

func (s *workerSeat) ask(ctx context.Context, job *Job, refs []glyph.Ref) (map[glyph.Key]glyph.Cell, error) {
	if err := s.ready(ctx); err != nil {
		return nil, err
	}
	request, err := line(newRequest(job, refs))
	if err != nil {
		return nil, err
	}
	o := s.process.options
	s.w.words.forget()
	var cells map[glyph.Key]glyph.Cell
	doc, err := s.w.exchange(ctx, o.Timeout, request, func() ([]byte, error) { return s.w.document(o.Limit) })
	switch {
	case err != nil:
	case s.w.goesOn():
		err = &fault{what: "answered nonsense: it goes on after ENDFONT"}
	default:
		if cells, err = readAnswer(doc, job, refs, true); err != nil {
			err = &fault{what: "answered nonsense: " + err.Error()}
		} else if len(cells) < len(refs) {
			s.w.words.await()
		}
	}
	if err != nil {
		err = s.w.blame(err)
		s.w = nil
	}
	return cells, err
}

// worker is one running process that speaks the protocol.
type worker struct {
	name   string
	cmd    *exec.Cmd
	in     io.WriteCloser
	out    *bufio.Reader
	outEnd io.Closer
	words  words

	mu    sync.Mutex
	ended bool
}

func startWorker(o ProcessOptions) (*worker, error) {
	if len(o.Command) == 0 {
		return nil, errors.New("process renderer has no command; name a program")
	}
	w := &worker{name: o.Command[0], cmd: exec.Command(o.Command[0], o.Command[1:]...)}
	w.cmd.Dir, w.cmd.Stderr, w.cmd.WaitDelay = o.Dir, &w.words, time.Second
	ownGroup(w.cmd)
	in, err := w.cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := w.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := w.cmd.Start(); err != nil {
		return nil, fmt.Errorf("worker %q does not start: %w; check the device's command, whose paths go from the plan's folder", w.name, err)
	}
	w.in, w.out, w.outEnd = in, bufio.NewReader(out), out
	return w, nil
}

func (w *worker) greet(ctx context.Context, limit time.Duration) (glyph.Identity, error) {
	first, err := line(hello{protocolVersion})
	if err != nil {
		return glyph.Identity{}, err
	}
	b, err := w.exchange(ctx, limit, first, func() ([]byte, error) { return w.line(64 << 10) })
	if bytes.HasPrefix(b, []byte("STARTFONT")) {
		return glyph.Identity{}, fmt.Errorf("worker %q begins with a font; a program that draws one strike and ends needs {font} in its command", w.name)
	}
	id, not := readGreeting(b)
	switch {
	case not != nil && (err == nil || bytes.HasSuffix(b, []byte("\n"))): // one that spoke and ended may have ended before it was asked
		return id, fmt.Errorf("worker %q: %w", w.name, not)
	case err != nil:
		return glyph.Identity{}, fmt.Errorf("worker %q does not introduce itself: %w", w.name, w.blame(err))
	}
	return id, nil
}

// exchange writes one line and reads what read takes, within a time limit. Its
// error is a fault, beside what the process said in mid-answer, or that of the context.
func (w *worker) exchange(ctx context.Context, limit time.Duration, request []byte, read func() ([]byte, error)) ([]byte, error) {
	timed, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	// Killing ends the pipes, and with them a write or read that hangs.
	defer context.AfterFunc(timed, w.kill)()
	_, err := w.in.Write(request)
	answer, readErr := read() // what one says that hears nothing is worth reading too
	if err == nil {
		err = readErr
	}
	switch {
	case err == nil:
		return answer, nil
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case timed.Err() != nil && len(answer) > 0:
		return nil, &fault{what: fmt.Sprintf("began an answer and did not end it within %s; a document ends with a line ENDFONT, and what is written has to be flushed", limit)}
	case timed.Err() != nil:
		return nil, &fault{what: fmt.Sprintf("gave no answer within %s; if it gave one, it has to flush it", limit)}
	case errors.Is(err, errTooLong):
		return nil, &fault{what: "answered nonsense: " + err.Error()}
	}
	ended := w.end()
	return answer, &fault{what: "ended in mid-answer (" + ended.String() + ")", killed: ended.ExitCode() < 0}
}

var errTooLong = errors.New("the answer is longer than allowed")

// line reads up to a line feed.
func (w *worker) line(limit int) ([]byte, error) {
	var b []byte
	for {
		part, err := w.out.ReadSlice('\n')
		if len(b)+len(part) > limit {
			return nil, errTooLong
		}
		b = append(b, part...)
		if err != bufio.ErrBufferFull {
			return b, err
		}
	}
}

// document reads up to a line ENDFONT, or what there is of it.
func (w *worker) document(limit int) ([]byte, error) {
	var b []byte
	for {
		start := len(b)
		part, err := w.line(limit - start)
		b = append(b, part...)
		if err != nil {
			return b, err
		}
		if bytes.Equal(bytes.TrimSpace(b[start:]), []byte("ENDFONT")) {
			return b, nil
		}
	}
}

// goesOn says that the worker said more than its answer, which would be taken for
// the next one.
func (w *worker) goesOn() bool {
	rest, _ := w.out.Peek(w.out.Buffered())
	return len(bytes.TrimSpace(rest)) > 0
}

// kill ends the process and all that it started, whatever they do.
func (w *worker) kill() {
	w.mu.Lock()
	defer w.mu.Unlock()
	if !w.ended {
		killGroup(w.cmd)
	}
	w.outEnd.Close()
	w.in.Close()
}

// blame ends the worker and, once all its words are in, quotes them in a fault.
func (w *worker) blame(err error) error {
	w.kill()
	w.end()
	var f *fault
	if errors.As(err, &f) {
		f.words = w.words.String()
	}
	return err
}

// end closes the worker's input, waits until it is gone, and tells how it
// ended. A worker that stays is killed after a second.
func (w *worker) end() *os.ProcessState {
	w.in.Close()
	late := time.AfterFunc(time.Second, w.kill)
	defer late.Stop()
	w.cmd.Wait() // its status is read below
	w.mu.Lock()
	defer w.mu.Unlock()
	w.ended = true
	return w.cmd.ProcessState
}
