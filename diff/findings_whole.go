package diff

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"smokeproof/harness/glyph"
)

// shift reports the common shift that the delta undid.
func (k *trial) shift() {
	s := k.d.shift
	if s == (Move{}) {
		return
	}
	px, minutes := k.j.eye.moved(s)
	if s.DY != 0 { // off its line a letter stands against its neighbours
		minutes *= 1.5
	}
	b := k.p.Candidate.Bitmap.Tight()
	k.found = append(k.found, Finding{
		Kind: Moved, Severity: severityOf(Moved, minutes), MeasurePx: px, Move: s,
		Score: k.j.eye.area * coherentGain * math.Abs(px),
		Place: Place{b.Left, b.Bottom, b.Right(), b.Top(), "whole glyph"},
		Text:  movedText("whole glyph", s) + "; its shape is judged where it stands now",
	})
}

// another names one drawing in the place of another, with its advance. Strokes are not
// compared then, as they are those of two letters.
func (k *trial) another() bool {
	ends := k.movedEnds()
	gone, fresh := k.excess(&k.d.golden, &k.d.candidate, ends), k.excess(&k.d.candidate, &k.d.golden, ends)
	if !anotherBy(gone, fresh) {
		return false
	}
	f := Finding{
		Kind: Missing, Severity: severityOf(Missing, 0), MeasurePx: -float64(k.d.lost), Place: Place{What: "whole glyph"},
		Text: fmt.Sprintf("another drawing than the golden: %.0f%% of its ink is gone, %.0f%% of what is drawn is new", 100*gone.lacking, 100*fresh.lacking),
	}
	if s, ok := k.j.spacing(k.p); ok {
		f.Text += "; " + s.Text
		f.Score = s.Score
	}
	k.claim(f, k.changedIn(k.d.golden.all()))
	return true
}

// anotherBy says that of the ink of either side much has no ink of the other even beside
// it, in more than the two places of a stroke that moved; or that much of both changed, and
// of one side much of that has nothing of the other beside it.
func anotherBy(gone, fresh excess) bool {
	least, most := min(gone.apart, fresh.apart), max(gone.apart, fresh.apart)
	return least >= strokeShare || least >= anotherShare && gone.places+fresh.places >= 3 ||
		most >= besideShare && min(gone.lacking, fresh.lacking) >= changedShare
}

// movedEnds are the changed pixels of a top or bottom that moved as a whole, as where the cap
// height is another: the bar of a T that moved by as much as it is thick is that bar still.
func (k *trial) movedEnds() map[int]bool {
	ends := map[int]bool{}
	gb, gt := k.d.golden.rows()
	cb, ct := k.d.candidate.rows()
	for _, e := range []struct {
		row, moved int
		top        bool
	}{{gt, ct - gt, true}, {gb, cb - gb, false}} {
		if e.moved == 0 || abs(e.moved) > shiftReach {
			continue
		}
		for _, i := range k.end(e.row, e.top, Move{DY: e.moved}, false) {
			ends[i] = true
		}
	}
	return ends
}

// InPlaceOf is the report for a glyph that is drawn as another one is approved, if need be so many
// pixels further right. Its advance
// is a part of that.
func (j *Judge) InPlaceOf(p Pair, other glyph.Key, right int) Report {
	f := j.whole(Missing, p.Golden)
	f.Text = fmt.Sprintf("%s stands in its place: every pixel is as approved for %[1]s", other)
	if right != 0 {
		f.Text += ", " + asideBy(float64(right), false)
	}
	return j.finish(Report{Findings: []Finding{f}}, p)
}

// excess is the ink that one drawing has and the other has not.
type excess struct {
	lacking float64 // share of its ink that the other lacks
	apart   float64 // share that changed and lies a pixel or more beside all ink of the other
	places  int     // edits that hold such ink
}

func (k *trial) excess(p, o *plane, ends map[int]bool) excess {
	ink, lacking, apart := 0, 0, 0
	var edits []int32
	for i := range p.v {
		if !p.ink(i) {
			continue
		}
		ink++
		if o.ink(i) {
			continue
		}
		lacking++
		if n := around(i, p.w); k.changed(i) && !ends[i] && !slices.ContainsFunc(n[:], o.ink) {
			apart++
			if own := k.j.desk.label[i]; !slices.Contains(edits, own) {
				edits = append(edits, own)
			}
		}
	}
	all := float64(max(1, ink))
	return excess{float64(lacking) / all, float64(apart) / all, len(edits)}
}

// allOver makes one finding of those that say of stroke after stroke that it
// grew, or thinned: a bolder or a lighter cut of the letter. What is parted, shut
// or uneven besides keeps its own, and so does an end that moved by more. A letter that is
// one stem with its serifs is told as that stem.
func (k *trial) allOver() {
	px := k.heavier()
	if px == 0 {
		return
	}
	var stems, bars, rows, rest []Finding
	all := Finding{Kind: StemWeight, Place: Place{math.MaxInt, math.MaxInt, math.MinInt, math.MinInt, "whole glyph"}}
	for _, f := range k.found {
		switch f.Kind {
		case StemWeight:
			stems = append(stems, f)
		case SerifUneven, Edge, Round, Diagonal:
		case BarWeight:
			bars = append(bars, f)
		case Height, Overshoot:
			if math.Abs(f.MeasurePx) > math.Ceil(math.Abs(px)) {
				rest = append(rest, f)
				continue
			}
			rows = append(rows, f)
		default:
			rest = append(rest, f)
			continue
		}
		all.Score += f.Score
		all.Severity = max(all.Severity, f.Severity)
		q := &all.Place
		q.X0, q.Y0, q.X1, q.Y1 = min(q.X0, f.Place.X0), min(q.Y0, f.Place.Y0), max(q.X1, f.Place.X1), max(q.Y1, f.Place.Y1)
	}
	if len(k.found)-len(rest) < 2 {
		return
	}
	bottom, top := k.d.golden.rows()
	if bars == nil && len(stems) == 1 && stems[0].Place.What == "stem" && stems[0].Place.tall() >= wholeShare*float64(top-bottom) {
		all.MeasurePx, all.Text = stems[0].MeasurePx, stems[0].Text
	} else {
		all.MeasurePx = math.Round(px*10) / 10
		all.Text = choose(px > 0, "bolder", "lighter") + " all over: strokes " + pixels(all.MeasurePx)
		if bars != nil {
			all.Text += ", " + spread("bars", bars)
		}
		all.Text += choose(px > 0, " thicker", " thinner")
	}
	for _, f := range rows {
		all.Text += "; " + f.Text
	}
	k.found = append(rest, all)
}

func (p Place) tall() float64 { return float64(p.Y1 - p.Y0) }

// spread is "bars 1 to 1.5 px".
func spread(what string, list []Finding) string {
	lo, hi := math.Inf(1), 0.0
	for _, f := range list {
		lo, hi = min(lo, math.Abs(f.MeasurePx)), max(hi, math.Abs(f.MeasurePx))
	}
	if lo < hi {
		return fmt.Sprintf("%s %s to %s", what, strconv.FormatFloat(lo, 'f', -1, 64), pixels(hi))
	}
	return what + " " + pixels(hi)
}

// heavier is by how much the runs of ink along rows are longer on the whole, where
// nearly every one is and hardly any ink is gone; below 0 the other way round, and
// 0 where neither is so.
func (k *trial) heavier() float64 {
	g := &k.d.golden
	runs, longer, shorter := 0, 0, 0
	for y := range g.h {
		for x := 0; x < g.w; x++ {
			from, lost := y*g.w+x, 0
			for ; g.ink(y*g.w + x); x++ {
				if k.signed(y*g.w+x) < 0 {
					lost++
				}
			}
			to := y*g.w + x
			if to == from {
				continue
			}
			runs++
			if lost > 0 {
				shorter++
			} else if k.signed(from-1) > 0 || k.signed(to) > 0 {
				longer++
			}
		}
	}
	lost, gained := count(g, &k.d.candidate)
	few, most := strayShare*float64(lost+gained), allShare*float64(runs)
	if float64(longer) >= most && float64(lost) <= few || float64(shorter) >= most && float64(gained) <= few {
		return float64(gained-lost) / float64(max(1, runs))
	}
	return 0
}
