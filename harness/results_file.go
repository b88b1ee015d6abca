package harness

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"

	"smokeproof/harness/infile"
)

// resultsFile is a results.json that is read change by change, so that its
// size is no matter. It counts on the lines that ResultsWriter makes: the
// header, a line for each change, "],", and the counts.
type resultsFile struct {
	Header
	Strikes []StrikeRecord `json:"strikes"`
	Summary Summary        `json:"summary"`

	path string
	from int64 // where the first change begins
}

// Limits on results, which may come from another's machine.
const (
	maxResults     = 1 << 40 // bytes, read line by line
	maxResultsLine = 1 << 28 // bytes: a run of a million strikes has a line of 200 MB
)

// changesFollow ends the header's line.
const changesFollow = ",\n\"changes\":["

// openResults reads all of a results file but its changes.
func openResults(path string) (*resultsFile, error) {
	f, err := infile.Open(path, maxResults)
	if err != nil {
		return nil, fmt.Errorf("results: %w; run check first", err)
	}
	defer f.Close()
	r := &resultsFile{path: path}
	head, err := bufio.NewReader(io.LimitReader(f, maxResultsLine)).ReadBytes('\n')
	if err != nil {
		return nil, r.damaged()
	}
	r.from = int64(len(head) + len(changesFollow) - 2)
	tail, err := lastLine(f)
	if err != nil {
		return nil, r.damaged()
	}
	head, ok := bytes.CutSuffix(head, []byte(",\n"))
	if !ok || json.Unmarshal(append(head, '}'), &r.Header) != nil || json.Unmarshal(append([]byte{'{'}, tail...), r) != nil {
		return nil, r.damaged()
	}
	if r.Version != ResultsVersion {
		return nil, fmt.Errorf("results %s: version %d, this program reads %d; run check again", path, r.Version, ResultsVersion)
	}
	if !r.Header.sound() || !r.Summary.sound() || slices.ContainsFunc(r.Strikes, func(s StrikeRecord) bool { return !s.sound() }) {
		return nil, r.damaged()
	}
	return r, nil
}

func (r *resultsFile) damaged() error {
	return fmt.Errorf("results %s: not as check writes them; run check again", r.path)
}

// lastLine reads a file's last line, whose end it must have.
func lastLine(f *os.File) ([]byte, error) {
	end, err := f.Seek(0, io.SeekEnd)
	if err != nil {
		return nil, err
	}
	for size := int64(1 << 16); size <= maxResultsLine; size *= 4 {
		at := max(end-size, 0)
		b := make([]byte, end-at)
		if _, err := f.ReadAt(b, at); err != nil {
			return nil, err
		}
		b, whole := bytes.CutSuffix(b, []byte("\n"))
		if i := bytes.LastIndexByte(b, '\n'); whole && i >= 0 {
			return b[i+1:], nil
		}
		if !whole || at == 0 {
			return nil, io.ErrUnexpectedEOF
		}
	}
	return nil, bufio.ErrTooLong
}

// Lines gives each change as the line of JSON that it stands on.
func (r *resultsFile) Lines(yield func(line []byte, at Spot) error) error {
	f, err := infile.Open(r.path, maxResults)
	if err != nil {
		return fmt.Errorf("results: %w", err)
	}
	defer f.Close()
	lines, err := r.lines(f)
	for err == nil {
		var line []byte
		if line, err = lines.next(); err == nil {
			err = yield(line, Spot{lines.at, len(line)})
		}
	}
	if err == io.EOF {
		return nil
	}
	return err
}

// EachAt gives each change in the order of the file.
func (r *resultsFile) EachAt(yield func(*Change, Spot) error) error {
	return r.Lines(func(line []byte, at Spot) error {
		c, err := r.change(line)
		if err != nil {
			return err
		}
		return yield(c, at)
	})
}

// Changes gives each change without its spot.
func (r *resultsFile) Changes(yield func(*Change) error) error {
	return r.EachAt(func(c *Change, _ Spot) error { return yield(c) })
}

func (r *resultsFile) change(line []byte) (*Change, error) {
	var c Change
	if json.Unmarshal(line, &c) != nil || !c.sound() {
		return nil, r.damaged()
	}
	return &c, nil
}

// at reads one change.
func (r *resultsFile) at(l Spot) (*Change, error) {
	f, err := infile.Open(r.path, maxResults)
	if err != nil {
		return nil, fmt.Errorf("results: %w", err)
	}
	defer f.Close()
	line := make([]byte, l.size)
	if _, err := f.ReadAt(line, l.at); err != nil {
		return nil, r.damaged()
	}
	return r.change(line)
}

// changeLines walks the lines between header and counts.
type changeLines struct {
	file *resultsFile
	in   *io.LimitedReader // what the line under way may still take
	r    *bufio.Reader

	at, end int64 // of the line given last
}

func (r *resultsFile) lines(f *os.File) (*changeLines, error) {
	if _, err := f.Seek(r.from, io.SeekStart); err != nil {
		return nil, err
	}
	l := &changeLines{file: r, in: &io.LimitedReader{R: f, N: maxResultsLine}}
	l.r = bufio.NewReaderSize(l.in, 1<<16)
	begin, err := l.r.ReadString('\n')
	if err != nil {
		return nil, r.damaged()
	}
	l.end = r.from + int64(len(begin))
	return l, nil
}

// next gives the next change's line, without the comma; io.EOF after the last.
func (l *changeLines) next() ([]byte, error) {
	l.in.N = maxResultsLine
	line, err := l.r.ReadBytes('\n')
	if err != nil {
		return nil, l.file.damaged()
	}
	l.at, l.end = l.end, l.end+int64(len(line))
	if string(line) == "],\n" {
		return nil, io.EOF
	}
	return bytes.TrimSuffix(line[:len(line)-1], []byte(",")), nil
}
