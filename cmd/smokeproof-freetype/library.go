//go:build cgo

package main

/*
#cgo pkg-config: freetype2
#include <stdlib.h>
#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_MODULE_H
#include FT_ADVANCES_H

static FT_Error set_interpreter(FT_Library l, FT_UInt version) {
	return FT_Property_Set(l, "truetype", "interpreter-version", &version);
}

// set_ppem asks for a size in 26.6 pixels per em.
static FT_Error set_ppem(FT_Face f, FT_Long x, FT_Long y) {
	FT_Size_RequestRec r = { FT_SIZE_REQUEST_TYPE_NOMINAL, x, y, 0, 0 };
	return FT_Request_Size(f, &r);
}

// The targets are macros that cgo cannot see.
enum {
	target_mono = FT_LOAD_TARGET_MONO,
	target_light = FT_LOAD_TARGET_LIGHT,
	target_normal = FT_LOAD_TARGET_NORMAL
};
*/
import "C"

import (
	"fmt"
	"os"
	"unsafe"

	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// library is a FreeType library and the face that it last opened: requests
// for one face tend to come together.
type library struct {
	settings settings
	ft       C.FT_Library
	face     C.FT_Face
	data     unsafe.Pointer // the file's bytes, which FreeType reads from as long as the face is open
	path     string
	index    int
}

func openLibrary(s settings) (*library, error) {
	l := &library{settings: s}
	if e := C.FT_Init_FreeType(&l.ft); e != 0 {
		return nil, fmt.Errorf("FreeType does not start: error 0x%02x", int(e))
	}
	if e := C.set_interpreter(l.ft, C.FT_UInt(s.interpreter)); e != 0 {
		return nil, fmt.Errorf("this FreeType has no TrueType interpreter %d: error 0x%02x", s.interpreter, int(e))
	}
	return l, nil
}

func (l *library) close() {
	C.FT_Done_FreeType(l.ft)
	C.free(l.data)
}

func (l *library) identity() glyph.Identity {
	var major, minor, patch C.FT_Int
	C.FT_Library_Version(l.ft, &major, &minor, &patch)
	return glyph.Identity{
		Name: "freetype", Version: fmt.Sprintf("%d.%d.%d", major, minor, patch), Settings: l.settings.String(),
	}
}

// draw draws a request's glyphs. One that FreeType cannot draw is left out,
// with a word on standard error.
func (l *library) draw(r *render.Request) ([]glyph.Cell, error) {
	refs, err := r.Refs()
	if err != nil {
		return nil, err
	}
	if err := l.open(r.Font, r.Index); err != nil {
		return nil, err
	}
	if e := C.set_ppem(l.face, C.FT_Long(r.PPEM[0]), C.FT_Long(r.PPEM[1])); e != 0 {
		return nil, fmt.Errorf("%s: size %d,%d/64 ppem: FreeType error 0x%02x", r.Font, r.PPEM[0], r.PPEM[1], int(e))
	}
	cells := make([]glyph.Cell, 0, len(refs))
	for _, ref := range refs {
		c, err := l.cell(ref, r.Mode == glyph.Grey.String())
		if err != nil {
			fmt.Fprintf(os.Stderr, "glyph %q: %v\n", ref.Key, err)
			continue
		}
		cells = append(cells, c)
	}
	return cells, nil
}

func (l *library) open(path string, index int) error {
	if l.face != nil && l.path == path && l.index == index {
		return nil
	}
	if l.face != nil {
		C.FT_Done_Face(l.face)
		l.face = nil
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	if !l.settings.hdmx {
		hideTable(data, "hdmx")
	}
	C.free(l.data)
	l.data = C.CBytes(data)
	if e := C.FT_New_Memory_Face(l.ft, (*C.FT_Byte)(l.data), C.FT_Long(len(data)), C.FT_Long(index), &l.face); e != 0 {
		l.face = nil
		return fmt.Errorf("%s: FreeType cannot open it: error 0x%02x", path, int(e))
	}
	l.path, l.index = path, index
	return nil
}

func (l *library) flags(grey bool) C.FT_Int32 {
	f := C.FT_Int32(C.target_mono)
	if grey {
		f = C.target_normal
	}
	switch l.settings.hinting {
	case "light":
		f = C.target_light
	case "none":
		f |= C.FT_LOAD_NO_HINTING
	default: // a face without programs stays as it is; FreeType would hint it by itself
		f |= C.FT_LOAD_NO_AUTOHINT
	}
	if !l.settings.strikes {
		f |= C.FT_LOAD_NO_BITMAP
	}
	return f
}

func (l *library) cell(ref glyph.Ref, grey bool) (glyph.Cell, error) {
	if e := C.FT_Load_Glyph(l.face, C.FT_UInt(ref.Index), l.flags(grey)); e != 0 {
		return glyph.Cell{}, fmt.Errorf("FreeType error 0x%02x while loading", int(e))
	}
	slot := l.face.glyph
	mode := C.FT_Render_Mode(C.FT_RENDER_MODE_MONO)
	if grey {
		mode = C.FT_RENDER_MODE_NORMAL
	}
	advance := (int(slot.advance.x) + 32) >> 6
	if e := C.FT_Render_Glyph(slot, mode); e != 0 {
		return glyph.Cell{}, fmt.Errorf("FreeType error 0x%02x while drawing", int(e))
	}
	b, err := bitmap(slot, grey)
	if err != nil {
		return glyph.Cell{}, err
	}
	swidth, err := l.swidth(ref)
	return glyph.Cell{Ref: ref, Advance: advance, SWidth: swidth, Bitmap: b.Tight()}, err
}

// swidth is the unhinted advance in thousandths of the em.
func (l *library) swidth(ref glyph.Ref) (int, error) {
	var units C.FT_Fixed
	if e := C.FT_Get_Advance(l.face, C.FT_UInt(ref.Index), C.FT_LOAD_NO_SCALE, &units); e != 0 {
		return 0, fmt.Errorf("FreeType error 0x%02x at the advance", int(e))
	}
	upem := int(l.face.units_per_EM)
	if upem == 0 { // a face of bitmaps alone
		return 0, nil
	}
	return (int(units)*1000 + upem/2) / upem, nil
}
