//go:build unix

package golden

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/user"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

type lockKind int

const (
	shared    lockKind = syscall.LOCK_SH
	exclusive lockKind = syscall.LOCK_EX
)

// lockWait is how long a writer that is at work is waited for.
const lockWait = 30 * time.Second

// lock takes the store's lock and finishes what a killed writer left. Readers
// share it; a store that is not there, or that may only be read, needs none.
// The kernel frees the lock of a process that dies.
func (s *Store) lock(ctx context.Context, kind lockKind) (unlock func(), err error) {
	if s.past != nil {
		return func() {}, nil
	}
	// A branch may plant a link in the folder's place, and approve would write where it leads.
	if st, err := os.Lstat(s.dir); err == nil && st.Mode()&fs.ModeSymlink != 0 {
		return nil, fmt.Errorf("golden: %s is a symbolic link; remove it, or name the folder that it leads to in the plan", s.dir)
	}
	path := filepath.Join(s.dir, ".lock")
	// What somebody planted in its place is neither followed nor waited for.
	const alone = syscall.O_NOFOLLOW | syscall.O_NONBLOCK
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|alone, 0o666)
	if kind == shared && (errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)) {
		if f, err = os.OpenFile(path, os.O_RDONLY|alone, 0); err != nil {
			return func() {}, nil // nobody ever wrote here, or nobody can
		}
	}
	if err != nil {
		return nil, fmt.Errorf("golden: cannot lock: %w; see that you may write in the folder and that this is a file of it", err)
	}
	if err := s.flock(ctx, f, kind); err != nil {
		f.Close()
		return nil, err
	}
	if _, err := os.Lstat(filepath.Join(s.dir, intentName)); err == nil {
		if err := s.repair(ctx, f, kind); err != nil {
			f.Close()
			return nil, err
		}
	}
	if kind == exclusive {
		who := "somebody"
		if u, err := user.Current(); err == nil {
			who = u.Username
		}
		host, _ := os.Hostname()
		f.Truncate(0)
		f.WriteAt(fmt.Appendf(nil, "%s on %s, process %d\n", who, host, os.Getpid()), 0)
	}
	return func() { f.Close() }, nil
}

// repair finishes an intent under the exclusive lock.
func (s *Store) repair(ctx context.Context, f *os.File, kind lockKind) error {
	if kind == shared {
		syscall.Flock(int(f.Fd()), syscall.LOCK_UN)
		if err := s.flock(ctx, f, exclusive); err != nil {
			return err
		}
	}
	return s.finish()
}

func (s *Store) flock(ctx context.Context, f *os.File, kind lockKind) error {
	for end := time.Now().Add(lockWait); ; {
		err := syscall.Flock(int(f.Fd()), int(kind)|syscall.LOCK_NB)
		if err == nil {
			return nil
		}
		if !errors.Is(err, syscall.EWOULDBLOCK) && !errors.Is(err, syscall.EINTR) {
			return fmt.Errorf("golden: cannot lock %s: %w", s.dir, err)
		}
		if time.Now().After(end) {
			holder, _ := os.ReadFile(f.Name())
			return fmt.Errorf("golden: %s is held by %s; wait for it to end", s.dir, strings.TrimSpace(string(holder)))
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(20 * time.Millisecond):
		}
	}
}
