package harness

import (
	"encoding/json"
	"fmt"
	"os"
)

// Results is the whole of results.json in memory: what review shows.
type Results struct {
	Header
	Strikes  []StrikeRecord `json:"strikes"`
	Changes  []Change       `json:"changes"`
	Findings []Finding      `json:"-"` // those of all changes, in their order
	Summary  Summary        `json:"summary"`
}

// ReadResults reads the results.json that a run wrote.
func ReadResults(path string) (*Results, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("results: %w; run check first", err)
	}
	var r Results
	if err := json.Unmarshal(data, &r); err != nil {
		return nil, fmt.Errorf("results %s: %w; run check again", path, err)
	}
	if r.Version != ResultsVersion {
		return nil, fmt.Errorf("results %s: version %d, this program reads %d; run check again", path, r.Version, ResultsVersion)
	}
	for _, c := range r.Changes {
		r.Findings = append(r.Findings, c.Findings...)
	}
	return &r, nil
}
