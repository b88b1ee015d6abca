package render

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"unicode"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// The worker protocol, version 1. Each side opens with one line of JSON that
// says who it is; then each request is one line of JSON and each answer one
// BDF document, up to and including its ENDFONT line. The worker ends when its
// standard input does. Standard error is free for its own words; the last of
// them are quoted where the worker fails.
const protocolVersion = 1

// hello is the harness's first line.
type hello struct {
	Smokeproof int `json:"smokeproof"` // protocol version
}

// Request asks a worker for some glyphs of one strike.
type Request struct {
	Font   string         `json:"font"`  // path of the font file
	Index  int            `json:"index"` // face within a collection
	Size   json.Number    `json:"size"`  // points, at most three decimals
	DPI    [2]json.Number `json:"dpi"`   // across, along
	PPEM   [2]int         `json:"ppem"`  // 64ths of a pixel per em, across, along
	Mode   string         `json:"mode"`  // "bilevel" or "grey"
	Glyphs []RequestGlyph `json:"glyphs"`
}

// RequestGlyph is one glyph of a request. The answer's STARTCHAR repeats the
// key as it stands here, already escaped for BDF.
type RequestGlyph struct {
	Key   string `json:"key"`
	Code  rune   `json:"code"`  // lowest code point, or -1
	Index int    `json:"index"` // glyph index in the font file
}

func newRequest(job *Job, refs []glyph.Ref) *Request {
	s := job.Strike
	ppem := s.PPEM()
	r := &Request{
		Font: job.Font, Index: job.Index, Size: json.Number(s.Size.String()),
		DPI:  [2]json.Number{json.Number(s.DPI.X.String()), json.Number(s.DPI.Y.String())},
		PPEM: [2]int{int(ppem.X), int(ppem.Y)}, Mode: s.Mode.String(),
		Glyphs: make([]RequestGlyph, len(refs)),
	}
	for i, ref := range refs {
		r.Glyphs[i] = RequestGlyph{golden.EscapeKey(ref.Key), ref.Code, ref.Index}
	}
	return r
}

// line encodes a value as one line of JSON.
func line(v any) ([]byte, error) {
	b, err := json.Marshal(v)
	return append(b, '\n'), err
}

// readGreeting reads a worker's first line.
func readGreeting(b []byte) (glyph.Identity, error) {
	var id glyph.Identity
	if err := json.Unmarshal(b, &id); err != nil || id.Name == "" {
		return id, fmt.Errorf("its first line is not {\"name\":…,\"version\":…,\"settings\":…} but %.80q; words of its own belong on standard error", bytes.TrimSpace(b))
	}
	if strings.ContainsFunc(id.String(), unicode.IsControl) {
		return id, fmt.Errorf("its name, version or settings hold control characters: %.80q", b)
	}
	return id, nil
}
