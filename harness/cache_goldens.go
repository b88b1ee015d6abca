package harness

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
	"smokeproof/harness/infile"
)

// absent stands for the digest of a file that is not there.
const absent = "none"

// goldenDigests are SHA-256 digests of a strike's files.
type goldenDigests struct{ bitmaps, approvals string }

// fileDigests gives the digests of a golden store's files. A file whose stamp
// is what it was when its digest was taken is not read again.
type fileDigests struct {
	cache *cache
	key   string

	mu    sync.Mutex
	known map[string]stamped
	dirty bool
}

// stamped is a digest and the stamp of the file that it was taken of.
type stamped struct {
	Stamp  stamp  `json:"stamp"`
	SHA256 string `json:"sha256"`
}

// settled is how long a file must have lain unchanged for its stamp to stand
// for its content: file systems keep time in steps, and two writes within one
// step look alike.
var settled = 3 * time.Second

func (c *cache) openFileDigests(goldens string) *fileDigests {
	if abs, err := filepath.Abs(goldens); err == nil {
		goldens = abs
	}
	f := &fileDigests{cache: c, key: keyOf(field{"golden folder", []byte(goldens)}), known: map[string]stamped{}}
	if b := c.load(filesDir, f.key); b == nil || json.Unmarshal(b, &f.known) != nil {
		f.known = map[string]stamped{}
	}
	return f
}

// of digests a strike's files; false where they are not to be had, as when the
// goldens are those of a past revision.
func (f *fileDigests) of(s *golden.Store, id glyph.Strike) (goldenDigests, bool) {
	bitmaps, approvals, ok := s.Files(id)
	if !ok {
		return goldenDigests{}, false
	}
	var d goldenDigests
	for _, path := range bitmaps { // the first there is is the one that counts
		sum, err := f.digest(path)
		if err != nil {
			return d, false
		}
		if d.bitmaps += sum + " "; sum != absent {
			break
		}
	}
	sum, err := f.digest(approvals)
	d.approvals = sum
	return d, err == nil
}

func (f *fileDigests) digest(path string) (string, error) {
	st, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return absent, nil
	}
	if err != nil {
		return "", err
	}
	now, canStamp := stampOf(st)
	if canStamp {
		f.mu.Lock()
		had, ok := f.known[path]
		f.mu.Unlock()
		if ok && had.Stamp == now {
			return had.SHA256, nil
		}
	}
	looked := time.Now()
	b, err := infile.Read(path, maxSource)
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(b)
	text := hex.EncodeToString(sum[:])
	if canStamp && now.before(looked.Add(-settled)) {
		if again, err := os.Stat(path); err == nil {
			if s, _ := stampOf(again); s == now {
				f.mu.Lock()
				f.known[path], f.dirty = stamped{now, text}, true
				f.mu.Unlock()
			}
		}
	}
	return text, nil
}

// keep writes the digests down for the next run.
func (f *fileDigests) keep() {
	f.mu.Lock()
	defer f.mu.Unlock()
	if !f.dirty {
		return
	}
	if b, err := json.Marshal(f.known); err == nil {
		f.cache.store(filesDir, f.key, b)
	}
}
