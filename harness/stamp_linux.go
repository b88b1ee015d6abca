package harness

import (
	"io/fs"
	"syscall"
	"time"
)

// stamp is what the file system says of a file without reading it. The kernel
// sets the time of change on every write; unlike the time of modification,
// nobody can set it back.
type stamp struct {
	Device   uint64 `json:"device"`
	Inode    uint64 `json:"inode"`
	Size     int64  `json:"size"`
	Modified int64  `json:"modified"` // nanoseconds
	Changed  int64  `json:"changed"`
}

func stampOf(st fs.FileInfo) (stamp, bool) {
	s, ok := st.Sys().(*syscall.Stat_t)
	if !ok {
		return stamp{}, false
	}
	return stamp{Device: uint64(s.Dev), Inode: s.Ino, Size: s.Size, Modified: s.Mtim.Nano(), Changed: s.Ctim.Nano()}, true
}

// before says that the file was last touched before a moment.
func (s stamp) before(t time.Time) bool { return max(s.Modified, s.Changed) < t.UnixNano() }
