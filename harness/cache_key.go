package harness

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash"

	"smokeproof/harness/glyph"
)

// field is one thing that a result depends on.
type field struct {
	name  string
	value []byte
}

// keyOf is a SHA-256 over fields, each with its name and length before it, so
// that no two lists of fields read alike.
func keyOf(fields ...field) string {
	h := sha256.New()
	for _, f := range fields {
		put(h, f.name)
		put(h, string(f.value))
	}
	return hex.EncodeToString(h.Sum(nil))
}

func put(h hash.Hash, s string) {
	var n [8]byte
	binary.BigEndian.PutUint64(n[:], uint64(len(s)))
	h.Write(n[:])
	h.Write([]byte(s))
}

// strikeKey names all that a strike's result depends on, but for the parts of
// single glyphs, which the entry names itself. The gate and the end dates of
// decisions are not in it: the summary weighs every result anew.
func (r *Run) strikeKey(s *StrikeJob, f *knownFace, goldens goldenDigests) string {
	id := s.Strike
	text := func(name, value string) field { return field{name, []byte(value)} }
	return keyOf(
		text("format", cacheFormat),
		text("program", r.cache.program),
		text("renderer", r.devices[s.Device.Name].id.String()),
		text("fill", s.Device.Fill.String()),
		field{"face without its glyphs", f.parts.Common[:]},
		text("glyphs selected", f.glyphs),
		text("filter", fmt.Sprintf("%q %x", r.options.Filter.Glyphs.names, r.options.Filter.Glyphs.ranges)),
		text("face name", id.Face),
		text("device name", id.Device),
		text("size in thousandths of a point", fmt.Sprint(int(id.Size))),
		text("thousandths of a dpi", fmt.Sprint(int(id.DPI.X), int(id.DPI.Y))),
		text("mode", id.Mode.String()),
		text("reading distance", fmt.Sprint(r.Plan.DistanceMM)),
		text("goldens", goldens.bitmaps),
		text("approvals", goldens.approvals),
	)
}

// refsDigest tells one list of glyphs from every other.
func refsDigest(refs []glyph.Ref) string {
	h := sha256.New()
	var b []byte
	for i := range refs {
		r := &refs[i]
		b = b[:0]
		for _, s := range [...]string{string(r.Key), r.Name} {
			b = binary.BigEndian.AppendUint32(b, uint32(len(s)))
			b = append(b, s...)
		}
		b = binary.BigEndian.AppendUint32(b, uint32(r.Code))
		b = binary.BigEndian.AppendUint32(b, uint32(r.Index))
		h.Write(b)
	}
	return hex.EncodeToString(h.Sum(nil))
}
