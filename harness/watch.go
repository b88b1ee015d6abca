package harness

import (
	"context"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"smokeproof/harness/render"
)

// Watch looks every so often at the files that results depend on, the plan, its
// fonts and the programs of its renderers, and redraws what was saved since it
// was drawn, until the context ends. What goes wrong is told, and tried again
// when a file is saved again.
func (d *Desk) Watch(ctx context.Context, every time.Duration, told func(error)) {
	tick := time.NewTicker(every)
	defer tick.Stop()
	var before, tried map[string]saved
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		plan, drawn := d.drawnFrom()
		now := savedAll(plan)
		settled := maps.Equal(now, before) // a file still being written differs between two looks
		before = now
		if !settled || maps.Equal(now, drawn) || maps.Equal(now, tried) {
			continue
		}
		tried = now
		if err := d.Redraw(ctx, touched(plan, drawn, now)); err != nil && ctx.Err() == nil {
			told(fmt.Errorf("not drawn again: %w", err))
		}
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
		dir := filepath.Dir(p.Path)
		for i, word := range d.Command {
			path := resolve(dir, word)
			if i == 0 {
				if found, err := exec.LookPath(render.Program(dir, word)); err == nil {
					path = found
				}
			}
			if fi, err := os.Stat(path); err == nil && fi.Mode().IsRegular() {
				out = append(out, path)
			}
		}
	}
	return out
}

// touched names the faces whose files alone differ; none stands for all.
func touched(p *Plan, a, b map[string]saved) []string {
	differ := map[string]bool{}
	for path := range b {
		if a[path] != b[path] {
			differ[path] = true
		}
	}
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
	return faces
}
