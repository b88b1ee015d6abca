package harness

import (
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"sync"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// fontEntry is what the cache remembers of a font file: all that a run asks of a face
// before a glyph of it is drawn.
type fontEntry struct {
	common, digest [32]byte // of face.Parts, of the face
	names          [32]byte // of the list of its glyphs, under which the cache keeps it
	upem, glyphs   int
	format         string
}

// rememberedFace is a face whose font file is known to the cache by content: the
// font is read when one of its glyphs must be drawn.
type rememberedFace struct {
	fontEntry
	list *glyphList
	open func() (face.Face, error)
}

func (f *rememberedFace) Format() string    { return f.format }
func (f *rememberedFace) UPEM() int         { return f.upem }
func (f *rememberedFace) Digest() [32]byte  { return f.digest }
func (f *rememberedFace) Refs() []glyph.Ref { return f.list.refs() }

func (f *rememberedFace) Advance(index int) fixed.Int26_6 {
	if is, err := f.open(); err == nil {
		return is.Advance(index)
	}
	return 0
}

func (f *rememberedFace) Design(index int) (*glyph.Design, error) {
	is, err := f.open()
	if err != nil {
		return nil, err
	}
	return is.Design(index)
}

// face gives a face of the plan: out of the cache if it knows the font file, and
// by reading it if not. Type 1 fonts are always read, for an AFM file beside one
// counts too; so is every font where more than its glyphs' list is asked for.
func (r *Run) face(f *PlanFace) (face.Face, error) {
	read := func() (face.Face, error) { return r.builtIn.Face(f.File, f.Index) }
	if r.cache == nil || r.options.Set || r.options.Shard != (Shard{}) {
		return read()
	}
	content, err := r.cache.files.digest(f.File)
	if err != nil {
		return read() // which says what is wrong
	}
	key := r.cache.fontKey(content, f)
	if known := r.cache.remembered(key, read); known != nil && (r.wholeFace(f) || len(known.Refs()) == known.glyphs) {
		return known, nil
	}
	is, err := read()
	if _, type1 := is.(*face.Type1); err == nil && !type1 {
		if after, err := r.cache.files.digest(f.File); err == nil && after == content {
			r.cache.remember(key, is)
		}
	}
	return is, err
}

// fontKey is what a face of a file of such content is kept under.
func (c *cache) fontKey(content string, f *PlanFace) string {
	return keyOf(field{"font file", []byte(content)}, field{"index", fmt.Append(nil, f.Index)}, field{"program", []byte(c.program)})
}

// faceDigest is the digest of a face as its file is now, out of the cache, which may be nil, or by reading it.
func (c *cache) faceDigest(f *PlanFace) ([32]byte, error) {
	if c != nil {
		if content, err := c.files.digest(f.File); err == nil {
			if known := c.remembered(c.fontKey(content, f), nil); known != nil {
				return known.Digest(), nil
			}
		}
	}
	is, err := face.Open(f.File, f.Index)
	if err != nil {
		return [32]byte{}, err
	}
	return is.Digest(), nil
}

// remembered is a face that the cache keeps under key; nil where it keeps none.
// open reads the font itself.
func (c *cache) remembered(key string, open func() (face.Face, error)) *rememberedFace {
	f := &rememberedFace{open: open}
	if f.fontEntry.read(c.load(facesDir, key)) != nil {
		return nil
	}
	names := hex.EncodeToString(f.names[:])
	f.list = &glyphList{count: f.glyphs, digest: func() string { return names }, refs: sync.OnceValue(func() []glyph.Ref {
		if refs, err := readRefs(c.load(facesDir, names)); err == nil {
			return refs
		}
		if is, err := open(); err == nil {
			return is.Refs()
		}
		return nil // nothing is drawn: see unchanged
	})}
	return f
}

func (c *cache) remember(key string, f face.Face) {
	refs := f.Refs()
	names := refsDigest(refs)
	c.store(facesDir, names, appendRefs(nil, refs))
	is := fontEntry{common: c.know(f).common, digest: f.Digest(), upem: f.UPEM(), glyphs: len(refs), format: f.Format()}
	hex.Decode(is.names[:], []byte(names))
	c.store(facesDir, key, is.append(nil))
}

// unchanged says that the font a strike is drawn from is the one that its key
// names, even while somebody saves it.
func (r *Run) unchanged(s *StrikeJob) error {
	known, ok := r.faces[s.Face.Name].(*rememberedFace)
	if !ok {
		return nil
	}
	is, err := r.builtInOf(s.Device).Face(s.Face.File, s.Face.Index)
	if err == nil && is.Digest() != known.digest {
		err = errors.New("its font was saved while the run was under way; run again")
	}
	if err != nil {
		return r.unusable(s.Face, err)
	}
	return nil
}

var errTorn = errors.New("cut short")

// append writes three digests, two numbers, and the format's name.
func (f *fontEntry) append(b []byte) []byte {
	b = append(append(append(b, f.common[:]...), f.digest[:]...), f.names[:]...)
	b = binary.BigEndian.AppendUint32(b, uint32(f.upem))
	b = binary.BigEndian.AppendUint32(b, uint32(f.glyphs))
	return append(b, f.format...)
}

func (f *fontEntry) read(b []byte) error {
	if len(b) < 104 {
		return errTorn
	}
	f.common, f.digest, f.names = [32]byte(b), [32]byte(b[32:]), [32]byte(b[64:])
	f.upem, f.glyphs = int(binary.BigEndian.Uint32(b[96:])), int(binary.BigEndian.Uint32(b[100:]))
	f.format = string(b[104:])
	return nil
}
