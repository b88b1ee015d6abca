package render

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"smokeproof/harness/glyph"
)

// oneShot runs the command anew for each request.
type oneShot struct {
	process *Process
	words   words
}

// splits holds where the command is told which glyphs to draw.
func (s *oneShot) splits() bool {
	return strings.Contains(strings.Join(s.process.options.Command, " "), "{glyphs}")
}

func (s *oneShot) lastWords() string { return s.words.String() }

func (s *oneShot) close() {}

func (s *oneShot) ask(ctx context.Context, job *Job, refs []glyph.Ref) (map[glyph.Key]glyph.Cell, error) {
	o := s.process.options
	timed, cancel := context.WithTimeout(ctx, o.Timeout)
	defer cancel()
	argv := fillPlaces(o.Command, job, refs)
	s.words = words{}
	out := limited{limit: o.Limit}
	cmd := exec.CommandContext(timed, argv[0], argv[1:]...)
	cmd.Dir, cmd.Stdout, cmd.Stderr, cmd.WaitDelay = o.Dir, &out, &s.words, time.Second
	ownGroup(cmd)
	cmd.Cancel = func() error { killGroup(cmd); return nil }
	err := cmd.Run()
	var exit *exec.ExitError
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case timed.Err() != nil:
		return nil, &fault{what: fmt.Sprintf("gave no answer within %s", o.Timeout), words: s.words.String()}
	case out.full:
		return nil, &fault{what: "answered nonsense: " + errTooLong.Error(), words: s.words.String()}
	case errors.As(err, &exit):
		return nil, &fault{what: "failed (" + exit.String() + ")", words: s.words.String()}
	case err != nil:
		return nil, fmt.Errorf("command %q does not run: %w; check the device's command; a script begins with #! and its interpreter", argv[0], err)
	}
	cells, err := readAnswer(out.b, job, refs, false)
	if err != nil {
		return nil, &fault{what: "answered nonsense: " + err.Error(), words: s.words.String()}
	}
	return cells, nil
}

// place is a word in braces; one after a dollar is a shell's.
var place = regexp.MustCompile(`\$?\{[a-zA-Z]+\}`)

// CheckCommand refuses a command that holds places which nothing would be put into.
func CheckCommand(command []string) error {
	known := []string{"{font}", "{index}", "{size}", "{dpi}", "{xdpi}", "{ydpi}", "{glyphs}"}
	for _, a := range command {
		for _, p := range place.FindAllString(a, -1) {
			switch {
			case oneShotCommand(command) && !slices.Contains(known, p) && p[0] != '$':
				return fmt.Errorf("command holds %s; the places are %s", p, strings.Join(known, " "))
			case !oneShotCommand(command) && slices.Contains(known, strings.ToLower(p)):
				return fmt.Errorf("command holds %s but not {font}; a command with places is run once a strike and needs it", p)
			}
		}
	}
	return nil
}

// oneShotCommand says that a command is run once a strike.
func oneShotCommand(command []string) bool {
	return slices.ContainsFunc(command, func(a string) bool { return strings.Contains(a, "{font}") })
}

// fillPlaces puts a request's values into the arguments, each argument
// remaining one whatever the values hold.
func fillPlaces(command []string, job *Job, refs []glyph.Ref) []string {
	indices := make([]string, len(refs))
	for i, r := range refs {
		indices[i] = strconv.Itoa(r.Index)
	}
	s := job.Strike
	dpi := s.DPI.X.String()
	if s.DPI.X != s.DPI.Y {
		dpi += "," + s.DPI.Y.String()
	}
	places := strings.NewReplacer(
		"{font}", job.Font, "{index}", strconv.Itoa(job.Index), "{size}", s.Size.String(),
		"{dpi}", dpi, "{xdpi}", s.DPI.X.String(), "{ydpi}", s.DPI.Y.String(), "{glyphs}", strings.Join(indices, ","))
	argv := make([]string, len(command))
	for i, a := range command {
		argv[i] = places.Replace(a)
	}
	return argv
}

// Program is where a command's first word leads: one with a slash goes from the folder
// that the command runs in, any other is looked for on the PATH.
func Program(dir, word string) string {
	if filepath.Base(word) == word || filepath.IsAbs(word) {
		return word
	}
	path, err := filepath.Abs(filepath.Join(dir, word))
	if err != nil {
		return word
	}
	return path
}

// commandIdentity names a one-shot command by its file, the digest of that
// file, and its arguments.
func commandIdentity(dir string, command []string) (glyph.Identity, error) {
	path, err := exec.LookPath(Program(dir, command[0]))
	if err != nil {
		return glyph.Identity{}, fmt.Errorf("command %q cannot be run: %w; check the device's command, whose paths go from the plan's folder", command[0], err)
	}
	f, err := os.Open(path)
	if err != nil {
		return glyph.Identity{}, err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return glyph.Identity{}, err
	}
	return glyph.Identity{
		Name: filepath.Base(path), Version: fmt.Sprintf("sha256:%x", h.Sum(nil)[:8]),
		Settings: "arguments=" + strings.Join(command[1:], " "),
	}, nil
}

// limited keeps what is written up to a limit and fails past it.
type limited struct {
	b     []byte
	limit int
	full  bool
}

func (l *limited) Write(b []byte) (int, error) {
	if len(l.b)+len(b) > l.limit {
		l.full = true
		return 0, errTooLong
	}
	l.b = append(l.b, b...)
	return len(b), nil
}
