package harness

import (
	"fmt"
	"os"
	"path/filepath"
)

type planFileFace struct {
	Name, File string
	Index      int
	Glyphs     string
}

func (r *planReader) face(dir string, i int, f *planFileFace, names map[string]bool) PlanFace {
	at := func(k string) string { return fmt.Sprintf("face[%d].%s", i, k) }
	out := PlanFace{Name: f.Name, Rel: f.File, File: resolve(dir, f.File), Index: f.Index, line: r.lines[fmt.Sprintf("face[%d]", i)]}
	r.name(at("name"), "face", f.Name, names)
	switch st, err := os.Stat(out.File); {
	case f.File == "":
		r.fail(at("file"), "face %q names no file; add file = \"…\"", f.Name)
	case err != nil && empty(filepath.Dir(out.File)):
		r.fail(at("file"), "font file %s does not exist, and its folder is empty; correct file, or fetch the folder where it is a submodule: git submodule update --init", f.File)
	case err != nil:
		r.fail(at("file"), "font file %s does not exist; correct file or remove the face", f.File)
	case !st.Mode().IsRegular():
		r.fail(at("file"), "font file %s is no regular file; name a font", f.File)
	}
	if f.Index < 0 {
		r.fail(at("index"), "face index %d is negative; count from 0", f.Index)
	}
	var err error
	if out.Glyphs, err = ParseSelection(f.Glyphs); err != nil {
		r.fail(at("glyphs"), "%v", err)
	}
	return out
}

// empty says that a folder is there and holds nothing.
func empty(dir string) bool {
	list, err := os.ReadDir(dir)
	return err == nil && len(list) == 0
}
