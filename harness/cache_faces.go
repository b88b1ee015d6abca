package harness

import (
	"encoding/binary"
	"errors"
	"fmt"

	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// knownFace is what the cache needs to know of a face in this run.
type knownFace struct {
	common [32]byte    // of face.Parts
	parts  *face.Parts // nil where they are only in the cache
	name   string      // under which the cache keeps the parts
	glyphs string      // digest of the glyphs that the run selects
}

func (c *cache) partsName(f face.Face) string {
	digest := f.Digest()
	return keyOf(field{"face", digest[:]}, field{"program", []byte(c.program)})
}

func (c *cache) know(f face.Face, refs []glyph.Ref) *knownFace {
	k := &knownFace{glyphs: refsDigest(refs), name: c.partsName(f)}
	if r, ok := f.(*rememberedFace); ok {
		k.common = r.common
		return k
	}
	k.parts = c.parts(k.name)
	if k.parts == nil {
		k.parts = face.PartsOf(f)
		c.store(facesDir, k.name, k.parts.AppendBinary(nil))
	}
	k.common = k.parts.Common
	return k
}

// parts are nil where the cache does not have them.
func (c *cache) parts(name string) *face.Parts {
	var p face.Parts
	if b := c.load(facesDir, name); b == nil || p.UnmarshalBinary(b) != nil {
		return nil
	}
	return &p
}

// touched lists the glyphs whose parts differ from those of the revision of the
// face that an older entry was drawn from; nil where nothing can be kept.
func (c *cache) touched(k *knownFace, old *entry) map[int]bool {
	if old == nil {
		return nil
	}
	was, now := c.parts(old.Parts), k.parts
	if now == nil {
		now = c.parts(k.name)
	}
	if was == nil || now == nil || was.Glyphs == nil || was.Common != now.Common || len(was.Glyphs) != len(now.Glyphs) {
		return nil
	}
	out := map[int]bool{}
	for i, part := range now.Glyphs {
		if part != was.Glyphs[i] {
			out[i] = true
		}
	}
	return out
}

// rememberedFace is a face whose font file is known to the cache by content: its
// glyphs are listed, and the font is read when one of them must be drawn.
type rememberedFace struct {
	common, digest [32]byte
	upem           int
	format         string
	refs           []glyph.Ref
	open           func() (face.Face, error)
}

func (f *rememberedFace) Format() string    { return f.format }
func (f *rememberedFace) UPEM() int         { return f.upem }
func (f *rememberedFace) Digest() [32]byte  { return f.digest }
func (f *rememberedFace) Refs() []glyph.Ref { return f.refs }

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
	key := keyOf(field{"font file", []byte(content)}, field{"index", fmt.Append(nil, f.Index)}, field{"program", []byte(r.cache.program)})
	if b := r.cache.load(facesDir, key); b != nil {
		known := &rememberedFace{open: read}
		if known.read(b) == nil {
			return known, nil
		}
	}
	is, err := read()
	if _, type1 := is.(*face.Type1); err == nil && !type1 {
		if after, err := r.cache.files.digest(f.File); err == nil && after == content {
			parts := r.cache.know(is, nil).common
			r.cache.store(facesDir, key, (&rememberedFace{common: parts, digest: is.Digest(), upem: is.UPEM(), format: is.Format(), refs: is.Refs()}).append(nil))
		}
	}
	return is, err
}

// unchanged says that the font a strike is drawn from is the one that its key
// names, even while somebody saves it.
func (r *Run) unchanged(s *StrikeJob) error {
	is, err := r.builtInOf(s.Device).Face(s.Face.File, s.Face.Index)
	if err == nil && is.Digest() != r.faces[s.Face.Name].Digest() {
		err = errors.New("its font was saved while the run was under way; run again")
	}
	if err != nil {
		return fmt.Errorf("%s:%d: face %q: %w: %w", r.Plan.Path, s.Face.line, s.Face.Name, ErrUsage, err)
	}
	return nil
}

// append writes the face down: two digests, then numbers as varints, and strings
// with their lengths. A key that is the glyph's name is left empty.
func (f *rememberedFace) append(b []byte) []byte {
	b = append(append(b, f.common[:]...), f.digest[:]...)
	put := func(s string) { b = append(binary.AppendUvarint(b, uint64(len(s))), s...) }
	b = binary.AppendUvarint(b, uint64(f.upem))
	put(f.format)
	b = binary.AppendUvarint(b, uint64(len(f.refs)))
	for i := range f.refs {
		r := &f.refs[i]
		b = binary.AppendUvarint(b, uint64(r.Index))
		b = binary.AppendVarint(b, int64(r.Code))
		put(r.Name)
		if string(r.Key) == r.Name {
			put("")
		} else {
			put(string(r.Key))
		}
	}
	return b
}

var errTorn = errors.New("cut short")

func (f *rememberedFace) read(b []byte) error {
	if len(b) < 64 {
		return errTorn
	}
	f.common, f.digest = [32]byte(b), [32]byte(b[32:])
	b = b[64:]
	text := string(b) // all strings are parts of it
	at, torn := 0, false
	number := func() int {
		v, n := binary.Uvarint(b[at:])
		torn = torn || n <= 0
		at += max(n, 0)
		return int(v)
	}
	word := func() string {
		n := number()
		if n < 0 || n > len(text)-at {
			torn = true
			return ""
		}
		at += n
		return text[at-n : at]
	}
	f.upem, f.format = number(), word()
	n := number()
	if torn || n < 0 || n > len(b) {
		return errTorn
	}
	f.refs = make([]glyph.Ref, n)
	for i := range f.refs {
		r := &f.refs[i]
		r.Index = number()
		code, n := binary.Varint(b[at:])
		at += max(n, 0)
		r.Code, r.Name = rune(code), word()
		if r.Key = glyph.Key(word()); r.Key == "" {
			r.Key = glyph.Key(r.Name)
		}
		if torn || n <= 0 {
			return errTorn
		}
	}
	return nil
}
