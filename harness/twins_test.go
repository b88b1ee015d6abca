package harness

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness/glyph"
	"smokeproof/harness/render"
)

// family is a plan over two faces of DejaVu that have most of their arrows in common, at two sizes.
func family(t *testing.T) *desk {
	d := &desk{dir: t.TempDir(), workers: 1}
	d.plan = filepath.Join(d.dir, PlanName)
	plan := ""
	for _, f := range []struct{ name, file string }{{"upright", "DejaVuSans.ttf"}, {"oblique", "DejaVuSans-Oblique.ttf"}} {
		data, err := os.ReadFile("/usr/share/fonts/truetype/dejavu/" + f.file)
		if os.IsNotExist(err) && os.Getenv("CI") != "true" {
			t.Skipf("%s is not installed", f.file)
		}
		require.NoError(t, err)
		d.write(t, f.name+".ttf", data)
		plan += "[[face]]\nname = \"" + f.name + "\"\nfile = \"" + f.name + ".ttf\"\nglyphs = \"U+0041-005A,U+2190-21FF\"\n"
	}
	d.write(t, PlanName, []byte(plan+"[[device]]\nname = \"laser\"\ndpi = 300\nsizes = [8, 9]\n"))
	return d
}

// apart runs the faces of a plan one by one, so that none has a twin at hand.
func (d *desk) apart(t *testing.T) (all string) {
	p, err := LoadPlan(d.plan)
	require.NoError(t, err)
	for i := range p.Faces {
		d.filter.Faces = []string{p.Faces[i].Name}
		_, one, _ := d.check(t, "")
		all += one[1:len(one)-1] + ","
	}
	d.filter = Filter{}
	return "[" + all[:len(all)-1] + "]"
}

func TestAGlyphThatTwoFacesHaveIsDrawnOnceAndHeldAgainstBothGoldens(t *testing.T) {
	d := family(t)
	approveAll(t, d.plan)
	sum, together, drawn := d.check(t, "")
	require.Equal(t, sum.Glyphs, sum.Equal)
	require.Equal(t, d.apart(t), together)
	twins := sum.Glyphs - drawn
	require.Greater(t, twins, 2*90, "of 112 arrows")

	const arrow = "STARTCHAR uni2196\nENCODING 8598\nSWIDTH 838 0\nDWIDTH "
	at9 := func(face, ending string) string { return "golden/" + face + "/300/9" + ending }
	for _, c := range []struct {
		name   string
		change func(t *testing.T, d *desk)
		more   int // glyphs drawn; -1: all
	}{
		{"a golden of the second face by hand, so that all of its strike are read", func(t *testing.T, d *desk) {
			d.replace(t, at9("oblique", ".bdf"), arrow+"32", arrow+"31")
		}, twins / 2},
		{"a golden of the first face by hand, so that none of its strike teaches", func(t *testing.T, d *desk) {
			d.replace(t, at9("upright", ".bdf"), arrow+"32", arrow+"31")
		}, twins / 2},
		{"the last golden of the second face is lost", func(t *testing.T, d *desk) {
			d.replace(t, at9("oblique", ".bdf"), "ENDCHAR\nENDFONT\n", "ENDFONT\n")
		}, -1},
		{"the golden before a twin's is lost in the face that is drawn last, so that all are read", func(t *testing.T, d *desk) {
			doc := string(d.read(t, at9("upright", ".bdf")))
			twin := strings.Index(doc, arrow)
			d.write(t, at9("upright", ".bdf"), []byte(doc[:strings.LastIndex(doc[:twin], "STARTCHAR ")]+doc[twin:]))
		}, -1},
		{"the first face has no goldens", func(t *testing.T, d *desk) {
			for _, ending := range []string{".bdf", ".approvals"} {
				require.NoError(t, os.Remove(filepath.Join(d.dir, at9("upright", ending))))
			}
		}, twins / 2},
		{"the second face has lost its control value program, and with it the dropout mode", func(t *testing.T, d *desk) {
			d.write(t, "oblique.ttf", withoutTable(d.read(t, "oblique.ttf"), "prep"))
		}, twins},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := *d
			was := d.dir
			d.dir = t.TempDir()
			d.plan = filepath.Join(d.dir, PlanName)
			require.NoError(t, os.CopyFS(d.dir, os.DirFS(was)))
			c.change(t, &d)
			_, together, now := d.check(t, "")
			require.Equal(t, d.apart(t), together)
			if c.more >= 0 {
				require.Equal(t, drawn+c.more, now)
			}
			d.workers = 2
			_, together, _ = d.check(t, "")
			require.Equal(t, d.apart(t), together, "two at a time")
		})
	}
}

func TestFacesDrawnFromTheSameAreDrawnOnce(t *testing.T) {
	for _, c := range []struct {
		file   string
		drawn  int // faces
		reason string
	}{
		{"larkmoor-text-a.ttf", 1, "programs are the same too"},
		{"larkmoor-text-a.otf", 1, "charstrings, and the hints they declare"},
		{"larkmoor-text-a.pfb", 2, "not known of Type 1 fonts"},
	} {
		d := &desk{dir: t.TempDir(), workers: 1}
		d.plan = filepath.Join(d.dir, PlanName)
		data, err := os.ReadFile("../fixtures/" + c.file)
		require.NoError(t, err)
		d.write(t, c.file, data)
		d.write(t, PlanName, []byte("[[face]]\nname = \"one\"\nfile = \""+c.file+"\"\n[[face]]\nname = \"other\"\nfile = \""+c.file+
			"\"\n[[device]]\nname = \"laser\"\ndpi = 300\nsizes = [8]\n"))
		approveAll(t, d.plan)
		sum, together, drawn := d.check(t, "")
		require.Equal(t, sum.Glyphs, sum.Equal, c.file)
		require.Equal(t, c.drawn*sum.Glyphs/2, drawn, "%s: %s", c.file, c.reason)
		require.Equal(t, d.apart(t), together, c.file)
	}
}

func TestFacesDrawnFromTheSameBelongToOneShard(t *testing.T) {
	plan := ""
	for _, face := range []string{"one", "other", "third"} {
		plan += "[[face]]\nname = \"" + face + "\"\nfile = \"larkmoor-text-a.ttf\"\n"
	}
	d := &desk{dir: t.TempDir()}
	d.plan = filepath.Join(d.dir, PlanName)
	data, err := os.ReadFile("../fixtures/larkmoor-text-a.ttf")
	require.NoError(t, err)
	d.write(t, "larkmoor-text-a.ttf", data)
	d.write(t, PlanName, []byte(plan+"[[device]]\nname = \"laser\"\ndpi = 300\nsizes = [7, 8, 9, 10]\n"))
	approveAll(t, d.plan)
	p, err := LoadPlan(d.plan)
	require.NoError(t, err)
	for k := 1; k <= 2; k++ {
		r, err := Open(t.Context(), p, Options{Shard: Shard{k, 2}, Workers: 1})
		require.NoError(t, err)
		sum, err := r.Check(t.Context(), func(*StrikeResult) error { return nil })
		require.NoError(t, err)
		require.NoError(t, r.Close())
		require.Equal(t, [2]int{6, sum.Glyphs}, [2]int{sum.Strikes, sum.Equal}, "two sizes of each face")
		require.Equal(t, sum.Glyphs/3, r.Drawn(), "for one of them")
	}
}

// Glyphs with a number are drawn alike wherever the manner is one, in every face of three families.
func TestTwinsAreDrawnAlike(t *testing.T) {
	plan := ""
	for _, family := range []string{"dejavu", "ttf-bitstream-vera", "liberation2"} {
		files, err := filepath.Glob("/usr/share/fonts/truetype/" + family + "/*.ttf")
		require.NoError(t, err)
		for _, f := range files {
			name := filepath.Base(f)
			plan += "[[face]]\nname = \"" + name[:len(name)-4] + "\"\nfile = \"" + f + "\"\nglyphs = \"all\"\n"
		}
	}
	if plan == "" && os.Getenv("CI") != "true" {
		t.Skip("no fonts of these families are installed")
	}
	path := filepath.Join(t.TempDir(), PlanName)
	require.NoError(t, os.WriteFile(path, []byte(plan+"[[device]]\nname = \"label\"\ndpi = 203\nsizes = [7, 11.5]\n"), 0o666))
	p, err := LoadPlan(path)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{})
	require.NoError(t, err)
	defer r.Close()
	type place struct {
		manner render.Manner
		number int32
	}
	cells := map[place]glyph.Cell{}
	met := 0
	for i := range r.strikes {
		s := &r.strikes[i]
		d, err := r.builtIn.Begin(s.job())
		require.NoError(t, err)
		m, ok := d.Manner()
		require.True(t, ok)
		numbers := r.twins().numbers[s.Face]
		var refs []glyph.Ref
		for _, ref := range s.Glyphs() {
			if (&knownTwins{numbers: numbers}).number(&ref) != 0 {
				refs = append(refs, ref)
			}
		}
		require.NoError(t, d.Draw(context.Background(), refs, func(d *render.Drawn) error {
			require.NoError(t, d.Err)
			got := d.Kept().Cell
			at := place{m, numbers[got.Index]}
			if want, known := cells[at]; known {
				met++
				require.True(t, same(&want, &got), "%s %s %s", s.Strike, got.Key, want.Key)
			} else {
				cells[at] = got
			}
			return nil
		}))
		d.End()
	}
	require.Greater(t, met, 20000)
	t.Logf("%d glyphs were drawn as their twins", met)
}
