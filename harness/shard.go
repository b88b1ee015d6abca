package harness

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// Shard is one part of a run that several machines share: the Index-th of
// Count, counted from 1. The zero Shard is the whole run.
type Shard struct{ Index, Count int }

// maxShards is far above any array of jobs.
const maxShards = 1 << 16

func (s Shard) check() error {
	if s.Count < 1 || s.Count > maxShards || s.Index < 1 || s.Index > s.Count {
		return fmt.Errorf("shard %d of %d is out of range; K runs from 1 to N, N to %d", s.Index, s.Count, maxShards)
	}
	return nil
}

// ParseShard reads "K/N". "/N" takes K from the environment of a job array,
// and "array" takes both.
func ParseShard(text string, env func(string) string) (Shard, error) {
	index, count, found := strings.Cut(text, "/")
	if text == "array" {
		index, count, found = "", "", true
	}
	var s Shard
	var err error
	if count != "" {
		s.Count, err = strconv.Atoi(count)
	}
	switch {
	case !found || err != nil:
		err = fmt.Errorf("it is not K/N, /N or array")
	case index == "":
		s, err = arrayShard(s.Count, env)
	default:
		s.Index, err = strconv.Atoi(index)
	}
	if err == nil {
		err = s.check()
	}
	if err != nil {
		return Shard{}, fmt.Errorf("shard %q: %w; write 3/8", text, err)
	}
	return s, nil
}

// share leaves the run with one shard's strikes.
func (r *Run) share() {
	var all []field
	for i := range r.strikes {
		s := &r.strikes[i]
		digest := r.faces[s.Face.Name].Digest()
		all = append(all, field{s.Strike.String() + " " + s.Strike.Mode.String(), digest[:]},
			field{r.devices[s.Device.Name].id.String(), []byte(s.glyphs.digest())})
	}
	r.strikes = r.options.Shard.of(r.drawings(), r.cost)
	r.shard = &ShardRecord{Index: r.options.Shard.Index, Count: r.options.Shard.Count, Run: keyOf(all...), Strikes: []int{}}
	for i := range r.strikes {
		r.shard.Strikes = append(r.shard.Strikes, r.strikes[i].place)
	}
}

// drawings are the strikes of a run, those together that are drawn alike, or of twins
// alone: each of their glyphs is drawn once for all of them if one machine has them.
func (r *Run) drawings() (all [][]StrikeJob) {
	firsts, met := r.firsts(), map[drawingKey]int{}
	for _, s := range r.strikes {
		d, known := r.drawingKey(r.faces[s.Face.Name], &s)
		if first := firsts[s.Face]; first != nil {
			d.face = first
		}
		if at, had := met[d]; known && had {
			all[at] = append(all[at], s)
			continue
		}
		if known {
			met[d] = len(all)
		}
		all = append(all, []StrikeJob{s})
	}
	return all
}

// heldPart says how much of the work on a strike is left where it is drawn for another one, of
// the same face or a twin, and only held against its goldens: one part in so many.
const heldPart = 6

// of keeps a shard's strikes, in plan order. Every shard makes the same split:
// the dearest drawing first, each to the shard that has least to do.
func (s Shard) of(drawings [][]StrikeJob, cost func(*StrikeJob) int64) []StrikeJob {
	order := make([]int, len(drawings))
	costs := make([]int64, len(drawings))
	for i, d := range drawings {
		order[i], costs[i] = i, cost(&d[0])*int64(heldPart+len(d)-1)/heldPart
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(costs[b], costs[a]) })
	load := make([]int64, s.Count)
	var mine []StrikeJob
	for _, i := range order {
		least := 0
		for k := range load {
			if load[k] < load[least] {
				least = k
			}
		}
		load[least] += costs[i]
		if least == s.Index-1 {
			mine = append(mine, drawings[i]...)
		}
	}
	slices.SortFunc(mine, func(a, b StrikeJob) int { return a.place - b.place })
	return mine
}

func (r *Run) cost(s *StrikeJob) int64 { return costOf(s, r.faces[s.Face.Name]) }

// costOf estimates a strike's work in nanoseconds, as measured on DejaVu and
// IPA Gothic: a share for each glyph, for each byte of its outline and program,
// and for each row that it crosses. It need not be right, only in proportion;
// every machine must come to the same number.
func costOf(s *StrikeJob, f face.Face) int64 {
	const perGlyph, perByte, perRow = 1000, 25, 80
	rows := int64(s.Strike.PPEM().Y) >> 6
	n := int64(s.Count())
	bytes := int64(120) * n
	if t, ok := f.(*face.TrueType); ok && t.NumGlyphs() > 0 {
		bytes = int64(len(t.Table("glyf"))) * n / int64(t.NumGlyphs())
	}
	cost := n*(perGlyph+perRow*rows) + bytes*perByte
	if s.Strike.Mode == glyph.Grey {
		cost *= 2
	}
	return max(cost, 1)
}
