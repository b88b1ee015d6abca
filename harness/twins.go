package harness

import (
	"bytes"
	"encoding/binary"
	"hash/maphash"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// twins are glyphs that several faces have in common: all of those that a collection draws from one table, and
// those of a family, of one name, outline and metrics, that no program moves, as its symbols are. Where strikes
// agree in their render.Manner they are drawn alike. Once one was found equal to its golden, another with the same
// golden need not be drawn.
type twins struct {
	numbers map[*PlanFace][]int32 // by glyph, from 1; 0 has no twin
	count   int

	mu    sync.Mutex
	known map[render.Manner]*marks
	room  int // marks that there is room for
}

// mostMarks holds the memory for them to 32 MiB.
const mostMarks = 1 << 21

// twinKey is two hashes, with seeds of this run, of all that a glyph's golden hangs on besides a render.Manner: of
// 2^128 keys no two meet by chance. The zero key is of a glyph that has no twin.
type twinKey [2]uint64

var twinSeeds = [2]maphash.Seed{maphash.MakeSeed(), maphash.MakeSeed()}

// twinFace is a face in which twins are looked for.
type twinFace struct {
	plan  *PlanFace
	face  face.Face
	refs  []glyph.Ref // that the run draws
	first *PlanFace   // of all that are drawn from the same as this one; nil where no other is
	keys  []twinKey   // by glyph
}

// findTwins looks through the glyphs that a run draws of the faces it has read.
func (r *Run) findTwins() *twins {
	t := &twins{numbers: map[*PlanFace][]int32{}, known: map[render.Manner]*marks{}, room: mostMarks}
	faces := r.twinFaces()
	if len(faces) < 2 {
		return t
	}
	var g errgroup.Group
	g.SetLimit(r.options.Workers)
	for _, f := range faces {
		g.Go(func() error {
			f.findKeys()
			return nil
		})
	}
	_ = g.Wait()
	first := map[twinKey]*int32{} // the number of the first glyph with a key
	for _, f := range faces {
		t.numbers[f.plan] = t.number(f.keys, first)
	}
	return t
}

// twinFaces are the faces of the run in which there may be twins.
func (r *Run) twinFaces() (faces []*twinFace) {
	firsts, count := r.firsts(), map[*PlanFace]int{}
	for _, first := range firsts {
		count[first]++
	}
	for i := range r.strikes {
		s := &r.strikes[i]
		if n := len(faces); n > 0 && faces[n-1].plan == s.Face {
			continue
		}
		first := firsts[s.Face]
		if first == nil {
			continue
		}
		f := &twinFace{plan: s.Face, face: r.faces[s.Face.Name], refs: s.Glyphs()}
		if count[first] > 1 {
			f.first = first
		}
		faces = append(faces, f)
	}
	return faces
}

// firsts gives for each face of the run the first that is drawn from the same: itself where
// it is the only one, none where face.DrawnFrom does not know.
func (r *Run) firsts() map[*PlanFace]*PlanFace {
	firsts := map[*PlanFace]*PlanFace{}
	sources := map[*PlanFace][][]byte{} // of first faces
	for i := range r.strikes {
		f := r.strikes[i].Face
		if firsts[f] != nil {
			continue
		}
		from := face.DrawnFrom(r.faces[f.Name])
		if from == nil {
			continue
		}
		firsts[f] = f
		for first, other := range sources {
			if slices.EqualFunc(other, from, bytes.Equal) {
				firsts[f] = first
			}
		}
		if firsts[f] == f {
			sources[f] = from
		}
	}
	return firsts
}

// findKeys finds the keys of a face's glyphs.
func (f *twinFace) findKeys() {
	trueType, _ := f.face.(*face.TrueType)
	if f.first == nil && trueType == nil || len(f.refs) == 0 {
		return
	}
	f.keys = make([]twinKey, f.refs[len(f.refs)-1].Index+1) // they are in order
	var text []byte
	for i := range f.refs {
		ref, plain := &f.refs[i], false
		if f.first != nil {
			text = append(binary.BigEndian.AppendUint32(text[:0], uint32(ref.Index)), f.first.Name...)
		} else if text, plain = trueType.AppendPlain(text[:0], ref.Index); !plain {
			continue
		}
		f.keys[ref.Index] = twinKey{maphash.Bytes(twinSeeds[0], text), maphash.Bytes(twinSeeds[1], text)}
	}
}

// number numbers a face's glyphs whose keys came before.
func (t *twins) number(keys []twinKey, first map[twinKey]*int32) []int32 {
	numbers := make([]int32, len(keys))
	for i, key := range keys {
		switch before := first[key]; {
		case key == twinKey{}:
		case before == nil:
			first[key] = &numbers[i]
		default:
			if *before == 0 {
				t.count++
				*before = int32(t.count)
			}
			numbers[i] = *before
		}
	}
	return numbers
}
