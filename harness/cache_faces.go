package harness

import (
	"smokeproof/harness/face"
)

// knownFace is what the cache needs to know of a face in this run.
type knownFace struct {
	common [32]byte    // of face.Parts
	parts  *face.Parts // nil where they are only in the cache
	name   string      // under which the cache keeps the parts
}

func (c *cache) know(f face.Face) *knownFace {
	digest := f.Digest()
	k := &knownFace{name: keyOf(field{"face", digest[:]}, field{"program", []byte(c.program)})}
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
