package harness

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
)

// A font that was saved and not drawn again with another is still to be drawn.
func TestAFaceThatIsNotRedrawnStaysTouched(t *testing.T) {
	plan := facesIn(t, map[string][]byte{"one": goregular.TTF, "other": goregular.TTF})
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	d := NewDesk(p, &Results{}, Options{})
	for _, name := range []string{"one", "other"} {
		path := filepath.Join(filepath.Dir(plan), name+".ttf")
		require.NoError(t, os.Chtimes(path, time.Time{}, time.Unix(1_900_000_000, 0)))
	}
	require.NoError(t, d.Redraw(t.Context(), []string{"one"}))
	p, drawn := d.drawnFrom()
	require.Equal(t, []string{"other"}, touched(p, drawn, savedAll(p)))
}

func TestWhatIsSavedTouchesItsFacesOrAll(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	plan := &Plan{Path: in(PlanName),
		Faces:   []PlanFace{{Name: "text", File: in("text.ttf")}, {Name: "bold", File: in("bold.ttf")}, {Name: "text again", File: in("text.ttf")}},
		Devices: []Device{{Name: "label"}, {Name: "worker", Command: []string{"sh", "worker.sh", "--fast", dir}}},
	}
	for _, name := range []string{PlanName, "text.ttf", "bold.ttf", "worker.sh"} {
		require.NoError(t, os.WriteFile(in(name), []byte(name), 0o666))
	}
	before := savedAll(plan)
	require.Len(t, before, 5, "the plan, two fonts, the shell and its script; a folder is none, nor is a flag")
	require.Nil(t, touched(plan, before, before))
	for _, c := range []struct {
		reason string
		saved  []string
		faces  []string
	}{
		{"a font of two faces", []string{"text.ttf"}, []string{"text", "text again"}},
		{"two fonts", []string{"bold.ttf", "text.ttf"}, []string{"text", "bold", "text again"}},
		{"the plan may say anything", []string{PlanName}, nil},
		{"so may a worker draw anything", []string{"worker.sh"}, nil},
		{"a font and the plan", []string{"bold.ttf", PlanName}, nil},
	} {
		for i, name := range c.saved {
			require.NoError(t, os.Chtimes(in(name), time.Time{}, time.Unix(int64(1_900_000_000+i), 0)))
		}
		require.Equal(t, c.faces, touched(plan, before, savedAll(plan)), c.reason)
		for _, name := range c.saved {
			require.NoError(t, os.Chtimes(in(name), time.Time{}, before[in(name)].time))
		}
		require.Equal(t, before, savedAll(plan))
	}
	require.NoError(t, os.Remove(in("bold.ttf")))
	require.Equal(t, []string{"bold"}, touched(plan, before, savedAll(plan)), "a font that is gone, to be told of")
}
