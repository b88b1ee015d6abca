package harness

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// The folders of the cache.
const (
	strikesDir = "strikes"
	facesDir   = "faces"
	filesDir   = "files"
)

// Entries that nobody asked for in a month are removed, once a day at most.
const (
	entryLife  = 30 * 24 * time.Hour
	pruneEvery = 24 * time.Hour
)

func (c *cache) path(dir, key string) string { return filepath.Join(c.dir, dir, key[:2], key) }

// load gives an entry's bytes; nil where there is none or its checksum says
// that it is torn.
func (c *cache) load(dir, key string) []byte {
	if len(key) != 2*sha256.Size {
		return nil
	}
	path := c.path(dir, key)
	b, modified, err := readEntry(path)
	if err != nil || len(b) < sha256.Size {
		return nil
	}
	body := b[sha256.Size:]
	if sum := checksum(dir, key, body); !bytes.Equal(sum, b[:sha256.Size]) {
		return nil
	}
	if now := time.Now(); now.Sub(modified) > pruneEvery {
		_ = os.Chtimes(path, now, now) // still wanted; where it fails the entry is pruned early
	}
	return body
}

// store writes an entry aside and renames it. What cannot be written is not
// remembered: a full disk costs time, never a run.
func (c *cache) store(dir, key string, body []byte) {
	path := c.path(dir, key)
	if os.MkdirAll(filepath.Dir(path), 0o777) != nil {
		return
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".new-*")
	if err != nil {
		return
	}
	_, err1 := f.Write(checksum(dir, key, body))
	_, err2 := f.Write(body)
	if err3 := f.Close(); err1 != nil || err2 != nil || err3 != nil || os.Rename(f.Name(), path) != nil {
		os.Remove(f.Name())
	}
}

// checksum covers the name too: an entry moved under another one is torn.
func checksum(dir, key string, body []byte) []byte {
	h := sha256.New()
	put(h, dir)
	put(h, key)
	h.Write(body)
	return h.Sum(nil)
}

func (c *cache) loadEntry(key string) *entry {
	var e entry
	if b := c.load(strikesDir, key); b == nil || json.Unmarshal(b, &e) != nil {
		return nil
	}
	return &e
}

// storeEntry writes an entry as json.Marshal would.
func (c *cache) storeEntry(key, parts string, s *StrikeResult) {
	b, err := json.Marshal(&entry{Parts: parts, Record: s.StrikeRecord, Changes: []Change{}})
	if err != nil {
		return
	}
	b = bytes.TrimSuffix(b, []byte("]}"))
	head := len(b)
	err = s.eachLine(func(line []byte) error {
		if len(b)+len(line)+len(",]}") > maxEntry {
			return bufio.ErrTooLong
		}
		if len(b) > head {
			b = append(b, ',')
		}
		b = append(b, line...)
		return nil
	})
	if err == nil {
		c.store(strikesDir, key, append(b, "]}"...))
	}
}

// prune removes what nobody asked for in a long time.
func (c *cache) prune() {
	mark := filepath.Join(c.dir, "pruned")
	if st, err := os.Stat(mark); err == nil && time.Since(st.ModTime()) < pruneEvery {
		return
	}
	if os.MkdirAll(c.dir, 0o777) != nil || os.WriteFile(mark, nil, 0o666) != nil {
		return
	}
	for _, dir := range []string{strikesDir, facesDir, filesDir} {
		_ = filepath.WalkDir(filepath.Join(c.dir, dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return nil
			}
			if st, err := d.Info(); err == nil && time.Since(st.ModTime()) > entryLife {
				os.Remove(path)
			}
			return nil
		})
	}
}
