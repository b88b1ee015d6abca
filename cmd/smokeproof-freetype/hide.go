package main

import "encoding/binary"

// hideTable renames a table in every directory of a TrueType or OpenType file,
// in place, so that no reader finds it. Anything else is left as it is.
//
// FreeType answers with a font's own hdmx advances even under
// FT_LOAD_COMPUTE_METRICS (seen with 2.12.1), and a check that reads a table's
// own figures back proves nothing: the table has to go.
func hideTable(font []byte, tag string) {
	if len(font) < 12 {
		return
	}
	if string(font[:4]) != "ttcf" {
		hideInDirectory(font, 0, tag)
		return
	}
	for i := range int(binary.BigEndian.Uint32(font[8:])) {
		at := 12 + 4*i
		if at+4 > len(font) {
			return
		}
		hideInDirectory(font, int(binary.BigEndian.Uint32(font[at:])), tag)
	}
}

func hideInDirectory(font []byte, at int, tag string) {
	if at+12 > len(font) {
		return
	}
	for i := range int(binary.BigEndian.Uint16(font[at+4:])) {
		entry := at + 12 + 16*i
		if entry+16 > len(font) {
			return
		}
		if string(font[entry:entry+4]) == tag {
			copy(font[entry:], "----")
		}
	}
}
