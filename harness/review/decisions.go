package review

import (
	"encoding/json"
	"fmt"
	"io"
	"time"

	"smokeproof/golden"
	"smokeproof/harness"
)

// DecisionsVersion is the version of the decisions file.
const DecisionsVersion = 1

// maxDecisions bounds a decisions file in bytes.
const maxDecisions = 64 << 20

// Decisions is what a person decided on the page, as it exports it and approve
// --decisions takes it.
type Decisions struct {
	Version   int        `json:"version"`
	By        string     `json:"by"`
	Decisions []Decision `json:"decisions"`
}

// Decision is one verdict on one candidate.
type Decision struct {
	Face    string `json:"face"`
	Device  string `json:"device"`
	Size    string `json:"size"`
	Glyph   string `json:"glyph"`
	Digest  string `json:"digest"`
	Over    string `json:"over"`    // digest of the golden that was seen beside it, or ""
	Verdict string `json:"verdict"` // "approve", "reject" or "later"
	Why     string `json:"why"`
	Until   string `json:"until"` // day, 2006-01-02, or ""
}

// ReadDecisions reads a decisions file; unknown fields and verdicts are errors.
func ReadDecisions(r io.Reader) (*Decisions, error) {
	d := json.NewDecoder(io.LimitReader(r, maxDecisions))
	d.DisallowUnknownFields()
	var out Decisions
	if err := d.Decode(&out); err != nil {
		return nil, fmt.Errorf("decisions: %w; export them again", err)
	}
	if out.Version != DecisionsVersion {
		return nil, fmt.Errorf("decisions: version %d, this program reads %d; export them again", out.Version, DecisionsVersion)
	}
	for _, e := range out.Decisions {
		if _, err := e.Harness(); err != nil {
			return nil, err
		}
	}
	return &out, nil
}

// Harness is the decision as the run takes it.
func (d Decision) Harness() (harness.Decision, error) {
	out := harness.Decision{Face: d.Face, Device: d.Device, Size: d.Size, Glyph: d.Glyph, Digest: d.Digest, Verdict: golden.Verdict(d.Verdict), Why: d.Why}
	switch out.Verdict {
	case golden.Approve, golden.Reject, golden.Later:
	default:
		return out, fmt.Errorf("decisions: glyph %q: verdict %q is unknown; use approve, reject or later", d.Glyph, d.Verdict)
	}
	if d.Why == "" {
		return out, fmt.Errorf("decisions: glyph %q: no reason; add why", d.Glyph)
	}
	if d.Until != "" {
		t, err := time.Parse(time.DateOnly, d.Until)
		if err != nil {
			return out, fmt.Errorf("decisions: glyph %q: until %q is no day; write 2027-01-31", d.Glyph, d.Until)
		}
		out.Until = t
	}
	return out, nil
}
