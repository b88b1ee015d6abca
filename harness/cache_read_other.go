//go:build !linux

package harness

import (
	"os"
	"time"
)

func readEntry(path string) (data []byte, modified time.Time, err error) {
	st, err := os.Stat(path)
	if err != nil {
		return nil, modified, err
	}
	if !st.Mode().IsRegular() {
		return nil, modified, errTorn
	}
	data, err = os.ReadFile(path)
	return data, st.ModTime(), err
}
