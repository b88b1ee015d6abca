package harness

import (
	"context"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"slices"
	"time"
)

// Watch looks every so often at the files that results depend on, the plan, its
// fonts and the programs of its renderers, and redraws what a saved one touches,
// until the context ends. What goes wrong is told and tried again when the file
// is saved again.
func (d *Desk) Watch(ctx context.Context, every time.Duration, told func(error)) {
	tick := time.NewTicker(every)
	defer tick.Stop()
	drawn := savedAll(d.Plan())
	before := drawn
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		now := savedAll(d.Plan())
		settled := maps.Equal(now, before) // a file still being written changes between two looks
		before = now
		if !settled || maps.Equal(now, drawn) {
			continue
		}
		faces := touched(d.Plan(), drawn, now)
		drawn = now
		if err := d.Redraw(ctx, faces); err != nil {
			if ctx.Err() == nil {
				told(fmt.Errorf("not drawn again: %w", err))
			}
			continue
		}
		drawn = withPlan(drawn, savedAll(d.Plan()))
		before = drawn
	}
}

// saved is what tells one state of a file from the next, on any system.
type saved struct {
	size int64
	time time.Time
}

// savedAll looks at every file; one that is not there has the zero value.
func savedAll(p *Plan) map[string]saved {
	out := map[string]saved{}
	paths := append(rendererFiles(p), p.Path)
	for i := range p.Faces {
		paths = append(paths, p.Faces[i].File)
	}
	for _, path := range paths {
		out[path] = saved{}
		if fi, err := os.Stat(path); err == nil {
			out[path] = saved{fi.Size(), fi.ModTime()}
		}
	}
	return out
}

// rendererFiles are the program of each process renderer and those of its words
// that are files, for a worker may be a script.
func rendererFiles(p *Plan) []string {
	var out []string
	for _, d := range p.Devices {
		for i, word := range d.Command {
			if i == 0 {
				if path, err := exec.LookPath(word); err == nil {
					word = path
				}
			}
			if fi, err := os.Stat(word); err == nil && fi.Mode().IsRegular() {
				out = append(out, word)
			}
		}
	}
	return out
}

// touched names the faces whose files alone differ; none stands for all.
func touched(p *Plan, a, b map[string]saved) []string {
	differ := map[string]bool{}
	for path := range b {
		differ[path] = a[path] != b[path]
	}
	maps.DeleteFunc(differ, func(_ string, d bool) bool { return !d })
	var faces []string
	for i := range p.Faces {
		if differ[p.Faces[i].File] {
			faces = append(faces, p.Faces[i].Name)
		}
	}
	for i := range p.Faces {
		delete(differ, p.Faces[i].File)
	}
	if len(differ) > 0 {
		return nil
	}
	return slices.Compact(faces)
}

// withPlan keeps what was drawn and adds files that a plan read
// anew names for the first time.
func withPlan(drawn, now map[string]saved) map[string]saved {
	out := maps.Clone(now)
	for path := range now {
		if s, ok := drawn[path]; ok {
			out[path] = s
		}
	}
	return out
}
