package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"smokeproof/harness"
)

// The verb's name is the photographer's word, and was the engraver's before.
var retouchVerb = verb{
	name: "retouch", does: "change goldens by hand in your text editor, a character a pixel",
	example: "EDITOR=vi smokeproof retouch --face text --device label --size 8 --glyphs e,s",
	run:     runRetouch,
}

func runRetouch(c *call) (int, error) {
	c.selectionFlags()
	if err := c.parseFlagsOnly(); err != nil {
		return 0, err
	}
	editor := os.Getenv("VISUAL")
	if editor == "" {
		editor = os.Getenv("EDITOR")
	}
	if editor == "" {
		return 0, errors.New("no editor: set EDITOR, or export --format art, change the file and import it")
	}
	r, err := c.open()
	if err != nil {
		return 0, err
	}
	defer r.Close()
	if n := len(r.Strikes()); n != 1 {
		return 0, fmt.Errorf("one strike at a time, %d are selected; narrow with --face, --device and --size", n)
	}
	art, err := harness.FindExportFormat("art")
	if err != nil {
		return 0, err
	}
	var before bytes.Buffer
	if _, _, err := r.Export(c.ctx, art, "", &before, nil); err != nil {
		return 0, err
	}
	dir, err := os.MkdirTemp("", "smokeproof-")
	if err != nil {
		return harness.ExitIncomplete, err
	}
	path := filepath.Join(dir, "retouch.txt")
	if err := os.WriteFile(path, before.Bytes(), 0o600); err != nil {
		return harness.ExitIncomplete, err
	}
	status, err := c.edit(r, editor, path, before.Bytes())
	if after, gone := os.ReadFile(path); err != nil && gone == nil && !bytes.Equal(after, before.Bytes()) {
		return status, fmt.Errorf("%w; your changes are in %s", err, path)
	}
	return status, errors.Join(err, os.RemoveAll(dir))
}

// edit lets a person change the file and brings it in, if it was changed.
func (c *call) edit(r *harness.Run, editor, path string, before []byte) (int, error) {
	words := append(strings.Fields(editor), path)
	cmd := exec.CommandContext(c.ctx, words[0], words[1:]...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, c.stdout, c.stderr
	if err := cmd.Run(); err != nil {
		return harness.ExitIncomplete, fmt.Errorf("editor %s: %w", words[0], err)
	}
	after, err := os.ReadFile(path)
	if err != nil {
		return harness.ExitIncomplete, err
	}
	if bytes.Equal(before, after) {
		c.say("nothing was changed")
		return harness.ExitOK, nil
	}
	return c.importInto(r, harness.ImportOptions{Sources: []string{path}})
}
