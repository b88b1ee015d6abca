// Package infile reads files that a stranger may have put where they lie: a
// branch under git holds links that lead anywhere, and a path may name a pipe
// that nobody writes to, or a device without end.
package infile

import (
	"fmt"
	"io"
	"os"
)

// Open opens a regular file of at most some bytes, and waits for nothing.
func Open(path string, most int64) (*os.File, error) {
	f, _, err := open(path, most)
	return f, err
}

func open(path string, most int64) (*os.File, int64, error) {
	f, err := os.OpenFile(path, os.O_RDONLY|noWait, 0)
	if err != nil {
		return nil, 0, err
	}
	st, err := f.Stat()
	switch {
	case err != nil:
	case !st.Mode().IsRegular():
		err = fmt.Errorf("%s is no regular file", path)
	case st.Size() > most:
		err = fmt.Errorf("%s has %d bytes, the limit is %d", path, st.Size(), most)
	}
	if err != nil {
		f.Close()
		return nil, 0, err
	}
	return f, st.Size(), nil
}

// Read is all that Open opens, as long as it was then.
func Read(path string, most int64) ([]byte, error) {
	f, size, err := open(path, most)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	b := make([]byte, size)
	n, err := io.ReadFull(f, b)
	if err == io.EOF || err == io.ErrUnexpectedEOF { // cut short meanwhile
		err = nil
	}
	return b[:n], err
}
