package harness

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"

	"smokeproof/harness/infile"
)

// ShardRecord says in the header of a part which part it is.
type ShardRecord struct {
	Index   int    `json:"index"` // from 1
	Count   int    `json:"count"`
	Run     string `json:"run"`     // the same for all parts of one run: a digest of what all of them draw
	Strikes []int  `json:"strikes"` // the part's strikes by their places in the plan, from 0
}

// part is one shard's results, read strike by strike.
type part struct {
	*resultsFile
	dir   string
	file  *os.File
	lines *changeLines
	next  int // of Shard.Strikes
}

// Gather joins the parts of a sharded run, a folder each, into the results
// that one run would have written, byte for byte. Parts that are missing,
// doubled, broken off or of another run are errors.
func Gather(dirs []string, out string) (*Summary, error) {
	parts, err := openParts(dirs)
	defer func() {
		for _, p := range parts {
			p.file.Close()
		}
	}()
	if err != nil {
		return nil, err
	}
	head := parts[0].Header
	head.Shard = nil
	w, err := NewResultsWriter(out, &head)
	if err != nil {
		return nil, err
	}
	if err := joinStrikes(w, parts); err != nil {
		w.Abort()
		return nil, err
	}
	sum := NewSummary()
	for _, p := range parts {
		sum.join(&p.Summary)
	}
	return sum, w.Close(sum)
}

func openParts(dirs []string) ([]*part, error) {
	var parts []*part
	for _, dir := range dirs {
		p := &part{dir: dir}
		var err error
		if p.resultsFile, err = openResults(filepath.Join(dir, ResultsName)); err != nil {
			return parts, err
		}
		if p.file, err = infile.Open(p.path, maxResults); err != nil {
			return parts, fmt.Errorf("results: %w", err)
		}
		parts = append(parts, p)
		if p.lines, err = p.resultsFile.lines(p.file); err != nil {
			return parts, err
		}
	}
	return parts, complete(parts)
}

// complete says that parts are all of one run, each once and each whole.
func complete(parts []*part) error {
	if len(parts) == 0 {
		return errors.New("no parts to gather; name the folders that check --shard wrote")
	}
	var errs []error
	seen := map[int]string{}
	for _, p := range parts {
		s := p.Shard
		if s == nil {
			return fmt.Errorf("%s: no part of a sharded run; leave it out", p.dir)
		}
		if err := (Shard{s.Index, s.Count}).check(); err != nil {
			return fmt.Errorf("%s: %w; run it again", p.dir, err)
		}
		if first := parts[0]; !sameRun(&first.Header, &p.Header) {
			return fmt.Errorf("%s and %s: parts of two runs (plan, fonts, renderers or program differ); run those of one again", first.dir, p.dir)
		}
		if had, ok := seen[s.Index]; ok {
			errs = append(errs, fmt.Errorf("%s and %s: both are shard %d/%d; leave one out", had, p.dir, s.Index, s.Count))
		}
		seen[s.Index] = p.dir
		switch why := p.Summary.unreadError(); {
		case why != nil:
			errs = append(errs, fmt.Errorf("%s: shard %d/%d left strikes out: %w; mend that and run it again", p.dir, s.Index, s.Count, why))
		case p.Summary.Partial || len(s.Strikes) != len(p.resultsFile.Strikes):
			errs = append(errs, fmt.Errorf("%s: shard %d/%d was broken off; run it again", p.dir, s.Index, s.Count))
		}
	}
	count := parts[0].Shard.Count
	for i := 1; i <= count; i++ {
		if _, ok := seen[i]; !ok {
			errs = append(errs, fmt.Errorf("shard %d/%d is missing; run it and gather again", i, count))
		}
	}
	return errors.Join(errs...)
}

// sameRun compares headers. Where machines keep their copies of the plan is
// their own business.
func sameRun(a, b *Header) bool {
	x, y := *a, *b
	x.Plan, y.Plan = "", ""
	if x.Shard.Run != y.Shard.Run || x.Shard.Count != y.Shard.Count {
		return false
	}
	x.Shard, y.Shard = nil, nil
	return reflect.DeepEqual(x, y)
}

// joinStrikes copies the strikes in plan order, their changes as they stand.
func joinStrikes(w *ResultsWriter, parts []*part) error {
	total := 0
	for _, p := range parts {
		total += len(p.Shard.Strikes)
	}
	for at := range total {
		i := slices.IndexFunc(parts, func(p *part) bool { return p.next < len(p.Shard.Strikes) && p.Shard.Strikes[p.next] == at })
		if i < 0 {
			return fmt.Errorf("strike %d of the plan is in no shard; run all shards again with one program", at+1)
		}
		if err := parts[i].copyStrike(w); err != nil {
			return err
		}
	}
	for _, p := range parts {
		if _, err := p.lines.next(); err != io.EOF {
			return p.damaged()
		}
	}
	return nil
}

// copyStrike copies a part's next strike.
func (p *part) copyStrike(w *ResultsWriter) error {
	s := p.resultsFile.Strikes[p.next]
	p.next++
	w.strikes = append(w.strikes, s)
	for range s.Changed + s.New + s.Missing + s.Undrawn {
		line, err := p.lines.next()
		if err != nil {
			return p.damaged()
		}
		if !json.Valid(line) {
			return p.damaged()
		}
		w.line(line)
	}
	return w.err
}

// join adds what another part came to.
func (s *Summary) join(o *Summary) {
	s.Strikes += o.Strikes
	s.Counts.add(&o.Counts, 1)
	for k, n := range o.BySeverity {
		s.BySeverity[k] += n
	}
	for k, n := range o.ByFinding {
		s.ByFinding[k] += n
	}
	s.Partial = s.Partial || o.Partial
	s.Exit = max(s.Exit, o.Exit)
}
