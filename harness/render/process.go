package render

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	"smokeproof/harness/glyph"
)

// ProcessOptions say which program draws and within what limits.
type ProcessOptions struct {
	// Command is the program and its arguments, started as they stand and never
	// through a shell. A command with the place {font} is one-shot: it is run
	// once per strike, with {font} {index} {size} {dpi} {xdpi} {ydpi} {glyphs}
	// replaced ({dpi} is "203", or "203,406" where the axes differ), and prints one BDF document. Any other is a worker that speaks
	// the protocol.
	Command []string
	Dir     string        // where it runs, and its path begins; "" means where we run
	Workers int           // processes at once; 0 means one per core
	Timeout time.Duration // for a first line, and for one answer; 0 means a minute
	Limit   int           // bytes of one answer; 0 means 64 MiB
}

// Process is a renderer outside this program. A process that dies, hangs or
// answers nonsense costs the glyph that did it and no other: the request is
// halved until the glyph stands alone.
type Process struct {
	options ProcessOptions
	seats   chan seat // every seat that no Draw holds

	mu sync.Mutex
	id glyph.Identity
}

// seat is one process's place: it asks a process for glyphs and gets a fresh
// one after a fault.
type seat interface {
	// ask draws some glyphs of a job. A fault in the chain of the error says that
	// fewer glyphs may fare better.
	ask(ctx context.Context, job *Job, refs []glyph.Ref) (map[glyph.Key]glyph.Cell, error)
	// splits says that ask can draw a part of a strike.
	splits() bool
	// lastWords is the end of what the process said on standard error.
	lastWords() string
	close()
}

// NewProcess prepares a renderer; nothing is started before it is needed.
func NewProcess(o ProcessOptions) *Process {
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	if o.Timeout <= 0 {
		o.Timeout = time.Minute
	}
	if o.Limit <= 0 {
		o.Limit = 64 << 20
	}
	p := &Process{options: o, seats: make(chan seat, o.Workers)}
	for range o.Workers {
		if p.oneShot() {
			p.seats <- &oneShot{process: p}
		} else {
			p.seats <- &workerSeat{process: p}
		}
	}
	return p
}

func (p *Process) oneShot() bool { return oneShotCommand(p.options.Command) }

// Identity asks a worker who it is. A one-shot command cannot say: its name is
// its file's, its version a digest of that file.
func (p *Process) Identity(ctx context.Context) (glyph.Identity, error) {
	if len(p.options.Command) == 0 {
		return glyph.Identity{}, errors.New("process renderer has no command; name a program")
	}
	if p.oneShot() {
		return commandIdentity(p.options.Dir, p.options.Command)
	}
	s, err := p.sit(ctx)
	if err != nil {
		return glyph.Identity{}, err
	}
	defer p.rise(s)
	if err := s.(*workerSeat).ready(ctx); err != nil {
		return glyph.Identity{}, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.id, nil
}

// Draw draws a job on one process, which may run in another folder.
func (p *Process) Draw(ctx context.Context, job *Job, yield func(*Drawn) error) error {
	font, err := filepath.Abs(job.Font)
	if err != nil {
		return err
	}
	s, err := p.sit(ctx)
	if err != nil {
		return err
	}
	defer p.rise(s)
	placed := *job
	placed.Font = font
	i := isolation{seat: s, job: &placed, yield: yield}
	return i.draw(ctx, job.Glyphs)
}

// Close ends every process. It waits for Draws in progress.
func (p *Process) Close() error {
	for range p.options.Workers {
		s := <-p.seats
		s.close()
		defer func() { p.seats <- s }()
	}
	return nil
}

func (p *Process) sit(ctx context.Context) (seat, error) {
	select {
	case s := <-p.seats:
		return s, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func (p *Process) rise(s seat) { p.seats <- s }

// introduce holds a worker to what the first one said of itself: goldens
// drawn by two versions in one run would be worth nothing.
func (p *Process) introduce(id glyph.Identity) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.id.Name == "" {
		p.id = id
	}
	if p.id != id {
		return fmt.Errorf("worker %q first called itself %s and now %s; run again with one version", p.options.Command[0], p.id, id)
	}
	return nil
}
