package harness

import "smokeproof/harness/glyph"

// ResultsVersion is the version of results.json. Fields are only ever added
// within a version.
const ResultsVersion = 1

// Header opens results.json: what was run, by what.
type Header struct {
	Version    int              `json:"version"`
	Tool       string           `json:"tool"` // "smokeproof 1.0.0"
	Plan       string           `json:"plan"` // path of the plan file
	Gate       string           `json:"gate"`
	DistanceMM float64          `json:"distance_mm"`
	Faces      []FaceRecord     `json:"faces"`
	Renderers  []RendererRecord `json:"renderers"`
	Shard      *ShardRecord     `json:"shard,omitempty"`   // of a part that Gather is to join
	Since      string           `json:"since,omitempty"`   // the revision whose goldens it was held against; "" is now
	Looked     bool             `json:"looked,omitempty"`  // nothing approved was at hand: faults by the faces' own outlines
	Against    string           `json:"against,omitempty"` // nothing approved was at hand: the font file that stood in its place
}

// Decidable says that the run was held against goldens, about which people can decide.
func (h *Header) Decidable() bool { return !h.Looked && h.Against == "" }

// FaceRecord says which font bytes a face stood for.
type FaceRecord struct {
	Name   string `json:"name"`
	File   string `json:"file"` // relative to the plan
	Index  int    `json:"index"`
	SHA256 string `json:"sha256"`
	UPEM   int    `json:"upem"`
}

// RendererRecord says who drew for a device.
type RendererRecord struct {
	Device   string `json:"device"`
	Identity string `json:"identity"`
}

// Change is one glyph of one strike whose candidate is not its golden: what
// review shows.
type Change struct {
	Face   string `json:"face"`
	Device string `json:"device"`
	Size   string `json:"size"` // points, "8" or "7.5"
	DPI    string `json:"dpi"`  // "300" or "203x406"
	Mode   string `json:"mode"` // "bilevel" or "grey"
	Glyph  string `json:"glyph"`
	Code   int    `json:"code"`  // lowest code point, or -1
	Index  int    `json:"index"` // in the font file

	Status  Status `json:"status"`
	Verdict string `json:"verdict"` // standing decision on this very bitmap: "", "reject", "later"
	Until   string `json:"until"`   // its end date, RFC 3339 day, or ""
	// DecidedBy and DecidedWhy are who took the standing decision, and the reason.
	DecidedBy  string  `json:"decided_by,omitempty"`
	DecidedWhy string  `json:"decided_why,omitempty"`
	Severity   string  `json:"severity"` // of the worst finding; "" for new
	Score      float64 `json:"score"`
	Lost       int     `json:"lost"`
	Gained     int     `json:"gained"`
	Digest     string  `json:"digest"` // hex SHA-256 of the candidate, or of its absence; what a decision names
	Over       string  `json:"over"`   // hex SHA-256 of the golden, or ""; what a decision replaces

	// Astray is who approved a golden of a new glyph that is not in the golden folder,
	// and on which day.
	Astray string `json:"astray,omitempty"`

	// ApprovedSince is the revision that check --since named, of a glyph that was
	// approved after it and is held against its golden of now.
	ApprovedSince string `json:"approved_since,omitempty"`

	// ApprovedOf is the start of the digest of the face that the golden was approved of, in hex; "" of what is
	// not changed.
	ApprovedOf string `json:"approved_of,omitempty"`

	// Note says why a glyph came out so: what of its font is another or is not there, or what the
	// renderer remarked, as of hints that stop half-way; "" where none is known.
	Note string `json:"note,omitempty"`

	// Bare says that hints did nothing to the outline that the candidate is filled
	// from, or of a composite to its letter.
	Bare bool `json:"bare,omitempty"`

	Findings  []Finding `json:"findings"`
	Golden    *Picture  `json:"golden"`    // null for new, unless somebody put a bitmap there that nobody approved
	Candidate *Picture  `json:"candidate"` // null for missing and undrawn
	Weights   *Weights  `json:"weights,omitempty"`
	// Outline is the fitted outline that the candidate was filled from, or
	// where the renderer gives none the unhinted one, in 1/64 px, Y up, as an
	// SVG path; "" where no face is at hand.
	Outline string `json:"outline,omitempty"`

	cell, stored *glyph.Cell // candidate and golden, while the run lasts
}

// Status says why a glyph is a change.
type Status string

const (
	StatusChanged Status = "changed" // other than its golden
	StatusNew     Status = "new"     // nobody approved it
	StatusMissing Status = "missing" // approved, and the face has it no more
	StatusUndrawn Status = "undrawn" // it could not be drawn
	StatusLooked  Status = "looked"  // Look found a fault
)

// Finding is one named fault; the same object stands in results.json and in
// the output of --json.
type Finding struct {
	Face      string  `json:"face"`
	Device    string  `json:"device"`
	Size      string  `json:"size"`
	DPI       string  `json:"dpi"`
	Glyph     string  `json:"glyph"`
	Finding   string  `json:"finding"`
	Severity  string  `json:"severity"`
	Score     float64 `json:"score"`
	MeasurePx float64 `json:"measure_px"`
	MeasureFU float64 `json:"measure_fu"`
	Move      Move    `json:"move,omitzero"` // of what stands elsewhere
	Place     Place   `json:"place"`
	Text      string  `json:"text"`
	// Side says of a finding of the set on which side it was found:
	// "candidate", "golden" or "both".
	Side string `json:"side,omitempty"`
}

// Move is how far something went, in whole device pixels: DX to the right, DY up.
type Move struct {
	DX int `json:"dx"`
	DY int `json:"dy"`
}

// Place is a box in device pixels about the origin, Y up, half open.
type Place struct {
	X0   int    `json:"x0"`
	Y0   int    `json:"y0"`
	X1   int    `json:"x1"`
	Y1   int    `json:"y1"`
	What string `json:"what"`
}

// Picture is a bitmap in results.json: Rows is the standard base64 of the rows
// top to bottom, each padded to whole bytes, leftmost sample in the high bits.
type Picture struct {
	Left    int    `json:"left"`
	Bottom  int    `json:"bottom"`
	Width   int    `json:"width"`
	Height  int    `json:"height"`
	Depth   int    `json:"depth"`
	Advance int    `json:"advance"`
	Rows    string `json:"rows"`
}

// Weights is an importance map in results.json: one byte a pixel, rows top to
// bottom, base64; importance is byte × Scale.
type Weights struct {
	Left   int     `json:"left"`
	Bottom int     `json:"bottom"`
	Width  int     `json:"width"`
	Height int     `json:"height"`
	Scale  float64 `json:"scale"`
	Bytes  string  `json:"bytes"`
}

// StrikeRecord counts one strike of the run.
type StrikeRecord struct {
	Face   string `json:"face"`
	Device string `json:"device"`
	Size   string `json:"size"`
	DPI    string `json:"dpi"`
	Mode   string `json:"mode"`
	Counts
	// Set holds what shows only beside the other glyphs of the strike, or
	// beside the next size; only where set checks were asked for.
	Set []Finding `json:"set,omitempty"`
}

// Counts says what glyphs came to; the fields stand among those of the strike, or
// of the summary, that they count.
type Counts struct {
	Glyphs  int `json:"glyphs"` // that were drawn, or should have been
	Equal   int `json:"equal"`
	Changed int `json:"changed"`
	New     int `json:"new"`
	Missing int `json:"missing"` // among Glyphs they are not: nothing of the face has their names
	Undrawn int `json:"undrawn"`
	// ByHand counts those of New that Change.ByHand tells of, Astray those that were
	// approved and whose golden is gone, AtFault those that are at fault by their own outlines.
	ByHand  int `json:"by_hand,omitempty"`
	Astray  int `json:"astray,omitempty"`
	AtFault int `json:"at_fault,omitempty"`
	// ApprovedSince counts glyphs, equal or not, that were approved after the
	// revision that check --since named.
	ApprovedSince int `json:"approved_since,omitempty"`
}

// Summary closes results.json.
type Summary struct {
	Strikes int `json:"strikes"`
	Counts

	BySeverity map[string]int `json:"by_severity"` // findings
	ByFinding  map[string]int `json:"by_finding"`
	Partial    bool           `json:"partial"`          // ended before all was drawn, or left strikes out
	Unread     []string       `json:"unread,omitempty"` // strikes left out, and why their goldens could not be read
	Exit       int            `json:"exit"`
}
