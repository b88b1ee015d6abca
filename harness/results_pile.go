package harness

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"smokeproof/golden"
)

// pile is what changed of a strike, as lines of results.json, so that memory need hold no more than
// their order. It is for one goroutine at a time.
type pile struct {
	folder *pileFolder
	near   []byte // lines that are not in the file
	file   *os.File
	path   string // of the file; "" while there is none
	far    int64  // bytes in the file
	order  []pileLine
	tally  tally
	err    error // the first
}

// pileLine is where a change's line lies, and what it is ordered by.
type pileLine struct {
	urgency
	at   int64 // lines in the file first, then those near
	size int
}

// mostNear is how many bytes of lines a pile keeps in memory: those of a handful of changes. A run may
// have hundreds of strikes that wait to be handed on.
const mostNear = 1 << 15

func (p *pile) add(c *Change) {
	p.order = append(p.order, p.write(c))
	p.tally.add(c, 1)
}

func (p *pile) write(c *Change) pileLine {
	line, err := json.Marshal(c)
	l := pileLine{c.urgency(), p.far + int64(len(p.near)), len(line)}
	if p.near = append(p.near, line...); len(p.near) > mostNear {
		p.flush()
	}
	p.fail(err)
	return l
}

// fail keeps the first error.
func (p *pile) fail(err error) {
	if p.err == nil {
		p.err = err
	}
}

// flush puts the lines that are near into the file.
func (p *pile) flush() {
	if p.path == "" && p.err == nil {
		p.file, p.err = p.folder.create()
		if p.err == nil {
			p.path = p.file.Name()
		}
	}
	if p.err == nil {
		_, p.err = p.file.Write(p.near)
	}
	p.far += int64(len(p.near))
	p.near = p.near[:0]
}

// line is that of a change by its place in the order.
func (p *pile) line(i int) ([]byte, error) {
	l := &p.order[i]
	if p.err != nil {
		return nil, fmt.Errorf("changes: %w", p.err)
	}
	if l.at >= p.far {
		return p.near[l.at-p.far:][:l.size], nil
	}
	line := make([]byte, l.size)
	if _, err := p.file.ReadAt(line, l.at); err != nil {
		return nil, fmt.Errorf("changes: %w", err)
	}
	return line, nil
}

func (p *pile) change(i int) (*Change, error) {
	line, err := p.line(i)
	if err != nil {
		return nil, err
	}
	var c Change
	return &c, json.Unmarshal(line, &c)
}

// amend alters a change. Its old line stays in the file, in no order.
func (p *pile) amend(i int, alter func(*Change) error) error {
	c, err := p.change(i)
	if err != nil {
		p.fail(err)
		return err
	}
	p.tally.add(c, -1)
	if err := alter(c); err != nil {
		return err
	}
	p.tally.add(c, 1)
	p.order[i] = p.write(c)
	return p.err
}

// close puts the changes in order, after the last of them. The file is opened again when they are asked
// for: hundreds of piles may wait.
func (p *pile) close() error {
	slices.SortStableFunc(p.order, func(a, b pileLine) int { return a.compare(b.urgency) })
	if p.path == "" {
		p.near = slices.Clip(p.near)
		return p.err
	}
	p.flush()
	p.near = nil
	p.fail(p.file.Close())
	return p.err
}

// eachLine gives the lines in order, of a pile that is closed. A line is good until the next one.
func (p *pile) eachLine(yield func([]byte) error) (err error) {
	if p.path != "" {
		if p.file, err = os.Open(p.path); err != nil {
			return fmt.Errorf("changes: %w", err)
		}
		defer p.file.Close()
	}
	for i := range p.order {
		line, err := p.line(i)
		if err == nil {
			err = yield(line)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// drop forgets all.
func (p *pile) drop() {
	if p.path != "" {
		os.Remove(p.path)
	}
	p.near, p.order = nil, nil
}

// pileFolder holds the files of a run's piles. It is made when it is first needed.
type pileFolder struct {
	within string
	once   sync.Once
	path   string
	err    error
}

func (f *pileFolder) create() (*os.File, error) {
	f.once.Do(func() {
		golden.DropLeft(f.within, pilePrefix, fs.ModeDir)
		f.path, f.err = os.MkdirTemp(f.within, pilePrefix+"*")
	})
	if f.err != nil {
		return nil, f.err
	}
	return os.CreateTemp(f.path, "*")
}

const pilePrefix = ".changes-"

func (f *pileFolder) close() error {
	if f == nil || f.path == "" {
		return nil
	}
	return os.RemoveAll(f.path)
}

// KeepChanges makes Check keep what changed of a strike in a folder, which must exist, until the strike
// is handed on, and not in memory. Changes of a [StrikeResult] is then empty; Each gives them.
func (r *Run) KeepChanges(dir string) { r.piles = &pileFolder{within: filepath.Clean(dir)} }

// newPile is nil where changes are kept in memory.
func (r *Run) newPile() *pile {
	if r.piles == nil {
		return nil
	}
	return &pile{folder: r.piles}
}

// piled puts changes that are in memory on a pile, if there are to be piles.
func (r *Run) piled(s *StrikeResult) (*StrikeResult, error) {
	if s.pile = r.newPile(); s.pile == nil {
		return s, nil
	}
	for i := range s.Changes {
		s.pile.add(&s.Changes[i])
	}
	s.Changes = nil
	return s, s.pile.close()
}
