package golden

import (
	"path/filepath"

	"smokeproof/harness/glyph"
)

// Files names the files of one strike, whether or not they are there: bitmaps,
// in the order in which they are looked for, and approvals. A store of a past
// revision has no files.
func (s *Store) Files(id glyph.Strike) (bitmaps []string, approvals string, ok bool) {
	if s.past != nil {
		return nil, "", false
	}
	base := filepath.Join(s.dir, place(id))
	return []string{base + ".bdf", base + ".bdf.gz"}, base + ".approvals", true
}

// place is the path of a strike's files, without ending, below the store.
func place(id glyph.Strike) string {
	dpi := id.DPI.String()
	if id.Mode == glyph.Grey {
		dpi += "-grey"
	}
	return filepath.Join(FileName(id.Face), dpi, id.Size.String())
}
