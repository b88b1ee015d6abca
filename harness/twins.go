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
	known map[render.Manner]*seals
	room  int // seals that there is room for
}

// mostSeals holds the memory for them to 32 MiB.
const mostSeals = 1 << 21

// twinKey is two hashes, with seeds of this run, of all that a glyph's golden hangs on: of 2^128 keys no two
// meet by chance. The zero key is of a glyph that has no twin.
type twinKey [2]uint64

var twinSeeds = [2]maphash.Seed{maphash.MakeSeed(), maphash.MakeSeed()}

// twinFace is a face in which twins are looked for.
type twinFace struct {
	plan *PlanFace
	face face.Face
	refs []glyph.Ref // that the run draws
	from [][]byte    // see face.DrawnFrom
	like int         // the first face that is drawn from the same; -1 where there is no other
	keys []twinKey   // by glyph
}

// findTwins looks through the glyphs that a run draws of the faces it has read.
func (r *Run) findTwins() *twins {
	t := &twins{numbers: map[*PlanFace][]int32{}, known: map[render.Manner]*seals{}, room: mostSeals}
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

// twinFaces are the faces that the run has read, and which of them are drawn from the same.
func (r *Run) twinFaces() (faces []*twinFace) {
	for i := range r.strikes {
		s := &r.strikes[i]
		if n := len(faces); n > 0 && faces[n-1].plan == s.Face {
			continue
		}
		f := r.faces[s.Face.Name]
		from := face.DrawnFrom(f)
		if from == nil {
			continue
		}
		this := &twinFace{plan: s.Face, face: f, refs: s.Glyphs(), from: from, like: -1}
		for k, other := range faces {
			if slices.EqualFunc(other.from, from, bytes.Equal) {
				this.like, other.like = k, k
				break
			}
		}
		faces = append(faces, this)
	}
	return faces
}

// findKeys finds the keys of a face's glyphs.
func (f *twinFace) findKeys() {
	trueType, _ := f.face.(*face.TrueType)
	if f.like < 0 && trueType == nil || len(f.refs) == 0 {
		return
	}
	f.keys = make([]twinKey, f.refs[len(f.refs)-1].Index+1) // they are in order
	var text []byte
	for i := range f.refs {
		ref := &f.refs[i]
		text = binary.BigEndian.AppendUint32(text[:0], uint32(ref.Code))
		if ref.Code == glyph.NoCode || f.like >= 0 { // goldens are written with the index of what has no code
			text = binary.BigEndian.AppendUint32(text, uint32(ref.Index))
		}
		text = append(append(text, ref.Key...), 0)
		text = binary.BigEndian.AppendUint32(text, uint32(f.face.UPEM()))
		text = binary.BigEndian.AppendUint32(text, uint32(f.like))
		if f.like < 0 {
			var plain bool
			if text, plain = trueType.AppendPlain(text, ref.Index); !plain {
				continue
			}
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
