package golden

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io"
)

// document is the text of a strike's goldens, seen through a view that moves along
// it. A file is read in pieces, so that what is held against it is still at hand in
// the processor.
type document struct {
	file  source // nil where all of the text was at hand from the start
	size  int    // of the text
	room  []byte // the text from start to read
	start int
	read  int
	view  []byte // the end of it, not passed yet
	fault error  // why no more can be read
}

// source is an open file. Writers put another one in its place and leave it as it is.
type source interface {
	io.ReaderAt
	io.Closer
}

const piece = 1 << 17 // bytes, few enough for a processor's second cache

// textDocument is a document of which all is at hand.
func textDocument(text []byte) document {
	return document{size: len(text), read: len(text), room: text, view: text}
}

// none says that there is no document.
func (d *document) none() bool { return d.file == nil && d.room == nil }

// ahead is the text that comes next: n bytes or more, if there are so many.
func (d *document) ahead(n int) []byte {
	if len(d.view) < n && d.read < d.size && d.fault == nil {
		d.fill(max(n, piece))
	}
	return d.view
}

// fill moves the view to the start of the room, and reads on up to n bytes.
func (d *document) fill(n int) {
	had, room := len(d.view), d.room[:cap(d.room)]
	if len(room) < n {
		room = make([]byte, n)
	}
	copy(room, d.view)
	room = room[:min(n, had+d.size-d.read)]
	got, err := d.file.ReadAt(room[had:], int64(d.read))
	d.start, d.read, d.fault = d.read-had, d.read+got, err
	d.room, d.view = room[:had+got], room[:had+got]
}

// pass moves the view on.
func (d *document) pass(n int) { d.view = d.view[n:] }

// checksum is the CRC-32C of all of the text, which stands at its start again after that.
func (d *document) checksum() (sum uint32) {
	for text := d.ahead(1); len(text) > 0; text = d.ahead(1) {
		sum = crc32.Update(sum, castagnoli, text)
		d.pass(len(text))
	}
	if d.start == 0 {
		d.view = d.room[:d.read]
	} else {
		d.start, d.read, d.view = 0, 0, nil
	}
	return sum
}

// whole is all of the text, what was passed too; nothing is ahead after that.
func (d *document) whole() ([]byte, error) {
	if d.start == 0 && d.read == d.size {
		return d.room[:d.size], nil
	}
	room := d.room[:cap(d.room)]
	if len(room) <= d.size {
		room = make([]byte, d.size+1) // one more, to see that the file ends
	}
	n, err := d.file.ReadAt(room[:d.size+1], 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	if n != d.size {
		return nil, fmt.Errorf("%w: it was changed while it was read; run again", ErrInvalid)
	}
	d.start, d.read, d.room, d.view = 0, n, room[:n], nil
	return d.room, nil
}

// close closes the file, and gives the memory to whoever wants it.
func (d *document) close() (room []byte) {
	if d.file != nil {
		_ = d.file.Close() // it was only read
	}
	room, *d = d.room, document{}
	return room
}
