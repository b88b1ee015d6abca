package golden

import (
	"io"
	"io/fs"

	"golang.org/x/sys/unix"
)

// folder is an open folder whose files are read with as few calls to the kernel
// as it takes: a strike's two files are small, and the calls cost as much as the
// reading. None of its paths leads out of it.
type folder struct{ fd int }

func openFolder(path string) (*folder, bool) {
	fd, err := unix.Open(path, unix.O_PATH|unix.O_DIRECTORY|unix.O_CLOEXEC, 0)
	return &folder{fd}, err == nil
}

func (f *folder) Close() error { return unix.Close(f.fd) }

// read reads a file, into room where it is large enough. ok is false where this
// cannot tell what is wrong: the caller then asks in the careful way.
func (f *folder) read(path string, room []byte) (data []byte, ok bool, err error) {
	file, size, err := f.find(path)
	if err == unix.ENOENT {
		return nil, true, fs.ErrNotExist
	} else if err != nil {
		return nil, false, nil
	}
	defer file.Close()
	if cap(room) <= size {
		room = make([]byte, size+1) // one more, to see that the file ends
	}
	n, err := file.ReadAt(room[:size+1], 0)
	return room[:n], err == io.EOF && n == size, nil
}

// open opens a file; false where it is not there, or this cannot tell what is wrong.
func (f *folder) open(path string) (file source, size int, ok bool) {
	fd, size, err := f.find(path)
	return fd, size, err == nil
}

// find opens a regular file.
func (f *folder) find(path string) (file openFile, size int, err error) {
	fd, err := unix.Openat2(f.fd, path, &unix.OpenHow{Flags: unix.O_RDONLY | unix.O_NONBLOCK | unix.O_CLOEXEC, Resolve: unix.RESOLVE_BENEATH})
	if err != nil {
		return -1, 0, err
	}
	var st unix.Stat_t
	if err = unix.Fstat(fd, &st); err == nil && (st.Mode&unix.S_IFMT != unix.S_IFREG || st.Size > maxBDF) {
		err = unix.EINVAL
	}
	if err != nil {
		unix.Close(fd)
		return -1, 0, err
	}
	return openFile(fd), int(st.Size), nil
}

// openFile is a file's descriptor.
type openFile int

func (f openFile) Close() error { return unix.Close(int(f)) }

func (f openFile) ReadAt(p []byte, from int64) (n int, err error) {
	for n < len(p) {
		got, err := unix.Pread(int(f), p[n:], from+int64(n))
		switch {
		case err == unix.EINTR:
		case err != nil:
			return n, err
		case got == 0:
			return n, io.EOF
		}
		n += max(got, 0)
	}
	return n, nil
}
