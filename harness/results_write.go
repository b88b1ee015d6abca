package harness

import (
	"bufio"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"smokeproof/golden"
)

// ResultsName is the name of the results file inside the folder given to --out.
const ResultsName = "results.json"

// ResultsWriter streams results.json: what is written needs no memory. The file
// appears under its name only when Close has succeeded.
type ResultsWriter struct {
	file    *golden.Aside
	w       *bufio.Writer
	strikes []StrikeRecord
	changes int
	err     error
}

// NewResultsWriter begins results.json in a folder, which it makes if need be.
func NewResultsWriter(dir string, h *Header) (*ResultsWriter, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("results: %w", err)
	}
	f, err := golden.NewAside(filepath.Join(dir, ResultsName))
	if err != nil {
		return nil, fmt.Errorf("results: %w", err)
	}
	w := &ResultsWriter{file: f, w: bufio.NewWriterSize(f, 1<<16)}
	head, err := json.Marshal(h)
	if err != nil {
		w.Abort()
		return nil, err
	}
	w.put(string(head[:len(head)-1]) + changesFollow)
	return w, w.err
}

// Strike writes what one strike came to.
func (w *ResultsWriter) Strike(s *StrikeResult) error {
	w.strikes = append(w.strikes, s.StrikeRecord)
	return s.eachLine(func(line []byte) error {
		w.line(line)
		return w.err
	})
}

// line writes one change.
func (w *ResultsWriter) line(line []byte) {
	if w.changes > 0 {
		w.put(",")
	}
	w.changes++
	w.put("\n")
	if w.err == nil {
		_, w.err = w.w.Write(line)
	}
}

// Close writes the counts and puts the file in its place.
func (w *ResultsWriter) Close(sum *Summary) error {
	tail, err := json.Marshal(struct {
		Strikes []StrikeRecord `json:"strikes"`
		Summary *Summary       `json:"summary"`
	}{w.strikes, sum})
	if err != nil {
		w.Abort()
		return err
	}
	w.put("\n],\n" + string(tail[1:]) + "\n")
	if w.err == nil {
		w.err = w.w.Flush()
	}
	if w.err != nil {
		w.Abort()
		return fmt.Errorf("results: %w", w.err)
	}
	return w.file.Put()
}

// WriteResults writes results that were read, in the form in which they are read.
func WriteResults(dir string, res *Results) error {
	if res.file != nil && sameFile(filepath.Join(dir, ResultsName), res.file.path) {
		return nil
	}
	w, err := NewResultsWriter(dir, &res.Header)
	if err != nil {
		return err
	}
	if res.file != nil {
		err = res.file.Lines(func(line []byte, _ Spot) error {
			w.line(line)
			return w.err
		})
	} else {
		err = w.Strike(&StrikeResult{Changes: res.Changes})
	}
	if err != nil {
		w.Abort()
		return err
	}
	w.strikes = res.Strikes
	return w.Close(&res.Summary)
}

func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	y, err2 := os.Stat(b)
	return err == nil && err2 == nil && os.SameFile(x, y)
}

// Abort leaves nothing behind.
func (w *ResultsWriter) Abort() { w.file.Drop() }

func (w *ResultsWriter) put(s string) {
	if w.err == nil {
		_, w.err = w.w.WriteString(s)
	}
}

// Header says what this run is, for the results file.
func (r *Run) Header(tool string) *Header {
	h := &Header{Version: ResultsVersion, Tool: tool, Plan: r.Plan.Path, Gate: r.Plan.Gate.String(), DistanceMM: r.Plan.DistanceMM, Since: r.Store.Revision()}
	for _, f := range r.Plan.Faces {
		if fc := r.faces[f.Name]; fc != nil {
			d := fc.Digest()
			h.Faces = append(h.Faces, FaceRecord{Name: f.Name, File: f.Rel, Index: f.Index, SHA256: hex.EncodeToString(d[:]), UPEM: fc.UPEM()})
		}
	}
	for _, d := range r.Plan.Devices {
		if rd := r.devices[d.Name]; rd != nil {
			h.Renderers = append(h.Renderers, RendererRecord{Device: d.Name, Identity: rd.id.String()})
		}
	}
	h.Shard = r.shard
	return h
}
