package golden

import (
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
	fd, err := unix.Openat2(f.fd, path, &unix.OpenHow{Flags: unix.O_RDONLY | unix.O_NONBLOCK | unix.O_CLOEXEC, Resolve: unix.RESOLVE_BENEATH})
	if err == unix.ENOENT {
		return nil, true, fs.ErrNotExist
	} else if err != nil {
		return nil, false, nil
	}
	defer unix.Close(fd)
	var st unix.Stat_t
	if err := unix.Fstat(fd, &st); err != nil || st.Mode&unix.S_IFMT != unix.S_IFREG || st.Size > maxBDF {
		return nil, false, nil
	}
	size := int(st.Size)
	if cap(room) <= size {
		room = make([]byte, size+1) // one more, to see that the file ends
	}
	n, err := unix.Read(fd, room[:size+1])
	return room[:max(n, 0)], err == nil && n == size, nil
}
