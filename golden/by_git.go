package golden

import (
	"errors"
	"fmt"
	"strings"
)

// byGit is what git put into a file, or in its place. It says itself what to do.
type byGit string

func (e byGit) Error() string { return string(e) }

const (
	errConflict  byGit = "git left a conflict here; keep one side and remove the marks"
	errBothSides byGit = "git left a conflict here; keep the lines of both sides and remove the marks"
	errPointer   byGit = "a Git LFS pointer stands in place of the file; fetch it with git lfs pull"
)

// pointerMagic begins a pointer file (Git LFS specification; from memory).
const pointerMagic = "version https://git-lfs.github.com/spec/"

func isConflict(line string) bool {
	return strings.HasPrefix(line, "<<<<<<<") || strings.HasPrefix(line, "=======") || strings.HasPrefix(line, ">>>>>>>")
}

// advised adds what to do to an error that does not say it.
func advised(err error, what string) error {
	if errors.As(err, new(byGit)) || errors.As(err, new(otherVersion)) {
		return err
	}
	return fmt.Errorf("%w; %s", err, what)
}
