package harness

import (
	"encoding/binary"
	"hash/maphash"
	"sync"

	"golang.org/x/sync/errgroup"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// twins are glyphs that several faces have in common, as the faces of a family have their symbols: of one
// name, outline and metrics, and without a program. Where faces and sizes agree in their render.Manner they are
// drawn alike. Once one was found equal to its golden, another with the same golden need not be drawn.
type twins struct {
	numbers map[*PlanFace][]int32 // by glyph, from 1; 0 has no twin
	count   int

	mu    sync.Mutex
	known map[render.Manner]*seals
	room  int // seals that there is room for
}

// mostSeals holds the memory for them to 16 MiB.
const mostSeals = 1 << 20

// twinKey is two hashes of a plain glyph, with seeds of this run: of 2^128 keys no two meet by chance.
type twinKey [2]uint64

var twinSeeds = [2]maphash.Seed{maphash.MakeSeed(), maphash.MakeSeed()}

// findTwins looks through the glyphs that a run draws of the TrueType faces it has read.
func (r *Run) findTwins() *twins {
	t := &twins{numbers: map[*PlanFace][]int32{}, known: map[render.Manner]*seals{}, room: mostSeals}
	type drawn struct {
		plan *PlanFace
		face *face.TrueType
		refs []glyph.Ref
		keys []twinKey
	}
	var faces []*drawn
	for i := range r.strikes {
		s := &r.strikes[i]
		if f, ok := r.faces[s.Face.Name].(*face.TrueType); ok && (len(faces) == 0 || faces[len(faces)-1].plan != s.Face) {
			faces = append(faces, &drawn{plan: s.Face, face: f, refs: s.Glyphs()})
		}
	}
	if len(faces) < 2 {
		return t
	}
	var g errgroup.Group
	g.SetLimit(r.options.Workers)
	for _, d := range faces {
		g.Go(func() error {
			d.keys = twinKeys(d.face, d.refs)
			return nil
		})
	}
	_ = g.Wait()
	first := map[twinKey]*int32{} // the number of the first glyph with a key
	for _, d := range faces {
		t.numbers[d.plan] = t.number(d.keys, first)
	}
	return t
}

// twinKeys are those of a face's glyphs, by index; zero where a glyph has a program.
func twinKeys(f *face.TrueType, refs []glyph.Ref) []twinKey {
	keys := make([]twinKey, f.NumGlyphs())
	var text []byte
	for i := range refs {
		ref := &refs[i]
		text = binary.BigEndian.AppendUint32(text[:0], uint32(f.UPEM()))
		text = binary.BigEndian.AppendUint32(text, uint32(ref.Code))
		if ref.Code == glyph.NoCode { // goldens are written with its index
			text = binary.BigEndian.AppendUint32(text, uint32(ref.Index))
		}
		text = append(append(text, ref.Key...), 0)
		var plain bool
		if text, plain = f.AppendPlain(text, ref.Index); plain {
			keys[ref.Index] = twinKey{maphash.Bytes(twinSeeds[0], text), maphash.Bytes(twinSeeds[1], text)}
		}
	}
	return keys
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
