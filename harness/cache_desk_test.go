package harness

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// desk is a plan with approved goldens and a warm cache.
type desk struct {
	dir, plan, cache string
	filter           Filter
	audit            float64
	workers          int
	opened           func(*Run) // alters a run before it checks
}

const deskFont = "face.ttf"

func larkmoor(t *testing.T) []byte {
	b, err := os.ReadFile("../fixtures/larkmoor-text-a.ttf")
	require.NoError(t, err)
	return b
}

// newDesk lays out a plan over the demo face, approved and checked once.
func newDesk(t *testing.T) *desk {
	d := &desk{dir: t.TempDir(), cache: t.TempDir()}
	d.plan = filepath.Join(d.dir, PlanName)
	first := warmDesk(t)
	require.NoError(t, os.CopyFS(d.dir, os.DirFS(first.dir)))
	require.NoError(t, os.CopyFS(d.cache, os.DirFS(first.cache)))
	return d
}

// warmDesk is what every desk is a copy of.
var warmDesk = func() func(*testing.T) *desk {
	var once sync.Once
	var d *desk
	return func(t *testing.T) *desk {
		once.Do(func() { d = layOut(t) })
		require.NotNil(t, d)
		return d
	}
}()

func layOut(t *testing.T) *desk {
	dir, err := os.MkdirTemp("", "smokeproof-desk-*")
	require.NoError(t, err)
	desks = append(desks, dir)
	d := &desk{dir: filepath.Join(dir, "plan"), cache: filepath.Join(dir, "cache")}
	d.plan = filepath.Join(d.dir, PlanName)
	require.NoError(t, os.MkdirAll(d.dir, 0o777))
	d.write(t, deskFont, larkmoor(t))
	d.write(t, PlanName, []byte(`[gate]
severity = "major"
[reading]
distance_mm = 400
[[face]]
name = "face"
file = "face.ttf"
glyphs = "all"
[[device]]
name = "label"
dpi = 203
mode = "bilevel"
fill = "center"
sizes = [8]
`))
	approveAll(t, d.plan)
	sum, _, drawn := d.check(t, d.cache)
	require.Equal(t, sum.Glyphs, drawn, "a cold run draws all")
	again, _, drawn := d.check(t, d.cache)
	require.Zero(t, drawn, "nothing changed")
	require.Equal(t, sum, again)
	return d
}

// desks are folders to remove at the end.
var desks []string

func TestMain(m *testing.M) {
	code := m.Run()
	for _, d := range desks {
		os.RemoveAll(d)
	}
	os.Exit(code)
}

func (d *desk) write(t *testing.T, name string, data []byte) {
	require.NoError(t, os.WriteFile(filepath.Join(d.dir, name), data, 0o666))
}

func (d *desk) read(t *testing.T, name string) []byte {
	b, err := os.ReadFile(filepath.Join(d.dir, name))
	require.NoError(t, err)
	return b
}

func (d *desk) replace(t *testing.T, name, old, with string) {
	b := d.read(t, name)
	require.Contains(t, string(b), old)
	d.write(t, name, bytes.Replace(b, []byte(old), []byte(with), 1))
}

// check runs the plan; cache "" is --no-cache. The strikes come back as they
// would stand in results.json. With a cache what changed is kept on disk, so that the two are held
// against each other too.
func (d *desk) check(t *testing.T, cache string) (*Summary, string, int) {
	p, err := LoadPlan(d.plan)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{Cache: cache, Filter: d.filter, Audit: d.audit, Workers: d.workers})
	if err != nil {
		return nil, err.Error(), 0
	}
	defer r.Close()
	if d.opened != nil {
		d.opened(r)
	}
	if cache != "" {
		r.KeepChanges(t.TempDir())
	}
	var all []*StrikeResult
	sum, err := r.Check(context.Background(), func(s *StrikeResult) error {
		var err error
		if s.Changes, err = s.all(); err != nil {
			return err
		}
		if len(s.Changes) == 0 {
			s.Changes = nil // none are written alike
		}
		all = append(all, s)
		return nil
	})
	require.NoError(t, err)
	text, err := json.Marshal(all)
	require.NoError(t, err)
	return sum, string(text), r.Drawn()
}

// holds says that with the cache the run comes to what it comes to without it,
// and how many glyphs were drawn for that.
func (d *desk) holds(t *testing.T) (drawn, glyphs int) {
	wantSum, want, _ := d.check(t, "")
	gotSum, got, drawn := d.check(t, d.cache)
	require.Equal(t, want, got)
	require.Equal(t, wantSum, gotSum)
	if gotSum == nil {
		return drawn, 0
	}
	_, again, after := d.check(t, d.cache)
	require.Equal(t, want, again)
	if gotSum.Undrawn == 0 { // a failure is tried again
		require.Zero(t, after, "what was drawn anew is remembered in turn")
	}
	return drawn, gotSum.Glyphs
}
