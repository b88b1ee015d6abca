package render

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// Serve is the worker's side of the protocol: it introduces itself, then
// answers requests until its input ends. draw returns the cells of the glyphs
// that it could draw, in any order; an error from it ends the worker.
func Serve(in io.Reader, out io.Writer, id glyph.Identity, draw func(*Request) ([]glyph.Cell, error)) error {
	requests := json.NewDecoder(in)
	var h hello
	if err := requests.Decode(&h); err != nil {
		return fmt.Errorf("no first line on standard input: %w; this program is started by smokeproof", err)
	}
	if h.Smokeproof != protocolVersion {
		return fmt.Errorf("protocol version %d is not supported; this worker speaks version %d", h.Smokeproof, protocolVersion)
	}
	greeting, err := line(id)
	if err != nil {
		return err
	}
	if _, err := out.Write(greeting); err != nil {
		return err
	}
	buffered := bufio.NewWriter(out)
	for {
		var r Request
		if err := requests.Decode(&r); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return fmt.Errorf("a request is not JSON: %w", err)
		}
		cells, err := draw(&r)
		if err != nil {
			return err
		}
		if err := r.answer(buffered, cells); err != nil {
			return err
		}
		if err := buffered.Flush(); err != nil {
			return err
		}
	}
}

func (r *Request) answer(w io.Writer, cells []glyph.Cell) error {
	size, err := glyph.ParsePoints(r.Size.String())
	if err != nil {
		return err
	}
	dpi, err := glyph.ParseResolution(r.DPI[0].String() + "," + r.DPI[1].String())
	if err != nil {
		return err
	}
	depth := 1
	if r.Mode == glyph.Grey.String() {
		depth = 8
	}
	return golden.WriteBDF(w, &golden.Font{Name: "answer", Size: size, DPI: dpi, Depth: depth, Cells: cells})
}

// Refs are the request's glyphs by the keys that the harness gave them.
func (r *Request) Refs() ([]glyph.Ref, error) {
	refs := make([]glyph.Ref, len(r.Glyphs))
	for i, g := range r.Glyphs {
		key, err := golden.UnescapeKey(g.Key)
		if err != nil {
			return nil, err
		}
		refs[i] = glyph.Ref{Key: key, Code: g.Code, Index: g.Index}
	}
	return refs, nil
}
