package harness

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash"
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
// single glyphs, which the entry names itself.
func (r *Run) strikeKey(s *StrikeJob, f *knownFace, goldens goldenDigests) string {
	of := pair{s.Face.Name, s.Device.Name}
	under, ok := r.cache.pairs.Load(of)
	if !ok {
		under = r.pairKey(s, f)
		r.cache.pairs.Store(of, under)
	}
	return keyOf(
		field{"face and device", []byte(under.(string))},
		textField("size in thousandths of a point", "%d", int(s.Strike.Size)),
		textField("strike", "%+v", s.Strike),
		field{"goldens", []byte(goldens.bitmaps)},
		field{"approvals", []byte(goldens.approvals)},
	)
}

// pairKey names what all strikes of a face and a device depend on. Device, face
// and plan go in whole, so that a setting that is new to them is never forgotten
// here, without what surely changes no result: the sizes of other strikes, where
// files lie, and the gate. The gate and the end dates of decisions weigh in the
// summary, which is made anew in every run.
func (r *Run) pairKey(s *StrikeJob, f *knownFace) string {
	device, fc, plan := *s.Device, *s.Face, *r.Plan
	device.Sizes = nil
	fc.File, fc.Rel, fc.line = "", "", 0
	plan.Path, plan.Goldens, plan.Faces, plan.Devices, plan.Gate = "", "", nil, nil, 0
	return keyOf(
		textField("format", cacheFormat),
		textField("program", "%s", r.cache.program),
		textField("renderer", "%+v", r.devices[s.Device.Name].id),
		field{"face without its glyphs", f.common[:]},
		textField("glyphs selected", "%s", s.glyphs.digest()),
		textField("filter", "%#v", r.options.Filter.Glyphs),
		textField("device", "%+v", device),
		textField("face", "%+v", fc),
		textField("plan", "%+v", plan),
	)
}

func textField(name, format string, args ...any) field {
	return field{name, fmt.Appendf(nil, format, args...)}
}
