package golden

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// revision reads files as they stood in a commit.
type revision struct {
	name   string // as the caller gave it
	commit string
	prefix string // of the store below the top of the work tree, "" or ending in a slash
	*blobs
}

// blobs is a git process that answers for all contents that it is asked for.
type blobs struct {
	mu     sync.Mutex
	cmd    *exec.Cmd
	ask    io.WriteCloser
	answer *bufio.Reader
}

// OpenAt names the store as it stood in a revision of git: a tag, a branch, a
// commit. It can be read and not changed. Close it when done.
func OpenAt(ctx context.Context, dir, rev string) (*Store, error) {
	r := &revision{name: rev}
	work, below := dir, ""
	for { // the folder may be gone from the work tree
		if st, err := os.Stat(work); err == nil && st.IsDir() {
			break
		}
		below = filepath.Base(work) + "/" + below
		work = filepath.Dir(work)
	}
	prefix, err := git(ctx, work, "rev-parse", "--show-prefix")
	if err != nil {
		return nil, fmt.Errorf("golden: goldens of a revision come from git, which cannot read %s: %w", dir, err)
	}
	r.prefix = prefix + below
	if r.prefix != "" && !strings.HasSuffix(r.prefix, "/") {
		r.prefix += "/"
	}
	if r.commit, err = git(ctx, work, "rev-parse", "--verify", "--quiet", "--end-of-options", rev+"^{commit}"); err != nil {
		advice := "name a tag, branch or commit"
		if shallow, _ := git(ctx, work, "rev-parse", "--is-shallow-repository"); shallow == "true" {
			advice = "this clone is shallow: git fetch --unshallow --tags"
		}
		return nil, fmt.Errorf("golden: git knows no revision %q; %s", rev, advice)
	}
	if r.blobs, err = startBlobs(ctx, work); err != nil {
		return nil, err
	}
	return &Store{dir: dir, past: r}, nil
}

func startBlobs(ctx context.Context, dir string) (*blobs, error) {
	b := &blobs{cmd: gitIn(ctx, dir, "cat-file", "--batch")}
	var err error
	if b.ask, err = b.cmd.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := b.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	b.answer = bufio.NewReaderSize(out, 1<<16)
	if err := b.cmd.Start(); err != nil {
		return nil, fmt.Errorf("golden: git: %w", err)
	}
	return b, nil
}

func (b *blobs) close() error { return errors.Join(b.ask.Close(), b.cmd.Wait()) }

// Revision is the name that OpenAt was given; "" for the folder as it is now.
func (s *Store) Revision() string {
	if s.past == nil {
		return ""
	}
	return s.past.name
}

// Close ends what a store of a revision holds open.
func (s *Store) Close() error {
	if s.past == nil {
		return nil
	}
	return s.past.close()
}

// gitIn runs git in a folder, for the repository that the folder is in. A hook of git's may name
// the repository and no work tree; git would then take the folder for the top of one.
func gitIn(ctx context.Context, dir string, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, "git", append([]string{"-C", dir}, args...)...)
	if _, set := os.LookupEnv("GIT_WORK_TREE"); !set {
		c.Env = slices.DeleteFunc(os.Environ(), func(v string) bool { return strings.HasPrefix(v, "GIT_DIR=") })
	}
	return c
}

func git(ctx context.Context, dir string, args ...string) (string, error) {
	c := gitIn(ctx, dir, args...)
	var stderr bytes.Buffer
	c.Stderr = &stderr
	out, err := c.Output()
	if err != nil {
		return "", fmt.Errorf("git: %w: %s", err, strings.Join(strings.Fields(stderr.String()), " ")) // it may advise, in lines
	}
	return strings.TrimSuffix(string(out), "\n"), nil
}

// read gives a file by its path below the store, slashes between its parts.
func (r *revision) read(path string) ([]byte, error) {
	return r.blob(r.commit + ":" + r.prefix + path)
}

// blob gives a content by one of git's names for it.
func (b *blobs) blob(name string) ([]byte, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if strings.ContainsRune(name, '\n') {
		return nil, fmt.Errorf("golden: git cannot be asked for %q", name)
	}
	if _, err := io.WriteString(b.ask, name+"\n"); err != nil {
		return nil, fmt.Errorf("golden: git: %w", err)
	}
	head, err := b.answer.ReadString('\n')
	if err != nil {
		return nil, fmt.Errorf("golden: git: %w", err)
	}
	if strings.HasSuffix(head, " missing\n") {
		return nil, fs.ErrNotExist
	}
	f := strings.Fields(head) // object, type, size
	if len(f) != 3 || f[1] != "blob" {
		return nil, fmt.Errorf("golden: git answers %.80q for %s", head, name)
	}
	size, err := strconv.Atoi(f[2])
	if err != nil || size < 0 || size > maxBDF {
		return nil, fmt.Errorf("%w: %s has %s bytes in git", ErrUnsupported, name, f[2])
	}
	data := make([]byte, size+1) // and a line end
	if _, err := io.ReadFull(b.answer, data); err != nil {
		return nil, fmt.Errorf("golden: git: %w", err)
	}
	return data[:size], nil
}
