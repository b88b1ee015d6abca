package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"smokeproof/golden"
	"smokeproof/harness"
	"smokeproof/harness/face"
)

var initVerb = verb{
	name: "init", args: " FONT...", does: "write a commented plan for the font files named",
	example: "smokeproof init fonts/Larkmoor-Text.ttf",
	run:     runInit,
}

func runInit(c *call) (int, error) {
	c.flags.StringVar(&c.plan, "plan", harness.PlanName, "write the plan to `FILE`")
	c.flags.BoolVar(&c.quiet, "quiet", false, "print errors only")
	if err := c.parse(); err != nil {
		return 0, err
	}
	if c.flags.NArg() == 0 {
		return 0, fmt.Errorf("no font file named; say smokeproof init FONT")
	}
	if _, err := os.Lstat(c.plan); err == nil {
		return 0, fmt.Errorf("%s exists; remove it or choose another with --plan", c.plan)
	}
	text, err := planText(filepath.Dir(c.plan), c.flags.Args())
	if err != nil {
		return 0, err
	}
	if _, err := harness.ParsePlan(c.plan, []byte(text)); err != nil {
		return 0, err
	}
	if err := golden.WriteWhole(c.plan, func(w io.Writer) error { _, err := io.WriteString(w, text); return err }); err != nil {
		return 0, fmt.Errorf("%w; choose another place with --plan", err)
	}
	c.say("wrote %s: correct its devices and sizes, then run smokeproof plan", c.plan)
	return harness.ExitOK, nil
}

// planText is a plan for fonts that were read to see that they can be.
func planText(dir string, fonts []string) (string, error) {
	var sb strings.Builder
	sb.WriteString(planHead)
	taken := map[string]bool{}
	for i, f := range fonts {
		if slices.Contains(fonts[:i], f) {
			return "", fmt.Errorf("%s is named twice; name it once", f)
		}
		if _, err := face.Open(f, 0); err != nil {
			return "", err
		}
		rel := f
		if abs, err := filepath.Abs(dir); err == nil && !filepath.IsAbs(f) {
			if fa, err := filepath.Abs(f); err == nil {
				if r, err := filepath.Rel(abs, fa); err == nil {
					rel = r
				}
			}
		}
		name := strings.ToLower(strings.TrimSuffix(filepath.Base(f), filepath.Ext(f)))
		for base, n := name, 2; taken[name]; n++ {
			name = fmt.Sprintf("%s-%d", base, n)
		}
		taken[name] = true
		index := ""
		if isCollection(f) {
			index = "index = 0 # the first of a collection; each other that you ship is a [[face]] of its own\n"
		}
		fmt.Fprintf(&sb, "\n[[face]]\nname = %s\nfile = %s\n%sglyphs = \"all\" # or names, characters and ranges: \"U+0020-007E,eacute\"\n",
			strconv.Quote(name), strconv.Quote(filepath.ToSlash(rel)), index)
	}
	sb.WriteString(planTail)
	return sb.String(), nil
}

// isCollection says that a font file holds several faces.
func isCollection(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	tag := make([]byte, 4)
	_, err = io.ReadFull(f, tag)
	return err == nil && string(tag) == "ttcf"
}

const planHead = `# What smokeproof holds against approved bitmaps: faces x devices x sizes.

[gate]
severity = "major" # check fails for findings of this class and worse: trace, minor, major, critical

[reading]
distance_mm = 400 # from eye to paper; the nearer, the more a pixel weighs
`

const planTail = `
[[device]]
name = "label"
dots_per_mm = 8 # a "203 dpi" head; or dpi = 203, or dpi = "203,406" across and along
mode = "bilevel" # or "grey"
renderer = "built-in"
sizes = [6, 8, 10, 12] # points

[[device]]
name = "laser"
dpi = 300
sizes = [6, 8, 9, 10, 12]
`
